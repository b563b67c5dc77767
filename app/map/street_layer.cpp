// SPDX-License-Identifier: GPL-3.0-or-later
// Streets, mains and hydrants: the quiet ground of the map.
#include "app/map/map_layers.h"
#include "app/shell/style.h"

#include <QPainter>

#include <algorithm>
#include <array>
#include <map>
#include <vector>

namespace keyround {

namespace {

/// Drawn widths: true to scale when near, never thinner than can be seen.
struct StreetWidth
{
    double metres;
    double leastPixels;
};

StreetWidth widthOf(StreetClass kind)
{
    switch (kind) {
    case StreetClass::Motorway:
        return {20, 4.0};
    case StreetClass::Arterial:
        return {15, 3.4};
    case StreetClass::Collector:
        return {11, 2.4};
    case StreetClass::ServiceRoad:
        return {5, 0.9};
    case StreetClass::Path:
        return {2, 0.8};
    case StreetClass::Residential:
    case StreetClass::Unknown:
        break;
    }
    return {8, 1.5};
}

constexpr std::array streetOrder{StreetClass::Path,      StreetClass::ServiceRoad,
                                 StreetClass::Unknown,   StreetClass::Residential,
                                 StreetClass::Collector, StreetClass::Arterial,
                                 StreetClass::Motorway};

double pixelsOf(StreetClass kind, const MapView &view)
{
    const StreetWidth width = widthOf(kind);
    return std::clamp(width.metres * view.pixelsPerMetre, width.leastPixels, 28.0);
}

QPen roundPen(const QColor &colour, double width)
{
    return {colour, width, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin};
}

/// Draws lines one by one: one large path of many lines takes the rasteriser far longer. So many
/// lines that each is a hair are drawn without smoothing, which is quicker still.
void drawLines(QPainter &painter, const std::vector<QPolygonF> &lines, const QPen &pen)
{
    constexpr std::size_t crowd = 5000;
    painter.save();
    painter.setBrush(Qt::NoBrush);
    if (lines.size() > crowd) {
        painter.setRenderHint(QPainter::Antialiasing, false);
        painter.setPen(QPen(pen.color(), pen.widthF() < 3.0 ? 0.0 : pen.widthF()));
    } else {
        painter.setPen(pen);
    }
    for (const QPolygonF &line : lines) {
        painter.drawPolyline(line);
    }
    painter.restore();
}

} // namespace

QPolygonF screenLine(const PlaneLine &line, const MapFrame &frame)
{
    QPolygonF points;
    points.reserve(static_cast<qsizetype>(line.size()));
    for (std::size_t i = 0; i < line.size(); ++i) {
        const QPointF point = frame.toScreen(line[i]);
        // The last point always stays, so that lines which meet still meet.
        if (points.isEmpty() || i + 1 == line.size() ||
            (point - points.back()).manhattanLength() > 1.0) {
            points << point;
        }
    }
    return points;
}

void paintStreets(QPainter &painter, const MapFrame &frame, const MapContent &content)
{
    std::map<StreetClass, std::vector<QPolygonF>> lines;
    for (const std::size_t i : content.streetIndex.within(frame.seen(30))) {
        const MapContent::DrawnStreet &street = content.streets[i];
        lines[street.kind].push_back(screenLine(street.line, frame));
    }
    constexpr double broad = 4.5; // from here on a street has two edges
    for (const StreetClass kind : streetOrder) {
        const double width = pixelsOf(kind, frame.view);
        if (width >= broad) {
            drawLines(painter, lines[kind], roundPen(look::rule, width + 1.6));
        }
    }
    for (const StreetClass kind : streetOrder) {
        const double width = pixelsOf(kind, frame.view);
        drawLines(painter, lines[kind],
                  roundPen(width >= broad ? look::streetFill : look::rule, width));
    }
}

void paintMains(QPainter &painter, const MapFrame &frame, const MapContent &content)
{
    std::vector<QPolygonF> small;
    std::vector<QPolygonF> large;
    for (const std::size_t i : content.mainIndex.within(frame.seen(10))) {
        const MapContent::DrawnMain &main = content.mains[i];
        (main.large ? large : small).push_back(screenLine(main.line, frame));
    }
    const double scale = std::clamp(frame.view.pixelsPerMetre, 0.25, 1.0);
    drawLines(painter, small, roundPen(look::mainLine, 0.7 + 0.7 * scale));
    drawLines(painter, large, roundPen(look::mainLine, 1.3 + 1.2 * scale));
}

void paintHydrants(QPainter &painter, const MapFrame &frame, const MapContent &content)
{
    if (!showsBowTies(frame.view)) {
        return;
    }
    // A small disc between two short arms, as standing pipes are drawn.
    const double radius = frame.view.pixelsPerMetre >= 1.0 ? 3.2 : 2.2;
    painter.setPen(QPen(look::water, 1.2));
    painter.setBrush(look::waterTint);
    for (const std::size_t i : content.hydrantIndex.within(frame.seen(10))) {
        const QPointF at = frame.toScreen(content.hydrants[i]);
        painter.drawLine(at - QPointF(radius + 2.2, 0), at + QPointF(radius + 2.2, 0));
        painter.drawEllipse(at, radius, radius);
    }
}

} // namespace keyround
