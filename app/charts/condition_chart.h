// SPDX-License-Identifier: GPL-3.0-or-later
// Condition over time as stacked bands by period, drawn with QCustomPlot. One picture for the
// Office, for PNG and PDF files and for the console.
//
// Bands differ by colour (Okabe-Ito), by pattern and by outline, so that the picture reads in grey
// too; the key stands beside the data, in the order of the stack. Hovering says the counts, a
// click or the arrow keys choose a period, wheel, + and - change the stretch of time that is seen,
// Home shows all of it, Ctrl+C copies picture and counts.
#pragma once

#include "core/common/result.h"
#include "core/condition/series.h"

#include <QList>
#include <QWidget>

#include <memory>

namespace keyround {

/// All conditions from the foot of the stack to its top: never visited lies apart, above.
[[nodiscard]] QList<Condition> conditionBands();

struct ConditionPicture
{
    QString title;
    QString filterWords; ///< written on the chart when not empty
    std::vector<PeriodCounts> series;
    QList<Condition> bands = conditionBands(); ///< which to draw, from the foot up
    QString axisWords = {};                    ///< what is counted; "Valves" when empty
    QString emptyWords = {};                   ///< said in place of bands when there is nothing
};

class ConditionChart final : public QWidget
{
    Q_OBJECT
public:
    explicit ConditionChart(QWidget *parent = nullptr);
    ~ConditionChart() override;

    void show(const ConditionPicture &picture);
    /// Marks a period; -1 for none. Sends no signal.
    void choose(int index);
    [[nodiscard]] int chosen() const;

    [[nodiscard]] Status savePng(const QString &path, const QSize &size = {1600, 900});
    /// Vector graphics on a page of this size in points of 1/96 in.
    [[nodiscard]] Status savePdf(const QString &path, const QSize &size = {1000, 620});
    void copy();

    /// The middle of a band on the screen: for tests and for tool tips.
    [[nodiscard]] QPoint placeOf(int period, Condition band) const;
    /// What hovering over a period says.
    [[nodiscard]] QString wordsFor(int period) const;
    /// The number of periods that are seen without moving.
    [[nodiscard]] int seenPeriods() const;

    [[nodiscard]] QSize sizeHint() const override { return {760, 380}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {420, 220}; }

Q_SIGNALS:
    void periodClicked(int index);

protected:
    void keyPressEvent(QKeyEvent *event) override;

private:
    struct Parts;
    std::unique_ptr<Parts> m_parts;
};

} // namespace keyround
