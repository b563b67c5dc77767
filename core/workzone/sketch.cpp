// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/workzone/sketch.h"

#include "core/geo/polyline.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace keyround {

namespace {

constexpr Feet usualLane{12};
constexpr Feet besideRoad{6}; ///< how far from the road's edge signs and flaggers are drawn
constexpr Feet crossHalf{
    15}; ///< half a crossing street and its corners (common practice, no source)

class SketchBuilder
{
public:
    SketchBuilder(const Site &site, const SetUp &setUp) : m_site(site), m_setUp(setUp) {}

    Sketch build()
    {
        measureRoad();
        layStretches();
        placeCrossing();
        placeCones();
        placeSigns();
        placeFlaggers();
        m_sketch.items.push_back(
            {SketchItem::Kind::Lid, {0}, {lidAcross()}, QStringLiteral("lid"), false});
        for (const SketchItem &item : m_sketch.items) {
            if (item.sideStreet != 0) {
                continue;
            }
            m_sketch.first = std::min(m_sketch.first, item.along);
            m_sketch.last = std::max(m_sketch.last, item.along);
        }
        return std::move(m_sketch);
    }

private:
    void measureRoad()
    {
        const StreetFacts &street = m_site.street;
        m_sketch.lanes = std::max(1, street.lanes.value_or(2));
        m_sketch.isOneWay = street.isOneWay.value_or(false);
        m_sketch.roadWidth = {m_sketch.lanes * street.laneWidth.value_or(usualLane).value};
        m_sketch.shoulder = street.shoulderWidth.value_or(Feet{0});
        const double edge = m_sketch.roadWidth.value / 2.0;
        const double closed = m_setUp.width.closed.value;
        if (m_setUp.width.fromCentre) {
            m_sketch.closedFrom = {-closed / 2.0};
            m_sketch.closedTo = {closed / 2.0};
        } else if (m_site.lid == LidPlace::OutsideRoad) {
            m_sketch.closedFrom =
                m_sketch.closedTo = {edge + m_sketch.shoulder.value + besideRoad.value};
        } else if (m_site.lid == LidPlace::Shoulder || m_site.lid == LidPlace::LaneEdge) {
            m_sketch.closedTo = {edge + m_sketch.shoulder.value};
            m_sketch.closedFrom = {m_sketch.closedTo.value - closed};
        } else if (closesInner()) {
            m_sketch.closedFrom = {m_sketch.isOneWay ? -edge : 0.0};
            m_sketch.closedTo = {m_sketch.closedFrom.value + closed};
        } else {
            m_sketch.closedTo = {edge};
            m_sketch.closedFrom = {edge - closed};
        }
        m_sketch.closedEdge = m_setUp.width.fromCentre ? Feet{0}
                              : closesInner()          ? m_sketch.closedFrom
                                                       : m_sketch.closedTo;
    }

    /// The lane beside the middle (of a one-way street: its left-hand one) is the one that is shut.
    [[nodiscard]] bool closesInner() const
    {
        const bool wants = m_site.lid == LidPlace::InnerLane || m_site.lid == LidPlace::Centre;
        const int eachWay = m_sketch.isOneWay ? m_sketch.lanes : m_sketch.lanes / 2;
        return wants && !m_setUp.width.fromCentre && eachWay > 1;
    }

    /// Where the lid lies across the road.
    [[nodiscard]] double lidAcross() const
    {
        constexpr double intoLane = 1; // of "a foot or two"
        const double edge = m_sketch.roadWidth.value / 2.0;
        const double lane = m_sketch.roadWidth.value / m_sketch.lanes;
        switch (m_site.lid) {
        case LidPlace::OutsideRoad:
            return m_sketch.closedTo.value;
        case LidPlace::Shoulder:
            return edge + m_sketch.shoulder.value / 2.0;
        case LidPlace::LaneEdge:
            return edge - intoLane;
        case LidPlace::InnerLane:
            return closesInner() ? m_sketch.closedFrom.value + lane / 2.0 : edge - lane / 2.0;
        case LidPlace::Centre:
        case LidPlace::IntersectionMiddle:
            return 0.0;
        default:
            break;
        }
        return edge - lane / 2.0;
    }

    /// The parts one after the other, with the lid in the middle of the work space.
    void layStretches()
    {
        double upstream = 0;
        for (const ZonePart &part : m_setUp.parts) {
            if (part.kind == ZonePart::Kind::WorkSpace) {
                m_sketch.workFrom = {-part.length.value / 2.0};
                m_sketch.workTo = {part.length.value / 2.0};
                break;
            }
            upstream += part.length.value;
        }
        double along = m_sketch.workFrom.value - upstream;
        m_transition = {along};
        for (const ZonePart &part : m_setUp.parts) {
            m_sketch.stretches.push_back({part, {along}, {along + part.length.value}});
            along += part.length.value;
        }
        m_end = {along};
    }

    /// A near side is left before the crossing, a far side is shut past it.
    void placeCrossing()
    {
        switch (m_site.lid) {
        case LidPlace::IntersectionNear:
            m_sketch.crossAt = Feet{m_end.value + crossHalf.value};
            break;
        case LidPlace::IntersectionFar:
            m_sketch.crossAt = Feet{m_sketch.workFrom.value - crossHalf.value};
            break;
        case LidPlace::IntersectionMiddle:
        case LidPlace::IntersectionSide:
            m_sketch.crossAt = Feet{0};
            break;
        default:
            break;
        }
    }

