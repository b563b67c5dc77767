// SPDX-License-Identifier: GPL-3.0-or-later
// Pieces that our charts put around QCustomPlot's axes: title, key, numbers under the axis, ticks.
// Private to app/charts.
#pragma once

#include "app/charts/chart_picture.h"

// QCustomPlot's header is written with Qt's lower-case keywords, which this project turns off.
#define signals Q_SIGNALS
#define slots Q_SLOTS
#define foreach Q_FOREACH
#include <qcustomplot.h>
#undef foreach
#undef slots
#undef signals

namespace keyround {

/// The lines of a pattern within a rectangle, as lines: a brush's own pattern would be a picture in
/// SVG, and another size on paper.
[[nodiscard]] QList<QLineF> patternLines(const QRectF &box, Pattern pattern);
/// What is left of a line within a rectangle; empty when nothing is.
[[nodiscard]] std::optional<QLineF> clippedLine(const QLineF &line, const QRectF &box);
void drawShape(QPainter &painter, PointShape shape, const QPointF &centre, double half,
               const QColor &colour);
[[nodiscard]] QFont wordFont(const QCustomPlot *plot);

/// Title, the words of the filter, and how to read the chart. Long words are cut at the picture's
/// edge and never push the data off it.
class TitleElement final : public QCPLayoutElement
{
public:
    explicit TitleElement(QCustomPlot *plot) : QCPLayoutElement(plot) {}
    void setWords(const QString &title, const QStringList &below);
    [[nodiscard]] QSize minimumOuterSizeHint() const override;
    [[nodiscard]] QSize maximumOuterSizeHint() const override;

protected:
    void applyDefaultAntialiasingHint(QCPPainter *painter) const override;
    void draw(QCPPainter *painter) override;

private:
    [[nodiscard]] int height() const;
    QString m_title;
    QStringList m_below;
};

/// The key beside the data: each series' look and its name.
class KeyElement final : public QCPLayoutElement
{
public:
    explicit KeyElement(QCustomPlot *plot) : QCPLayoutElement(plot) {}
    void setPicture(const ChartPicture &picture);
    [[nodiscard]] QSize minimumOuterSizeHint() const override;
    [[nodiscard]] QSize maximumOuterSizeHint() const override;

protected:
    void applyDefaultAntialiasingHint(QCPPainter *painter) const override;
    void draw(QCPPainter *painter) override;

private:
    void drawSample(QCPPainter &painter, const ChartSeries &series, const QRectF &box) const;

    QList<ChartSeries> m_entries; ///< without their data
    bool m_hasMarks = false;
    int m_widestLabel = 0; ///< of the rows under the axis, which take their words to this column
};

/// Rows of numbers under the axis, each number below its place, the row's name at the right.
class UnderAxisElement final : public QCPLayoutElement
{
public:
    explicit UnderAxisElement(QCustomPlot *plot) : QCPLayoutElement(plot) {}
    void setRows(const std::vector<UnderAxisRow> &rows) { m_rows = rows; }
    [[nodiscard]] QSize minimumOuterSizeHint() const override;
    [[nodiscard]] QSize maximumOuterSizeHint() const override;

protected:
    void applyDefaultAntialiasingHint(QCPPainter *painter) const override;
    void draw(QCPPainter *painter) override;

private:
    [[nodiscard]] int rowHeight() const;
    std::vector<UnderAxisRow> m_rows;
};

/// Ticks at whole numbers: valves are not counted in halves.
class WholeTicker final : public QCPAxisTicker
{
public:
    explicit WholeTicker(bool bothWays = false) : m_bothWays(bothWays) {}

protected:
    double getTickStep(const QCPRange &range) override;
    int getSubTickCount(double tickStep) override;
    QString getTickLabel(double tick, const QLocale &locale, QChar formatChar,
                         int precision) override;

private:
    bool m_bothWays;
};

/// Ticks of shares, as per cent.
class ShareTicker final : public QCPAxisTicker
{
protected:
    double getTickStep(const QCPRange &range) override;
    int getSubTickCount(double tickStep) override;
    QString getTickLabel(double tick, const QLocale &locale, QChar formatChar,
                         int precision) override;
};

} // namespace keyround
