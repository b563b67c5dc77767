// SPDX-License-Identifier: GPL-3.0-or-later
// The count as a ring that fills towards the baseline, in the direction in which the key turns,
// with the count inside it. The tolerance is a band on the ring, so short and long are seen before
// they are judged. Where there is no baseline there is no band, and the ring says so.
#pragma once

#include "core/fieldlog/judgement.h"

#include <QWidget>

namespace keyround {

class CountRing final : public QWidget
{
    Q_OBJECT
public:
    explicit CountRing(QWidget *parent = nullptr);

    void setGoal(const Baseline &baseline, const Tolerance &tolerance);
    void setTurning(bool clockwise, const QString &word); ///< "Closing"
    void setCount(QuarterTurns count);

    /// Where the count stands to the band, in words; empty without a baseline.
    [[nodiscard]] QString standingWords() const;
    /// The filled part of the circle in degrees, 0 to 360; the baseline stands at 300.
    [[nodiscard]] double filledDegrees() const { return degreesFor(m_count.value); }
    [[nodiscard]] double bandFromDegrees() const;
    [[nodiscard]] double bandToDegrees() const;

    [[nodiscard]] QSize minimumSizeHint() const override;

protected:
    void paintEvent(QPaintEvent *event) override;

private:
    [[nodiscard]] bool hasGoal() const { return m_baseline.source != BaselineSource::None; }
    [[nodiscard]] int bandFrom() const; ///< quarter-turns
    [[nodiscard]] int bandTo() const;
    [[nodiscard]] double degreesFor(int quarterTurns) const;
    void paintArcs(QPainter &painter, const QRectF &circle, double thick) const;
    void paintCount(QPainter &painter, const QRectF &inside) const;

    Baseline m_baseline;
    Tolerance m_tolerance;
    QuarterTurns m_count;
    bool m_clockwise = true;
    QString m_word;
};

} // namespace keyround
