// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/chart_elements.h"

#include "app/shell/style.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr int unlimited = QWIDGETSIZE_MAX;
constexpr int widestName = 210;

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

void TitleElement::setWords(const QString &title, const QStringList &below)
{
    m_title = title;
    m_below = below;
    m_below.removeAll(QString());
}

int TitleElement::height() const
{
    const int title = QFontMetrics(titleFont(mParentPlot)).height();
    const int line = QFontMetrics(wordFont(mParentPlot)).height() + 2;
    return title + 6 + static_cast<int>(m_below.size()) * line;
}

QSize TitleElement::minimumOuterSizeHint() const
{
    return {40, height()};
}

QSize TitleElement::maximumOuterSizeHint() const
{
    return {unlimited, height()};
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
    for (const QString &line : std::as_const(m_below)) {
        painter->drawText(area, Qt::AlignLeft | Qt::AlignTop | Qt::TextSingleLine,
                          words.elidedText(line, Qt::ElideRight, area.width()));
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
    m_widestLabel = 0;
    for (const UnderAxisRow &row : picture.underAxis) {
        m_widestLabel = std::max(m_widestLabel, metrics.horizontalAdvance(row.label));
    }
}

QSize KeyElement::minimumOuterSizeHint() const
{
    const QFontMetrics metrics(wordFont(mParentPlot));
    int width = 0;
    for (const ChartSeries &entry : m_entries) {
        width = std::max(width, metrics.horizontalAdvance(entry.name));
    }
    const int names =
        m_entries.isEmpty() ? 0 : std::min(width, widestName) + (m_hasMarks ? 74 : 50);
    const int labels = m_widestLabel == 0 ? 0 : std::min(m_widestLabel, widestName) + 22;
    return {std::max({names, labels, 14}), 40};
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
    const int room = std::max(1, rect().height() - 6);
    const int count = std::max(1, static_cast<int>(m_entries.size()));
    const int step = std::clamp(room / count, metrics.height(), std::max(20, metrics.height() + 7));
    int y = rect().top() + 6;
    for (const ChartSeries &entry : std::as_const(m_entries)) {
        const QRectF box(rect().left() + 12, y, 26, 14);
        drawSample(*painter, entry, box);
        double at = box.right() + 8;
        if (entry.mark) {
            drawConditionMark(*painter, *entry.mark, {box.right() + 13, box.center().y()}, 5.0);
        }
        at += m_hasMarks ? 18 : 0;
        painter->setPen(look::ink);
        painter->setFont(wordFont(mParentPlot));
        painter->drawText(
            QPointF(at, box.center().y() + (metrics.ascent() - metrics.descent()) / 2.0),
            metrics.elidedText(entry.name, Qt::ElideRight, widestName));
        y += step;
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
        painter->drawText(QPointF(axis.right() + 20, base),
                          metrics.elidedText(row.label, Qt::ElideRight, widestName));
        base += rowHeight();
    }
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
