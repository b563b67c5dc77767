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

/// Words on at most so many lines of this width, broken between words; what is left over is cut.
[[nodiscard]] QStringList brokenLines(const QString &words, const QFontMetrics &metrics, int width,
                                      int most);

/// Title, the words of the filter, and how to read the chart. Each of the latter two may take two
/// lines where the picture is high enough; longer words are cut at the picture's edge and never
/// push the data off it.
class TitleElement final : public QCPLayoutElement
{
public:
    explicit TitleElement(QCustomPlot *plot) : QCPLayoutElement(plot) {}
    void setWords(const QString &title, const QStringList &below);
    /// What it takes of a picture of this size.
    [[nodiscard]] int heightIn(const QSize &picture) const;
    [[nodiscard]] QSize minimumOuterSizeHint() const override;
    [[nodiscard]] QSize maximumOuterSizeHint() const override;

protected:
    void applyDefaultAntialiasingHint(QCPPainter *painter) const override;
    void draw(QCPPainter *painter) override;

private:
    [[nodiscard]] QStringList linesIn(const QSize &picture) const;
    QString m_title;
    QStringList m_below;
};

/// The key beside the data: each series' look and its name. It takes what the names need up to a
/// share of the picture; longer ones are cut in the middle, and whole in wholeAt().
class KeyElement final : public QCPLayoutElement
{
public:
    explicit KeyElement(QCustomPlot *plot) : QCPLayoutElement(plot) {}
    void setPicture(const ChartPicture &picture);
    /// What it takes of a picture so wide.
    [[nodiscard]] int widthIn(int picture) const;
    /// The whole name that is drawn at this place; empty where there is none.
    [[nodiscard]] QString wholeAt(const QPointF &at) const;
    [[nodiscard]] QSize minimumOuterSizeHint() const override;
    [[nodiscard]] QSize maximumOuterSizeHint() const override;

protected:
    void applyDefaultAntialiasingHint(QCPPainter *painter) const override;
    void draw(QCPPainter *painter) override;

private:
    void drawSample(QCPPainter &painter, const ChartSeries &series, const QRectF &box) const;
    /// From one entry to the next.
    [[nodiscard]] int step() const;
    /// From the key's left edge to the names.
    [[nodiscard]] int beforeNames() const { return m_hasMarks ? 64 : 46; }

    QList<ChartSeries> m_entries; ///< without their data
    bool m_hasMarks = false;
    int m_widestName = 0;
    int m_widestLabel = 0; ///< of the rows under the axis, which take their words to this column
};

/// Rows of numbers under the axis, each number below its place, the row's name at the right.
class UnderAxisElement final : public QCPLayoutElement
{
public:
    explicit UnderAxisElement(QCustomPlot *plot) : QCPLayoutElement(plot) {}
    void setRows(const std::vector<UnderAxisRow> &rows) { m_rows = rows; }
    /// The whole words of the row at this place, where the row's name stands; else empty.
    [[nodiscard]] QString wholeAt(const QPointF &at) const;
    [[nodiscard]] QSize minimumOuterSizeHint() const override;
    [[nodiscard]] QSize maximumOuterSizeHint() const override;

protected:
    void applyDefaultAntialiasingHint(QCPPainter *painter) const override;
    void draw(QCPPainter *painter) override;

private:
    [[nodiscard]] int rowHeight() const;
    std::vector<UnderAxisRow> m_rows;
};

/// Ticks at dates, so far apart that no two read alike and none runs into the next.
class DatesTicker final : public QCPAxisTickerDateTime
{
public:
    DatesTicker() { setDateTimeSpec(Qt::UTC); }
    /// For this range over so many pixels, in letters of this font.
    void fit(const QCPRange &range, double pixels, const QFontMetricsF &metrics);

protected:
    double getTickStep(const QCPRange &range) override;

private:
    double m_least = 0; ///< between two ticks
    int m_room = 10;
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
