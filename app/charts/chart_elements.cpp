// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/chart_elements.h"

#include "app/shell/style.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr int unlimited = QWIDGETSIZE_MAX;
constexpr double keyShare = 0.36;    ///< of the picture's width, at most
constexpr int lowPicture = 260;      ///< pixels: there every line is wanted for the data
constexpr double daySeconds = 86400; ///< of an axis of dates

QFont sized(const QFont &base, double points, bool bold)
{
    QFont font = base;
    font.setPointSizeF(points);
    font.setBold(bold);
    return font;
}

QFont titleFont(const QCustomPlot *plot)
{
    return sized(plot->font(), 12.5, true);
}

} // namespace

QFont wordFont(const QCustomPlot *plot)
{
    return sized(plot->font(), 9.0, false);
}

QStringList brokenLines(const QString &words, const QFontMetrics &metrics, int width, int most)
{
    QStringList lines;
    QString rest = words;
    while (!rest.isEmpty() && lines.size() + 1 < most && metrics.horizontalAdvance(rest) > width) {
        qsizetype end = 0;
        for (qsizetype space = rest.indexOf(QLatin1Char(' '));
             space > 0 && metrics.horizontalAdvance(rest.left(space)) <= width;
             space = rest.indexOf(QLatin1Char(' '), space + 1)) {
            end = space;
        }
        if (end == 0) {
            break; // one word wider than all
        }
        lines << rest.left(end);
        rest = rest.mid(end + 1);
    }
    if (!rest.isEmpty()) {
        lines << metrics.elidedText(rest, Qt::ElideRight, width);
    }
    return lines;
}

void TitleElement::setWords(const QString &title, const QStringList &below)
{
    m_title = title;
    m_below = below;
    m_below.removeAll(QString());
}

QStringList TitleElement::linesIn(const QSize &picture) const
{
    const QFontMetrics metrics(wordFont(mParentPlot));
    const int most = picture.height() < lowPicture ? 1 : 2;
    QStringList lines;
    for (const QString &words : m_below) {
        lines << brokenLines(words, metrics, picture.width() - 16, most);
    }
    return lines;
}

int TitleElement::heightIn(const QSize &picture) const
{
    const int title = QFontMetrics(titleFont(mParentPlot)).height();
    const int line = QFontMetrics(wordFont(mParentPlot)).height() + 2;
    return title + 6 + static_cast<int>(linesIn(picture).size()) * line;
}

QSize TitleElement::minimumOuterSizeHint() const
{
    return {40, heightIn(mParentPlot->viewport().size())};
}

QSize TitleElement::maximumOuterSizeHint() const
{
    return {unlimited, heightIn(mParentPlot->viewport().size())};
}

void TitleElement::applyDefaultAntialiasingHint(QCPPainter *painter) const
{
    painter->setAntialiasing(true);
}

void TitleElement::draw(QCPPainter *painter)
{
    // Over the key's column too, which begins below.
    QRect area = rect().adjusted(8, 0, 0, 0);
    area.setRight(mParentPlot->viewport().right() - 8);
    painter->setFont(titleFont(mParentPlot));
    painter->setPen(look::ink);
    const QFontMetrics title(painter->font());
    painter->drawText(area, Qt::AlignLeft | Qt::AlignTop | Qt::TextSingleLine,
                      title.elidedText(m_title, Qt::ElideRight, area.width()));
    area.setTop(area.top() + title.height() + 2);
    painter->setFont(wordFont(mParentPlot));
    painter->setPen(look::quietInk);
    const QFontMetrics words(painter->font());
    for (const QString &line : linesIn(mParentPlot->viewport().size())) {
        painter->drawText(area, Qt::AlignLeft | Qt::AlignTop | Qt::TextSingleLine, line);
        area.setTop(area.top() + words.height() + 2);
    }
}

void KeyElement::setPicture(const ChartPicture &picture)
{
    m_entries.clear();
    m_hasMarks = false;
    for (const ChartSeries &series : picture.series) {
        if (series.name.isEmpty()) {
            continue;
        }
        ChartSeries entry = series;
        for (auto *values : {&entry.x, &entry.x2, &entry.y, &entry.y2}) {
            values->clear();
        }
        m_hasMarks = m_hasMarks || entry.mark.has_value();
        m_entries << entry;
    }
    if (picture.keyFromTop) {
        std::reverse(m_entries.begin(), m_entries.end());
    }
    const QFontMetrics metrics(wordFont(mParentPlot));
    m_widestName = 0;
    for (const ChartSeries &entry : std::as_const(m_entries)) {
        m_widestName = std::max(m_widestName, metrics.horizontalAdvance(entry.name));
    }
    m_widestLabel = 0;
    for (const UnderAxisRow &row : picture.underAxis) {
        m_widestLabel = std::max(m_widestLabel, metrics.horizontalAdvance(row.label));
    }
}

