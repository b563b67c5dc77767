// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/map_content.h"

#include "app/map/name_lines.h"
#include "app/shell/session.h"
#include "core/dayplan/plan.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

namespace keyround {

namespace {

/// How far a valve may lie from the main, else from the street, that gives it its turn.
constexpr double mainReachMetres = 6.0;
constexpr double streetReachMetres = 25.0;

struct Nearest
{
    double metres = 0;
    double degrees = 0;
};

double distanceToSegment(const PlanePoint &point, const PlanePoint &a, const PlanePoint &b)
{
    const double dx = b.x - a.x;
    const double dy = b.y - a.y;
    const double square = dx * dx + dy * dy;
    const double along =
        square > 0 ? std::clamp(((point.x - a.x) * dx + (point.y - a.y) * dy) / square, 0.0, 1.0)
                   : 0.0;
    return distance(point, {a.x + along * dx, a.y + along * dy});
}

/// Keeps the nearest segment's distance and its direction as the screen shows it (y down).
void consider(std::optional<Nearest> &best, const PlanePoint &point, const PlaneLine &line)
{
    for (std::size_t i = 1; i < line.size(); ++i) {
        const double metres = distanceToSegment(point, line[i - 1], line[i]);
        if (!best || metres < best->metres) {
            const double rise = line[i].y - line[i - 1].y;
            const double run = line[i].x - line[i - 1].x;
            best = Nearest{metres, -std::atan2(rise, run) * 180.0 / std::numbers::pi};
        }
    }
}

template <typename Drawn>
std::optional<double> turnFrom(const std::vector<Drawn> &lines, const PlaneIndex &index,
                               const PlanePoint &at, double reach)
{
    std::optional<Nearest> best;
    for (const std::size_t i : index.within(boxAround(at, reach))) {
        consider(best, at, lines[i].line);
    }
    if (best && best->metres <= reach) {
        return best->degrees;
    }
    return std::nullopt;
}

double turnAt(const MapContent &content, const PlanePoint &at)
{
    if (const auto turn = turnFrom(content.mains, content.mainIndex, at, mainReachMetres)) {
        return *turn;
    }
    return turnFrom(content.streets, content.streetIndex, at, streetReachMetres).value_or(0.0);
}

/// Valves that need somebody are painted after, and so above, those that do not.
int paintingRank(const MapContent::DrawnValve &valve)
{
    const int rank = isOutOfCondition(valve.condition)           ? 3
                     : valve.condition == Condition::Defect      ? 2
                     : valve.condition == Condition::Serviceable ? 1
                                                                 : 0;
    return rank + (valve.leftOther ? 10 : 0);
}

template <typename Drawn> PlaneIndex indexOfLines(const std::vector<Drawn> &drawn)
{
    std::vector<PlaneBox> boxes;
    boxes.reserve(drawn.size());
    for (const Drawn &each : drawn) {
        boxes.push_back(boxOf(each.line));
    }
    return PlaneIndex(boxes);
}

std::optional<GeoPoint> middleOf(Session &session)
{
    PlaneBox degrees;
    const auto take = [&](const GeoPoint &point) {
        if (point.isValid()) {
            degrees.take(PlanePoint{point.longitude, point.latitude});
        }
    };
    for (const Street &street : session.streets()) {
        std::ranges::for_each(street.line, take);
    }
    for (const Main &main : session.mains()) {
        std::ranges::for_each(main.line, take);
    }
    for (const Valve &valve : session.valves()) {
        take(valve.place);
    }
    for (const Hydrant &hydrant : session.hydrants()) {
        take(hydrant.place);
    }
    if (degrees.isEmpty()) {
        return std::nullopt;
    }
    return GeoPoint{degrees.middle().y, degrees.middle().x};
}

void gatherLines(Session &session, MapContent &content)
{
    std::vector<MapContent::NamedLine> named;
    for (const Street &street : session.streets()) {
        content.streets.push_back({street.kind, content.plane.toPlane(street.line)});
        if (!street.name.isEmpty()) {
            named.push_back({street.name, content.streets.back().line});
        }
    }
    content.names = joinedNameLines(named);
    for (const Main &main : session.mains()) {
        content.mains.push_back(
            {main.size >= NominalSize::ofInches(12), content.plane.toPlane(main.line)});
    }
    content.streetIndex = indexOfLines(content.streets);
    content.nameIndex = indexOfLines(content.names);
    content.mainIndex = indexOfLines(content.mains);
}

void gatherHydrants(Session &session, MapContent &content)
{
    std::vector<PlaneBox> boxes;
    for (const Hydrant &hydrant : session.hydrants()) {
        if (hydrant.place.isValid()) {
            content.hydrants.push_back(content.plane.toPlane(hydrant.place));
            boxes.push_back(boxAround(content.hydrants.back(), 0.0));
        }
    }
    content.hydrantIndex = PlaneIndex(boxes);
}

PlaneBox boundsOf(const MapContent &content)
{
    PlaneBox bounds;
    for (const auto &street : content.streets) {
        bounds.take(boxOf(street.line));
    }
    for (const auto &main : content.mains) {
        bounds.take(boxOf(main.line));
    }
    for (const PlanePoint &hydrant : content.hydrants) {
        bounds.take(hydrant);
    }
    for (const auto &valve : content.valves) {
        bounds.take(valve.at);
    }
    return bounds;
}

} // namespace

const MapContent::DrawnValve *MapContent::valveNear(const PlanePoint &at, double metres) const
{
    const DrawnValve *best = nullptr;
    double bestMetres = metres;
    for (const std::size_t i : valveIndex.within(boxAround(at, metres))) {
        const double away = distance(valves[i].at, at);
        if (away <= bestMetres) {
            bestMetres = away;
            best = &valves[i];
        }
    }
    return best;
}

MapContent gatherMap(Session &session)
{
    MapContent content;
    content.units = session.units();
    const std::optional<GeoPoint> middle = middleOf(session);
    if (!middle) {
        return content;
    }
    content.plane = LocalPlane(*middle);
    gatherLines(session, content);
    gatherHydrants(session, content);
    gatherValves(session, content);
    return content;
}

void gatherValves(Session &session, MapContent &content)
{
    content.units = session.units();
    content.valves.clear();
    for (const Valve &valve : session.valves()) {
        if (valve.retired || !valve.place.isValid()) {
            continue;
        }
        const ValveHistory &history = session.history(valve.id);
        const PlanePoint at = content.plane.toPlane(valve.place);
        content.valves.push_back({valve.id, valve.number, at, turnAt(content, at),
                                  valve.normally == NormalPosition::Closed,
                                  history.leftOtherThanNormal.has_value(), history.condition});
    }
    placeValves(std::move(content.valves), content);
    content.bounds = boundsOf(content);
}

void placeValves(std::vector<MapContent::DrawnValve> valves, MapContent &content)
{
    content.valves = std::move(valves);
    std::ranges::stable_sort(content.valves, {}, paintingRank);
    std::vector<PlaneBox> boxes;
    boxes.reserve(content.valves.size());
    for (const auto &valve : content.valves) {
        boxes.push_back(boxAround(valve.at, 0.0));
    }
    content.valveIndex = PlaneIndex(boxes);
}

MapRoute mapRouteOf(Session &session, const Round &round)
{
    MapRoute route;
    route.start = round.start;
    route.finish = round.finish;
    const DriveGraph &graph = session.driveGraph();
    const TravelSettings travel = session.settings().travel;
    std::optional<GeoPoint> at;
    const auto driveTo = [&](const GeoPoint &place) {
        if (!place.isValid()) {
            return;
        }
        if (at) {
            const GeoLine leg = legLine(graph, *at, place, travel);
            route.line.insert(route.line.end(), leg.begin(), leg.end());
        }
        at = place;
    };
    driveTo(round.start);
    int number = 0;
    for (const ValveId &id : round.stops) {
        ++number;
        const Valve *valve = session.valve(id);
        if (valve == nullptr || !valve->place.isValid()) {
            continue;
        }
        const auto &visits = session.history(id).visits;
        const bool done = std::ranges::any_of(
            visits, [&](const ReadVisit &read) { return read.visit.round == round.id; });
        route.stops.push_back({id, valve->place, QString::number(number), done});
        driveTo(valve->place);
    }
    driveTo(round.finish);
    return route;
}

} // namespace keyround
