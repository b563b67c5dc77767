// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/zone_frame.h"

#include <QPolygonF>

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr double aroundWork = 30;      ///< feet of road drawn at least on either side of the work
constexpr double leastLaneDots = 15;   ///< narrower lanes are drawn wider
constexpr double wordsRoom = 78;       ///< dots for signs and words beside the road
constexpr double lengthsRoom = 100;    ///< and for three rows of lengths above it
constexpr double deadEndRoom = 70;     ///< dots for the round end of a road
constexpr double mostRoadShare = 0.34; ///< of the drawing's height

int signsOf(const Sketch &sketch, bool oncoming)
{
    return static_cast<int>(std::ranges::count_if(sketch.items, [&](const SketchItem &item) {
        return item.kind == SketchItem::Kind::Sign && item.sideStreet == 0 &&
               item.facesOncoming == oncoming;
    }));
}

/// Feet along, from the lid, at which the street's line begins and ends.
std::pair<double, double> endsOf(const ZoneDrawing &drawing)
{
    PlaneLine line = drawing.street;
    if (!drawing.forward) {
        std::ranges::reverse(line);
    }
    double length = 0;
    double lidAt = 0;
    double nearest = 1e30;
    for (std::size_t i = 1; i < line.size(); ++i) {
        const double piece = distance(line[i - 1], line[i]);
        const int steps = std::max(1, static_cast<int>(piece));
        for (int step = 0; step <= steps; ++step) {
            const double share = static_cast<double>(step) / steps;
            const PlanePoint here{line[i - 1].x + share * (line[i].x - line[i - 1].x),
                                  line[i - 1].y + share * (line[i].y - line[i - 1].y)};
            if (distance(here, drawing.lid) < nearest) {
                nearest = distance(here, drawing.lid);
                lidAt = length + share * piece;
            }
        }
        length += piece;
    }
    return {-lidAt / metresPerFoot, (length - lidAt) / metresPerFoot};
}

} // namespace

ZoneFrame::ZoneFrame(const ZoneDrawing &drawing, const QRectF &area)
    : m_frame(drawing.street, drawing.lid, drawing.forward, drawing.drivesLeft)
{
    takeActivity(drawing);
    m_turn = m_frame.directionAt({(m_from + m_to) / 2.0});
    cutAtDeadEnds(drawing);
    fit(drawing, area);
}

void ZoneFrame::takeActivity(const ZoneDrawing &drawing)
{
    const Sketch &sketch = drawing.sketch;
    m_from = sketch.workFrom.value;
    m_to = sketch.workTo.value;
    for (const SketchStretch &stretch : sketch.stretches) {
        m_from = std::min(m_from, stretch.from.value);
        m_to = std::max(m_to, stretch.to.value);
    }
    m_from -= aroundWork;
    m_to += aroundWork;
    constexpr double room = 26;  // beside the outermost sign
    constexpr double plain = 60; // of a road without signs
    const int before = signsOf(sketch, false);
    const int past = signsOf(sketch, true);
    m_before = before > 0 ? before * signStep + room : plain;
    m_past = past > 0 ? past * signStep + room : plain;
    if (sketch.crossAt) {
        m_from = std::min(m_from, sketch.crossAt->value - aroundWork);
        m_to = std::max(m_to, sketch.crossAt->value + aroundWork);
        const auto signs = std::ranges::count(sketch.items, 1, &SketchItem::sideStreet);
        m_crossReach = sideSignStep * static_cast<double>(std::max<std::ptrdiff_t>(1, signs)) - 8;
    }
}

void ZoneFrame::cutAtDeadEnds(const ZoneDrawing &drawing)
{
    if (drawing.street.size() < 2) {
        return;
    }
    const auto [first, last] = endsOf(drawing);
    const bool isFirstDead = drawing.forward ? drawing.firstIsDeadEnd : drawing.lastIsDeadEnd;
    const bool isLastDead = drawing.forward ? drawing.lastIsDeadEnd : drawing.firstIsDeadEnd;
    if (isFirstDead && first > m_from - aroundWork) {
        m_from = std::min(first, drawing.sketch.workFrom.value);
        m_endsBefore = true;
        m_before = deadEndRoom;
    }
    if (isLastDead && last < m_to + aroundWork) {
        m_to = std::max(last, drawing.sketch.workTo.value);
        m_endsPast = true;
        m_past = deadEndRoom;
    }
}