int KeyElement::widthIn(int picture) const
{
    const int names = m_entries.isEmpty() ? 0 : m_widestName + beforeNames() + 6;
    const int labels = m_widestLabel == 0 ? 0 : m_widestLabel + 24;
    const int most = static_cast<int>(std::lround(picture * keyShare));
    return std::max(14, std::min(std::max(names, labels), most));
}

QSize KeyElement::minimumOuterSizeHint() const
{
    return {widthIn(mParentPlot->viewport().width()), 40};
}

int KeyElement::step() const
{
    const int line = QFontMetrics(wordFont(mParentPlot)).height();
    const int room = std::max(1, rect().height() - 6);
    const int count = std::max(1, static_cast<int>(m_entries.size()));
    return std::clamp(room / count, line, std::max(20, line + 7));
}

QString KeyElement::wholeAt(const QPointF &at) const
{
    const int entry = static_cast<int>(std::floor((at.y() - rect().top() - 3) / step()));
    return rect().contains(at.toPoint()) && entry >= 0 && entry < m_entries.size()
               ? m_entries[entry].name
               : QString();
}

QSize KeyElement::maximumOuterSizeHint() const
{
    return {minimumOuterSizeHint().width(), unlimited};
}

void KeyElement::applyDefaultAntialiasingHint(QCPPainter *painter) const
{
    painter->setAntialiasing(true);
}

void KeyElement::drawSample(QCPPainter &painter, const ChartSeries &series, const QRectF &box) const
{
    const QPointF left(box.left(), box.center().y());
    const QPointF right(box.right(), box.center().y());
    switch (series.kind) {
    case ChartSeries::Kind::Boxes:
    case ChartSeries::Kind::Area:
        painter.setPen(Qt::NoPen);
        painter.setBrush(series.colour);
        painter.drawRect(box);
        painter.setPen(QPen(look::ink, 0.8));
        painter.drawLines(patternLines(box, series.pattern));
        painter.setBrush(Qt::NoBrush);
        painter.setPen(series.outlined ? QPen(look::ink, 1.0) : QPen(Qt::NoPen));
        painter.drawRect(box);
        break;
    case ChartSeries::Kind::Whiskers:
        painter.setPen(QPen(series.colour, series.thickness));
        painter.drawLine(QLineF(box.center().x(), box.top(), box.center().x(), box.bottom()));
        painter.drawLine(QLineF(box.center().x() - 4, box.top(), box.center().x() + 4, box.top()));
        painter.drawLine(
            QLineF(box.center().x() - 4, box.bottom(), box.center().x() + 4, box.bottom()));
        break;
    case ChartSeries::Kind::Line:
        if (series.pattern != Pattern::None) { // the boxes that go with this line
            painter.setPen(QPen(look::ink, 0.8));
            painter.drawLines(patternLines(box, series.pattern));
            painter.setBrush(Qt::NoBrush);
            painter.drawRect(box);
        }
        painter.setPen(QPen(series.colour, series.thickness, series.stroke, Qt::FlatCap));
        painter.drawLine(QLineF(left, right));
        drawShape(painter, series.shape, box.center(), series.size, series.colour);
        break;
    case ChartSeries::Kind::Points:
        drawShape(painter, series.shape, box.center(), std::max(series.size, 3.5), series.colour);
        break;
    }
}

void KeyElement::draw(QCPPainter *painter)
{
    painter->setFont(wordFont(mParentPlot));
    const QFontMetrics metrics(painter->font());
    int y = rect().top() + 6;
    for (const ChartSeries &entry : std::as_const(m_entries)) {
        const QRectF box(rect().left() + 12, y, 26, 14);
        drawSample(*painter, entry, box);
        const double at = rect().left() + beforeNames();
        if (entry.mark) {
            drawConditionMark(*painter, *entry.mark, {box.right() + 13, box.center().y()}, 5.0);
        }
        painter->setPen(look::ink);
        painter->setFont(wordFont(mParentPlot));
        painter->drawText(
            QPointF(at, box.center().y() + (metrics.ascent() - metrics.descent()) / 2.0),
            metrics.elidedText(entry.name, Qt::ElideMiddle, rect().right() - static_cast<int>(at)));
        y += step();
    }
}

