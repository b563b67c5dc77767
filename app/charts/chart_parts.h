// SPDX-License-Identifier: GPL-3.0-or-later
// Pieces that our charts put around QCustomPlot's axes. Private to app/charts.
#pragma once

#include "core/fieldlog/judgement.h"

#include <QBrush>

// QCustomPlot's header is written with Qt's lower-case keywords, which this project turns off.
#define signals Q_SIGNALS
#define slots Q_SLOTS
#define foreach Q_FOREACH
#include <qcustomplot.h>
#undef foreach
#undef slots
#undef signals

namespace keyround {

/// The colour that a band is filled with, and the pattern that is laid over it.
[[nodiscard]] QBrush fillOf(Condition condition);
[[nodiscard]] QBrush patternOf(Condition condition);

/// Title and the words of the filter. Long words are wrapped and then cut, and never push the data
/// off the picture.
class TitleElement final : public QCPLayoutElement
{
public:
    explicit TitleElement(QCustomPlot *plot) : QCPLayoutElement(plot) {}
    void setWords(const QString &title, const QString &filter);
    [[nodiscard]] QSize minimumOuterSizeHint() const override;
    [[nodiscard]] QSize maximumOuterSizeHint() const override;

protected:
    void applyDefaultAntialiasingHint(QCPPainter *painter) const override;
    void draw(QCPPainter *painter) override;

private:
    [[nodiscard]] int height() const;
    QString m_title;
    QString m_filter;
};

/// The key beside the data: each band's fill, its condition's mark and its word, top of the stack
/// first.
class KeyElement final : public QCPLayoutElement
{
public:
    explicit KeyElement(QCustomPlot *plot) : QCPLayoutElement(plot) {}
    void setBands(const QList<Condition> &bandsFromFoot) { m_bands = bandsFromFoot; }
    [[nodiscard]] QSize minimumOuterSizeHint() const override;
    [[nodiscard]] QSize maximumOuterSizeHint() const override;

protected:
    void applyDefaultAntialiasingHint(QCPPainter *painter) const override;
    void draw(QCPPainter *painter) override;

private:
    QList<Condition> m_bands;
};

/// Ticks at whole numbers: valves are not counted in halves.
class WholeTicker final : public QCPAxisTicker
{
protected:
    double getTickStep(const QCPRange &range) override;
    int getSubTickCount(double tickStep) override;
};

} // namespace keyround
