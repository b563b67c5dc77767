// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/series_plottable.h"

#include "app/shell/style.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace keyround {

SeriesPlottable::SeriesPlottable(QCPAxis *x, QCPAxis *y, ChartSeries series)
    : QCPAbstractPlottable(x, y), m_series(std::move(series))
{
    setSelectable(QCP::stNone);
}

double SeriesPlottable::selectTest(const QPointF & /*at*/, bool /*onlySelectable*/,
                                   QVariant * /*details*/) const
{
    return -1; // the chart finds its items itself
}

QCPRange SeriesPlottable::getKeyRange(bool &found, QCP::SignDomain /*domain*/) const
{
    found = !m_series.x.empty();
    if (!found) {
        return {};
    }
    const auto ends = std::ranges::minmax(m_series.x);
    return {ends.min, ends.max};
}

QCPRange SeriesPlottable::getValueRange(bool &found, QCP::SignDomain /*domain*/,
                                        const QCPRange & /*within*/) const
{
    found = !m_series.y.empty();
    if (!found) {
        return {};
    }
    const auto ends = std::ranges::minmax(m_series.y);
    return {ends.min, ends.max};
}

QRectF SeriesPlottable::area() const
{
    return QRectF(mKeyAxis->axisRect()->rect());
}

QPointF SeriesPlottable::pixel(double x, double y) const
{
    return {mKeyAxis->coordToPixel(x), mValueAxis->coordToPixel(y)};
}

QPen SeriesPlottable::line() const
{
    return QPen(m_series.colour, m_series.thickness, m_series.stroke, Qt::FlatCap);
}

void SeriesPlottable::draw(QCPPainter *painter)
{
    painter->setAntialiasing(true);
    switch (m_series.kind) {
    case ChartSeries::Kind::Boxes:
        return drawBoxes(*painter);
    case ChartSeries::Kind::Line:
        return drawLine(*painter);
    case ChartSeries::Kind::Points:
        return drawPoints(*painter);
    case ChartSeries::Kind::Area:
        return drawArea(*painter);
    case ChartSeries::Kind::Whiskers:
        return drawWhiskers(*painter);
    }
}

void SeriesPlottable::drawLegendIcon(QCPPainter * /*painter*/, const QRectF & /*rect*/) const
{
    // The key beside the data is the chart's own.
}

void SeriesPlottable::drawBoxes(QCPPainter &painter) const
{
    painter.setAntialiasing(false);
    for (size_t i = 0; i < m_series.x.size(); ++i) {
        QRectF box =
            QRectF(pixel(m_series.x[i], m_series.y2[i]), pixel(m_series.x2[i], m_series.y[i]))
                .normalized();
        if (m_series.y[i] == m_series.y2[i] && m_series.outlined) {
            continue; // a count of none is no line
        }
        box = box.intersected(area());
        if (box.isEmpty()) {
            continue;
        }
        painter.setPen(Qt::NoPen);
        painter.setBrush(m_series.colour);
        painter.drawRect(box);
        painter.setPen(QPen(look::ink, 0.8));
        painter.drawLines(patternLines(box, m_series.pattern));
        if (m_series.outlined) {
            painter.setBrush(Qt::NoBrush);
            painter.drawRect(box);
        }
    }
    painter.setBrush(Qt::NoBrush);
}

void SeriesPlottable::drawLine(QCPPainter &painter) const
{
    const QRectF box = area();
    painter.setPen(line());
    for (size_t i = 1; i < m_series.x.size(); ++i) {
        if (std::isnan(m_series.y[i]) || std::isnan(m_series.y[i - 1])) {
            continue;
        }
        const QLineF piece(pixel(m_series.x[i - 1], m_series.y[i - 1]),
                           pixel(m_series.x[i], m_series.y[i]));
        if (const auto seen = clippedLine(piece, box)) {
            painter.drawLine(*seen);
        }
    }
    if (m_series.shape != PointShape::None) {
        drawPoints(painter);
    }
}

void SeriesPlottable::drawPoints(QCPPainter &painter) const
{
    const QRectF box = area().adjusted(-1, -1, 1, 1);
    for (size_t i = 0; i < m_series.x.size(); ++i) {
        const QPointF at = pixel(m_series.x[i], m_series.y[i]);
        if (box.contains(at)) { // never where y is no number
            drawShape(painter, m_series.shape, at, m_series.size, m_series.colour);
        }
    }
}

void SeriesPlottable::drawArea(QCPPainter &painter) const
{
    const QRectF box = area();
    QPolygonF outline;
    for (size_t i = 0; i < m_series.x.size(); ++i) {
        outline << pixel(m_series.x[i], m_series.y2[i]);
    }
    for (size_t i = m_series.x.size(); i-- > 0;) {
        outline << pixel(m_series.x[i], m_series.y[i]);
    }
    painter.setPen(Qt::NoPen);
    painter.setBrush(m_series.colour);
    painter.drawPolygon(outline.intersected(QPolygonF(box)));
    painter.setBrush(Qt::NoBrush);
    if (m_series.outlined) {
        painter.setPen(QPen(look::quietInk, 0.8, m_series.stroke));
        for (const auto *edge : {&m_series.y, &m_series.y2}) {
            for (size_t i = 1; i < m_series.x.size(); ++i) {
                const QLineF piece(pixel(m_series.x[i - 1], (*edge)[i - 1]),
                                   pixel(m_series.x[i], (*edge)[i]));
                if (const auto seen = clippedLine(piece, box)) {
                    painter.drawLine(*seen);
                }
            }
        }
    }
}

void SeriesPlottable::drawWhiskers(QCPPainter &painter) const
{
    constexpr double cap = 4.0;
    const QRectF box = area();
    painter.setPen(line());
    const auto stroke = [&](const QPointF &from, const QPointF &to) {
        if (const auto seen = clippedLine(QLineF(from, to), box)) {
            painter.drawLine(*seen);
        }
    };
    for (size_t i = 0; i < m_series.x.size(); ++i) {
        const QPointF foot = pixel(m_series.x[i], m_series.y[i]);
        const QPointF head = pixel(m_series.x[i], m_series.y2[i]);
        stroke(foot, head);
        for (const QPointF &end : {foot, head}) {
            stroke(end - QPointF(cap, 0), end + QPointF(cap, 0));
        }
    }
}

} // namespace keyround