    /// The inner edge of what is closed: how far into the road the cones stand at a place along.
    [[nodiscard]] double coneAcross(const SketchStretch &stretch, double along, bool farSide) const
    {
        const bool isOuter = farSide || closesInner();
        const double inner = isOuter ? m_sketch.closedTo.value : m_sketch.closedFrom.value;
        if (stretch.part.kind != ZonePart::Kind::Taper) {
            return inner;
        }
        const double outer = m_sketch.closedEdge.value;
        const double length = std::max(1e-9, stretch.part.length.value);
        const double share = (along - stretch.from.value) / length;
        const bool closes = stretch.part.taper != TaperKind::Downstream;
        const double closed = closes ? share : 1.0 - share;
        return outer + (inner - outer) * closed;
    }

    void placeCones()
    {
        if (m_setUp.cones == 0) {
            return;
        }
        const int sides = m_setUp.width.fromCentre ? 2 : 1;
        for (int side = 0; side < sides; ++side) {
            bool isFirst = true;
            for (const SketchStretch &stretch : m_sketch.stretches) {
                for (int cone = isFirst ? 0 : 1; cone <= stretch.part.cones; ++cone) {
                    const double share = stretch.part.cones == 0
                                             ? 0.0
                                             : static_cast<double>(cone) / stretch.part.cones;
                    const double along = stretch.from.value + share * stretch.part.length.value;
                    m_sketch.items.push_back({SketchItem::Kind::Cone,
                                              {along},
                                              {coneAcross(stretch, along, side == 1)},
                                              QString(),
                                              false});
                }
                isFirst = false;
            }
        }
    }

    /// The two approaches of the street itself, then those of the street that is crossed.
    void placeSigns()
    {
        const double edge =
            m_sketch.roadWidth.value / 2.0 + m_sketch.shoulder.value + besideRoad.value;
        for (const ZoneSign &sign : m_setUp.signs) {
            if (sign.approach == 0) {
                m_sketch.items.push_back({SketchItem::Kind::Sign,
                                          {m_transition.value - sign.before.value},
                                          {edge},
                                          sign.legend,
                                          false});
            } else if (sign.approach == 1) {
                m_sketch.items.push_back({SketchItem::Kind::Sign,
                                          {m_end.value + sign.before.value},
                                          {-edge},
                                          sign.legend,
                                          true});
            } else if (m_sketch.crossAt) {
                const int side = sign.approach == 2 ? 1 : 2;
                const double away = edge - besideRoad.value + sign.before.value;
                m_sketch.items.push_back({SketchItem::Kind::Sign,
                                          *m_sketch.crossAt,
                                          {side == 1 ? away : -away},
                                          sign.legend,
                                          false,
                                          side});
            }
        }
    }

    void placeFlaggers()
    {
        const double edge = m_sketch.roadWidth.value / 2.0 + besideRoad.value / 2.0;
        const QString words = QStringLiteral("flagger");
        if (m_setUp.flaggers > 0) {
            m_sketch.items.push_back(
                {SketchItem::Kind::Flagger, m_transition, {edge}, words, false});
        }
        if (m_setUp.flaggers > 1) {
            m_sketch.items.push_back({SketchItem::Kind::Flagger, m_end, {-edge}, words, true});
        }
    }

    const Site &m_site;
    const SetUp &m_setUp;
    Sketch m_sketch;
    Feet m_transition; ///< along, where the taper begins
    Feet m_end;        ///< along, where everything that is closed is open again
};

} // namespace

Sketch sketchOf(const Site &site, const SetUp &setUp)
{
    return SketchBuilder(site, setUp).build();
}

StreetFrame::StreetFrame(PlaneLine street, const PlanePoint &lid, bool forward, bool drivesLeft)
    : m_line(std::move(street)), m_side(drivesLeft ? -1.0 : 1.0)
{
    if (!forward) {
        std::ranges::reverse(m_line);
    }
    const auto same = [](const PlanePoint &a, const PlanePoint &b) {
        return distance(a, b) < 1e-6;
    };
    m_line.erase(std::unique(m_line.begin(), m_line.end(), same), m_line.end());
    if (m_line.size() < 2) {
        m_line = {{lid.x - 1.0, lid.y}, {lid.x + 1.0, lid.y}};
    }
    m_metres.push_back(0);
    double nearest = std::numeric_limits<double>::infinity();
    for (std::size_t i = 1; i < m_line.size(); ++i) {
        const PlanePoint &a = m_line[i - 1];
        const PlanePoint &b = m_line[i];
        const double length = distance(a, b);
        const double share = nearestShare(a, b, lid);
        const PlanePoint foot{a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
        if (distance(foot, lid) < nearest) {
            nearest = distance(foot, lid);
            m_lid = m_metres.back() + share * length;
        }
        m_metres.push_back(m_metres.back() + length);
    }
}

StreetFrame::Spot StreetFrame::spotAt(double metresAlong) const
{
    const auto after = std::upper_bound(m_metres.begin(), m_metres.end(), metresAlong);
    const auto last = static_cast<std::ptrdiff_t>(m_metres.size()) - 1;
    const auto end = std::clamp(after - m_metres.begin(), std::ptrdiff_t{1}, last);
    const auto to = static_cast<std::size_t>(end);
    const PlanePoint &a = m_line[to - 1];
    const PlanePoint &b = m_line[to];
    const double direction = std::atan2(b.y - a.y, b.x - a.x);
    const double past = metresAlong - m_metres[to - 1];
    return {{a.x + past * std::cos(direction), a.y + past * std::sin(direction)}, direction};
}

PlanePoint StreetFrame::at(Feet along, Feet across) const
{
    const Spot spot = spotAt(m_lid + along.metres().value);
    const double right = spot.direction - std::numbers::pi / 2.0;
    const double metres = across.metres().value * m_side;
    return {spot.point.x + metres * std::cos(right), spot.point.y + metres * std::sin(right)};
}

double StreetFrame::directionAt(Feet along) const
{
    return spotAt(m_lid + along.metres().value).direction;
}

} // namespace keyround