int UnderAxisElement::rowHeight() const
{
    return QFontMetrics(wordFont(mParentPlot)).height() + 2;
}

QSize UnderAxisElement::minimumOuterSizeHint() const
{
    return {40, m_rows.empty() ? 0 : static_cast<int>(m_rows.size()) * rowHeight() + 4};
}

QSize UnderAxisElement::maximumOuterSizeHint() const
{
    return {unlimited, minimumOuterSizeHint().height()};
}

void UnderAxisElement::applyDefaultAntialiasingHint(QCPPainter *painter) const
{
    painter->setAntialiasing(true);
}

void UnderAxisElement::draw(QCPPainter *painter)
{
    painter->setFont(wordFont(mParentPlot));
    painter->setPen(look::ink);
    const QFontMetrics metrics(painter->font());
    const QRect axis = mParentPlot->axisRect()->rect();
    double base = rect().top() + metrics.ascent();
    for (const UnderAxisRow &row : m_rows) {
        double freeFrom = -unlimited;
        for (size_t i = 0; i < row.at.size(); ++i) {
            const QString number = row.numbers.value(static_cast<qsizetype>(i));
            const double width = metrics.horizontalAdvance(number);
            const double left = mParentPlot->xAxis->coordToPixel(row.at[i]) - width / 2.0;
            if (left < freeFrom || left + width / 2.0 < axis.left() - 1 ||
                left + width / 2.0 > axis.right() + 1) {
                continue;
            }
            painter->drawText(QPointF(left, base), number);
            freeFrom = left + width + 8;
        }
        const int label = axis.right() + 20;
        painter->drawText(QPointF(label, base),
                          metrics.elidedText(row.label, Qt::ElideMiddle,
                                             mParentPlot->viewport().right() - label));
        base += rowHeight();
    }
}

QString UnderAxisElement::wholeAt(const QPointF &at) const
{
    const int row = static_cast<int>(std::floor((at.y() - rect().top()) / rowHeight()));
    return rect().contains(at.toPoint()) && row >= 0 && row < static_cast<int>(m_rows.size()) &&
                   at.x() > mParentPlot->axisRect()->right()
               ? m_rows[static_cast<size_t>(row)].label
               : QString();
}

void DatesTicker::fit(const QCPRange &range, double pixels, const QFontMetricsF &metrics)
{
    const double days = range.size() / daySeconds;
    double leastDays = 1; // two ticks of one day, month or year would read alike
    QString format = QStringLiteral("yyyy-MM-dd");
    if (days > 5 * 365.25) {
        format = QStringLiteral("yyyy");
        leastDays = 365;
    } else if (days > 146) {
        format = QStringLiteral("yyyy-MM");
        leastDays = 28;
    }
    setDateTimeFormat(format);
    const double letters =
        metrics.horizontalAdvance(QString(format.size(), QLatin1Char('0'))) + 14.0;
    m_least = std::max(leastDays * daySeconds, letters * range.size() / std::max(1.0, pixels));
    m_room = std::clamp(static_cast<int>(pixels / letters), 1, 10);
}

double DatesTicker::getTickStep(const QCPRange &range)
{
    // Steps are rounded to what reads well, which may be less than was asked for.
    double step = range.size();
    for (int count = m_room; count >= 1; --count) {
        setTickCount(count);
        step = QCPAxisTickerDateTime::getTickStep(range);
        if (step >= m_least) {
            break;
        }
    }
    return std::max(step, m_least);
}

double WholeTicker::getTickStep(const QCPRange &range)
{
    return std::max(1.0, std::round(QCPAxisTicker::getTickStep(range)));
}

int WholeTicker::getSubTickCount(double /*tickStep*/)
{
    return 0;
}

QString WholeTicker::getTickLabel(double tick, const QLocale & /*locale*/, QChar /*formatChar*/,
                                  int /*precision*/)
{
    const long long whole = std::llround(tick);
    return QString::number(m_bothWays ? std::abs(whole) : whole);
}

double ShareTicker::getTickStep(const QCPRange &range)
{
    return std::max(0.01, QCPAxisTicker::getTickStep(range));
}

int ShareTicker::getSubTickCount(double /*tickStep*/)
{
    return 0;
}

QString ShareTicker::getTickLabel(double tick, const QLocale & /*locale*/, QChar /*formatChar*/,
                                  int /*precision*/)
{
    return shareText(tick);
}

} // namespace keyround
