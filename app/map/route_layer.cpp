// SPDX-License-Identifier: GPL-3.0-or-later
// The round over the map: the driven line with its direction, numbered stops, start and finish;
// and the points of an import's preview.
#include "app/map/map_layers.h"
#include "app/shell/style.h"

#include <QCoreApplication>
#include <QFontMetricsF>
#include <QPainter>
#include <QPainterPath>

#include <algorithm>
#include <array>
#include <cmath>

namespace keyround {

namespace {

/// Driven on the right of the line's middle, so that a street driven out and back shows both ways.
constexpr double sideways = 3.0;
constexpr double chevronEvery = 84.0;

QPointF direction(const QPointF &from, const QPointF &to)
{
    const QPointF step = to - from;
    const double length = std::hypot(step.x(), step.y());
    return length > 0 ? step / length : QPointF(1, 0);
}

QPolygonF besideTheMiddle(const QPolygonF &line)
{
    QPolygonF shifted;
    for (qsizetype i = 1; i < line.size(); ++i) {
        const QPointF along = direction(line[i - 1], line[i]);
        const QPointF right(-along.y() * sideways, along.x() * sideways);
        shifted << line[i - 1] + right << line[i] + right;
    }
    return shifted;
}

void drawChevrons(QPainter &painter, const QPolygonF &line, const QRectF &area)
{
    double spent = chevronEvery / 2;
    QPainterPath chevrons;
    for (qsizetype i = 1; i < line.size(); ++i) {
        const QPointF step = line[i] - line[i - 1];
        const double length = std::hypot(step.x(), step.y());
        const QPointF along = direction(line[i - 1], line[i]);
        const QPointF right(-along.y(), along.x());
        while (spent < length) {
            const QPointF tip = line[i - 1] + along * spent;
            spent += chevronEvery;
            if (area.contains(tip)) {
                chevrons.moveTo(tip - along * 6 - right * 5);
                chevrons.lineTo(tip);
                chevrons.lineTo(tip - along * 6 + right * 5);
            }
        }
        spent -= length;
    }
    painter.strokePath(chevrons, QPen(look::card, 5.0, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.strokePath(chevrons,
                       QPen(look::water, 2.4, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
}

/// A pole with a pennant; the finish's is chequered. The words stand beside it.
void drawFlag(QPainter &painter, const QPointF &at, const QString &words, bool chequered)
{
    const QPointF top = at - QPointF(0, 24);
    painter.setPen(QPen(look::ink, 2.0, Qt::SolidLine, Qt::RoundCap));
    painter.drawLine(at, top);
    painter.setBrush(look::ink);
    painter.drawEllipse(at, 2.4, 2.4);
    const QRectF cloth(top, QSizeF(16, 11));
    painter.setPen(QPen(look::ink, 1.2));
    painter.setBrush(look::card);
    painter.drawRect(cloth);
    for (int row = 0; chequered && row < 2; ++row) {
        for (int column = row; column < 4; column += 2) {
            painter.fillRect(QRectF(top.x() + column * 4, top.y() + row * 5.5, 4, 5.5), look::ink);
        }
    }
    drawHaloText(painter, top + QPointF(20, 10), words, look::ink);
}

void drawDisc(QPainter &painter, const QPointF &middle, double radius, const MapRoute::Stop &stop)
{
    painter.setPen(QPen(look::water, 2.0));
    painter.setBrush(stop.done ? look::water : look::card);
    painter.drawEllipse(middle, radius, radius);
    painter.setPen(stop.done ? look::card : look::ink);
    painter.drawText(QRectF(middle.x() - 30, middle.y() - 10, 60, 20), Qt::AlignCenter, stop.label);
    if (stop.done) {
        // A tick, so that done is not told by colour alone.
        QPainterPath tick;
        const QPointF corner = middle + QPointF(radius * 0.55, -radius * 1.05);
        tick.moveTo(corner);
        tick.lineTo(corner + QPointF(3, 4));
        tick.lineTo(corner + QPointF(9, -5));
        painter.strokePath(tick, QPen(look::card, 5.0));
        painter.strokePath(tick, QPen(look::ink, 2.2));
    }
}

QString bothEnds()
{
    return QCoreApplication::translate("Map", "Start and finish");
}

QFont stopFont(const QPainter &painter)
{
    QFont font = painter.font();
    font.setPointSizeF(8.5);
    font.setBold(true);
    return font;
}

/// The first free place around the valve; straight above when all are taken.
QPointF placeForDisc(const QPointF &at, double radius, LabelGrid &labels)
{
    constexpr double away = 24.0;
    constexpr std::array places{QPointF(0, -1),      QPointF(0.7, -0.7), QPointF(-0.7, -0.7),
                                QPointF(1, 0),       QPointF(-1, 0),     QPointF(0.7, 0.7),
                                QPointF(-0.7, 0.7),  QPointF(0, 1),      QPointF(0.8, -1.6),
                                QPointF(-0.8, -1.6), QPointF(1.8, -0.6), QPointF(-1.8, -0.6)};
    const auto box = [radius](const QPointF &middle) {
        return QRectF(middle.x() - radius, middle.y() - radius, 2 * radius, 2 * radius);
    };
    for (const QPointF &place : places) {
        const QPointF middle = at + place * away;
        if (labels.takeIfFree({box(middle)})) {
            return middle;
        }
    }
    const QPointF middle = at + places.front() * away;
    labels.take(box(middle));
    return middle;
}

} // namespace

void drawHaloText(QPainter &painter, const QPointF &at, const QString &text, const QColor &colour)
{
    QPainterPath path;
    path.addText(at, painter.font(), text);
    painter.strokePath(path, QPen(look::paper, 3.0, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.fillPath(path, colour);
}

void paintRouteLine(QPainter &painter, const MapFrame &frame, const MapContent &content)
{
    if (content.route.line.size() < 2) {
        return;
    }
    const QPolygonF middle = screenLine(content.plane.toPlane(content.route.line), frame);
    const QPolygonF driven = besideTheMiddle(middle);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(look::card, 6.4, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.drawPolyline(driven);
    painter.setPen(QPen(look::water, 3.2, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.drawPolyline(driven);
    drawChevrons(painter, driven, frame.area);
}

void reserveRoute(const MapFrame &frame, const MapContent &content, LabelGrid &labels)
{
    if (content.route.line.size() < 2) {
        return;
    }
    reserveLine(frame,
                besideTheMiddle(screenLine(content.plane.toPlane(content.route.line), frame)),
                labels);
}

void reserveLine(const MapFrame &frame, const QPolygonF &line, LabelGrid &labels)
{
    constexpr double step = 5.0;
    for (qsizetype i = 1; i < line.size(); ++i) {
        if (!QRectF(line[i - 1], line[i])
                 .normalized()
                 .adjusted(-1, -1, 1, 1)
                 .intersects(frame.area)) {
            continue;
        }
        const QPointF along = direction(line[i - 1], line[i]) * step;
        const QPointF whole = line[i] - line[i - 1];
        const int count = static_cast<int>(std::hypot(whole.x(), whole.y()) / step) + 1;
        for (int part = 0; part < count; ++part) {
            const QPointF at = line[i - 1] + along * part;
            labels.take({at.x() - 2, at.y() - 2, 4, 4});
        }
    }
}

std::vector<PlacedStop> placeStops(const QPainter &painter, const MapFrame &frame,
                                   const MapContent &content, LabelGrid &labels)
{
    std::vector<PlacedStop> placed;
    const QFontMetricsF metrics(stopFont(painter));
    const QRectF near = frame.area.adjusted(-40, -40, 40, 40);
    for (const GeoPoint &end : {content.route.start, content.route.finish}) {
        if (!content.route.isEmpty() && end.isValid()) {
            const QPointF at = frame.toScreen(content.plane.toPlane(end));
            labels.take({at.x() - 2, at.y() - 26, 24, 28});
            labels.take({at.x() + 20, at.y() - 26, metrics.horizontalAdvance(bothEnds()), 16});
        }
    }
    for (std::size_t i = 0; i < content.route.stops.size(); ++i) {
        const MapRoute::Stop &stop = content.route.stops[i];
        const QPointF at = frame.toScreen(content.plane.toPlane(stop.place));
        if (near.contains(at)) {
            const double radius = std::max(10.0, metrics.horizontalAdvance(stop.label) / 2 + 3.5);
            placed.push_back({i, at, placeForDisc(at, radius, labels), radius});
        }
    }
    return placed;
}

void paintRouteStops(QPainter &painter, const MapFrame &frame, const MapContent &content,
                     const std::vector<PlacedStop> &stops)
{
    const MapRoute &route = content.route;
    if (route.isEmpty()) {
        return;
    }
    painter.save();
    painter.setFont(stopFont(painter));
    const auto say = [](const char *words) { return QCoreApplication::translate("Map", words); };
    const QPointF start = frame.toScreen(content.plane.toPlane(route.start));
    const QPointF finish = frame.toScreen(content.plane.toPlane(route.finish));
    const bool together = route.start.isValid() && (start - finish).manhattanLength() < 30;
    if (route.start.isValid()) {
        drawFlag(painter, start, together ? bothEnds() : say("Start"), together);
    }
    if (route.finish.isValid() && !together) {
        drawFlag(painter, finish, say("Finish"), true);
    }
    for (const PlacedStop &placed : stops) {
        // From the sign's edge, so that the sign stays readable.
        const QPointF from = placed.at + direction(placed.at, placed.middle) * 7.0;
        painter.setPen(QPen(look::water, 1.8));
        painter.drawLine(from, placed.middle);
    }
    for (const PlacedStop &placed : stops) {
        drawDisc(painter, placed.middle, placed.radius, route.stops[placed.stop]);
    }
    painter.restore();
}

void paintPreview(QPainter &painter, const MapFrame &frame, const MapContent &content)
{
    painter.setPen(QPen(look::card, 1.0));
    painter.setBrush(look::water);
    const QRectF near = frame.area.adjusted(-5, -5, 5, 5);
    for (const GeoPoint &point : content.preview) {
        const QPointF at = frame.toScreen(content.plane.toPlane(point));
        if (near.contains(at)) {
            painter.drawRect(QRectF(at.x() - 3, at.y() - 3, 6, 6));
        }
    }
}

} // namespace keyround