void ZoneFrame::fit(const ZoneDrawing &drawing, const QRectF &area)
{
    QPolygonF activity;
    for (int step = 0; step <= 40; ++step) {
        const double along = m_from + (m_to - m_from) * step / 40.0;
        activity << turned(m_frame.at({along}, {0}));
    }
    const QRectF box = activity.boundingRect();
    const double across = drawing.sketch.roadWidth.value + 2 * drawing.sketch.shoulder.value;
    const double wide = std::max(60.0, area.width() - m_before - m_past);
    const double high = std::max(40.0, area.height() * 0.5);
    const double mostRoad = area.height() * mostRoadShare;
    m_scale =
        std::min({wide / std::max(1.0, box.width()), high / std::max(1.0, box.height() + across),
                  mostRoad / std::max(1.0, across)});
    const double lane = drawing.sketch.roadWidth.value / drawing.sketch.lanes;
    const double most = mostRoad / std::max(1.0, across * m_scale);
    m_widened = std::max(1, std::min(static_cast<int>(std::ceil(leastLaneDots / (lane * m_scale))),
                                     static_cast<int>(most)));
    const QPointF middle(area.left() + m_before + wide / 2.0, area.center().y());
    m_shift = middle - box.center() * m_scale;
    centre(drawing, area);
}

/// Moves all up or down so that words above and below find their room.
void ZoneFrame::centre(const ZoneDrawing &drawing, const QRectF &area)
{
    const double edge = drawing.sketch.roadWidth.value / 2.0 + drawing.sketch.shoulder.value;
    const double down = drawing.drivesLeft ? -1.0 : 1.0; // where the own side is
    double top = 1e30;
    double bottom = -1e30;
    const auto take = [&](double y) {
        top = std::min(top, y);
        bottom = std::max(bottom, y);
    };
    for (int step = 0; step <= 40; ++step) {
        const double along = m_from + (m_to - m_from) * step / 40.0;
        take(at(along, -edge).y() - down * lengthsRoom);
        take(at(along, edge).y());
    }
    for (const double dots : {-m_before, m_past}) {
        take(beyond(dots, -edge).y() - (dots > 0 ? down * wordsRoom : 0.0));
        take(beyond(dots, edge).y() + (dots < 0 ? down * wordsRoom : 0.0));
    }
    if (drawing.sketch.crossAt) {
        const double along = drawing.sketch.crossAt->value;
        take(at(along, -edge).y() - down * crossReach(false));
        take(at(along, edge).y() + down * crossReach(true));
    }
    m_shift.ry() += area.center().y() - (top + bottom) / 2.0;
}

QPointF ZoneFrame::turned(const PlanePoint &point) const
{
    const double x = point.x / metresPerFoot;
    const double y = point.y / metresPerFoot;
    // North is up on the plane and down on the drawing; the turning makes the road run to the
    // right.
    return {x * std::cos(m_turn) + y * std::sin(m_turn),
            x * std::sin(m_turn) - y * std::cos(m_turn)};
}

QPointF ZoneFrame::at(double along, double across) const
{
    return turned(m_frame.at({along}, {across * m_widened})) * m_scale + m_shift;
}

QPointF ZoneFrame::directionAt(double along) const
{
    const double angle = m_frame.directionAt({along}) - m_turn;
    return {std::cos(angle), -std::sin(angle)};
}

QPointF ZoneFrame::beyond(double dots, double across) const
{
    const double end = dots < 0 ? m_from : m_to;
    // Past the break the shape is not the street's: a steep one would run out of the drawing.
    constexpr double steepest = 0.12;
    const QPointF direction = directionAt(end);
    const double slope =
        std::clamp(direction.y() / std::max(0.05, direction.x()), -steepest, steepest);
    return at(end, across) + QPointF(dots, dots * slope);
}

} // namespace keyround
