// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-project/generator/streets.h"

#include "sample-project/generator/lattice.h"
#include "sample-project/generator/names.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace keyround::sample {

namespace {

int speedOf(Rank rank, District district)
{
    switch (rank) {
    case Rank::Arterial:
        return district == District::Downtown ? 30 : 40;
    case Rank::Collector:
        return district == District::Downtown ? 25 : 30;
    case Rank::Local:
        return 25;
    case Rank::Service:
        break;
    }
    return 15;
}

class Layout
{
public:
    Layout(Town &town, Random &random) : m_town(town), m_random(random) {}

    void drawNet();
    void roundCorners();
    void addCulDeSacs();
    void addOutskirts();
    void addCutOffLane();

private:
    int cornerOf(int column, int row);
    int addCorner(Spot spot);
    std::string nameOf(const NetEdge &edge);
    Line drawn(const NetEdge &edge);
    bool tryCulDeSac(std::size_t street);
    void roundCorner(int corner, StreetPiece &first, StreetPiece &second);
    int nearestCorner(Spot spot) const;
    int addRoad(int from, const Line &beyond, const std::string &name, Rank rank);

    Town &m_town;
    Random &m_random;
    StreetNames m_names;
    std::map<std::pair<int, int>, int> m_corners;
    std::map<std::tuple<bool, int, int>, std::string> m_lineNames;
    std::map<std::tuple<bool, int>, std::pair<int, std::string>> m_curves;
};

int Layout::addCorner(Spot spot)
{
    m_town.corners.push_back({rounded(spot)});
    return static_cast<int>(m_town.corners.size()) - 1;
}

int Layout::cornerOf(int column, int row)
{
    const auto found = m_corners.find({column, row});
    if (found != m_corners.end())
        return found->second;
    const int corner = addCorner(bent(flatOf(column, row)));
    m_corners[{column, row}] = corner;
    return corner;
}

/// Main streets and the grid keep one name along their line on each bank; in the curving
/// districts a name ends where the street does.
std::string Layout::nameOf(const NetEdge &edge)
{
    const bool east = edge.column > lastWesternColumn && edge.district != District::OldGrid;
    const int line = edge.north ? edge.column : edge.row;
    if (edge.rank == Rank::Arterial) {
        if (edge.north)
            return east ? "Kestrel Boulevard" : "Quartz Boulevard";
        return edge.row == firstBridgeRow ? "Copperleaf Avenue" : "Juniper Parkway";
    }
    if (edge.rank == Rank::Collector && edge.north && edge.column == lastWesternColumn)
        return "West Bank Drive";
    if (edge.rank == Rank::Collector && edge.north && edge.column == lastWesternColumn + 1)
        return "East Bank Drive";
    const bool grid = edge.district == District::Downtown || edge.district == District::OldGrid;
    if (grid || edge.rank == Rank::Collector) {
        std::string &name = m_lineNames[{edge.north, line, east ? 1 : 0}];
        if (name.empty())
            name = edge.rank == Rank::Collector ? m_names.take(NameStock::Birds, {"Avenue", "Road"})
                   : edge.north                 ? m_names.take(NameStock::Trees, {"Street"})
                                                : m_names.take(NameStock::Minerals, {"Avenue"});
        return name;
    }
    auto &[lastAt, name] = m_curves[{edge.north, line}];
    const int at = edge.north ? edge.row : edge.column;
    if (name.empty() || lastAt + 1 != at)
        name = edge.north ? m_names.take(NameStock::Birds, {"Drive", "Lane", "Way"})
                          : m_names.take(NameStock::Trees, {"Lane", "Way", "Drive", "Terrace"});
    lastAt = at;
    return name;
}

Line Layout::drawn(const NetEdge &edge)
{
    const Spot from = flatOf(edge.column, edge.row);
    const Spot to = flatOf(edge.column + (edge.north ? 0 : 1), edge.row + (edge.north ? 1 : 0));
    const int steps = std::max(1, static_cast<int>(distance(from, to) / 70.0));
    Line line;
    for (int i = 0; i <= steps; ++i)
        line.push_back(rounded(bent(from + (to - from) * (static_cast<double>(i) / steps))));
    return simplified(line);
}

void Layout::drawNet()
{
    for (const NetEdge &edge : chosenEdges(m_random)) {
        StreetPiece piece;
        piece.from = cornerOf(edge.column, edge.row);
        piece.to = cornerOf(edge.column + (edge.north ? 0 : 1), edge.row + (edge.north ? 1 : 0));
        piece.line = drawn(edge);
        piece.name = nameOf(edge);
        piece.rank = edge.rank;
        piece.district = edge.district;
        piece.mph = speedOf(edge.rank, edge.district);
        piece.bridge = edge.bridge;
        // The one-way pair: two neighbouring downtown streets, one down, one up.
        if (edge.north && edge.district == District::Downtown) {
            if (edge.column == 8)
                piece.oneWay = -1;
            else if (edge.column == 9)
                piece.oneWay = 1;
        }
        m_town.streets.push_back(std::move(piece));
    }
}

/// Where just two stretches meet at an angle the street swings round in a curve, and the corner
/// moves to the middle of it.
void Layout::roundCorner(int corner, StreetPiece &first, StreetPiece &second)
{
    const auto outward = [corner](StreetPiece &piece) {
        if (piece.from != corner)
            std::reverse(piece.line.begin(), piece.line.end());
    };
    outward(first);
    outward(second);
    const double reach =
        std::min({140.0, lengthOf(first.line) * 0.35, lengthOf(second.line) * 0.35});
    const Spot at = first.line.front();
    const Spot a = alongLine(first.line, reach);
    const Spot b = alongLine(second.line, reach);
    const Spot turned = (a - at) + (b - at);
    if (std::hypot(turned.x, turned.y) > reach * 0.5) { // else nearly straight on
        const auto onCurve = [&](double t) {
            return rounded(a * ((1 - t) * (1 - t)) + at * (2 * t * (1 - t)) + b * (t * t));
        };
        const auto redraw = [&](Line &line, double end) {
            Line curved;
            for (int i = 0; i <= 4; ++i)
                curved.push_back(onCurve(0.5 + (end - 0.5) * i / 4.0));
            double length = 0;
            for (std::size_t i = 1; i < line.size(); ++i) {
                length += distance(line[i - 1], line[i]);
                if (length > reach + 1.0)
                    curved.push_back(line[i]);
            }
            line = simplified(curved);
        };
        redraw(first.line, 0.0);
        redraw(second.line, 1.0);
        m_town.corners[static_cast<std::size_t>(corner)].spot = first.line.front();
    }
    outward(first);
    outward(second);
}

void Layout::roundCorners()
{
    std::vector<std::vector<std::size_t>> at(m_town.corners.size());
    for (std::size_t i = 0; i < m_town.streets.size(); ++i) {
        at[static_cast<std::size_t>(m_town.streets[i].from)].push_back(i);
        at[static_cast<std::size_t>(m_town.streets[i].to)].push_back(i);
    }
    for (std::size_t corner = 0; corner < at.size(); ++corner) {
        if (at[corner].size() == 2)
            roundCorner(static_cast<int>(corner), m_town.streets[at[corner][0]],
                        m_town.streets[at[corner][1]]);
    }
}

/// Tries to lead a short curved street off the middle of one, where there is room.
bool Layout::tryCulDeSac(std::size_t street)
{
    const StreetPiece host = m_town.streets[street];
    const double whole = lengthOf(host.line);
    if (whole < 430 || host.bridge || host.rank == Rank::Arterial)
        return false;
    const double at = whole * m_random.between(0.42, 0.58);
    const double side = m_random.chance(0.5) ? 1.0 : -1.0;
    const double reach = m_random.between(170, 300);
    const double bend = m_random.between(-70, 70);
    const Spot root = rounded(alongLine(host.line, at));
    const Spot out = leftOfLine(host.line, at) * side;
    const Spot across{-out.y, out.x};
    Line line;
    for (int i = 0; i <= 5; ++i) {
        const double part = i / 5.0;
        line.push_back(rounded(root + out * (reach * part) + across * (bend * part * part)));
    }
    for (std::size_t other = 0; other < m_town.streets.size(); ++other) {
        for (std::size_t i = 2; i < line.size(); ++i) {
            const double room = other == street ? 60.0 : 125.0;
            if (distanceToLine(line[i], m_town.streets[other].line) < room)
                return false;
        }
    }
    StreetPiece second = host;
    Line cut = host.line;
    const Spot vertex = insertVertex(cut, at);
    const auto middle = std::find(cut.begin(), cut.end(), vertex);
    line.front() = vertex;
    const int corner = addCorner(vertex);
    const int end = addCorner(line.back());
    second.line.assign(middle, cut.end());
    second.from = corner;
    StreetPiece &first = m_town.streets[street];
    first.line.assign(cut.begin(), middle + 1);
    first.to = corner;
    m_town.streets.push_back(std::move(second));
    StreetPiece stub;
    stub.from = corner;
    stub.to = end;
    stub.line = std::move(line);
    stub.name = m_names.take(m_random.chance(0.5) ? NameStock::Birds : NameStock::Minerals,
                             {"Court", "Place", "Circle"});
    stub.district = host.district;
    m_town.streets.push_back(std::move(stub));
    return true;
}

void Layout::addCulDeSacs()
{
    int made = 0;
    const std::size_t hosts = m_town.streets.size();
    std::vector<std::size_t> order(hosts);
    for (std::size_t i = 0; i < hosts; ++i)
        order[i] = i;
    m_random.shuffle(order);
    for (const std::size_t street : order) {
        const District district = m_town.streets[street].district;
        if (district == District::Downtown || (district == District::OldGrid && made % 5 != 0))
            continue;
        if (tryCulDeSac(street) && ++made == 75)
            return;
    }
}

int Layout::nearestCorner(Spot spot) const
{
    int best = 0;
    for (std::size_t i = 1; i < m_town.corners.size(); ++i) {
        if (distance(m_town.corners[i].spot, spot) <
            distance(m_town.corners[static_cast<std::size_t>(best)].spot, spot))
            best = static_cast<int>(i);
    }
    return best;
}

int Layout::addRoad(int from, const Line &beyond, const std::string &name, Rank rank)
{
    StreetPiece road;
    road.from = from;
    road.line.push_back(m_town.corners[static_cast<std::size_t>(from)].spot);
    for (const Spot spot : beyond)
        road.line.push_back(rounded(spot));
    road.to = addCorner(road.line.back());
    road.name = name;
    road.rank = rank;
    road.district = District::Outside;
    road.mph = rank == Rank::Arterial ? 55 : speedOf(rank, District::Outside);
    road.carriesMain = rank == Rank::Service;
    const int end = road.to;
    m_town.streets.push_back(std::move(road));
    return end;
}

void Layout::addOutskirts()
{
    // Highways out of town carry no main.
    addRoad(cornerOf(0, firstBridgeRow), {{-6500, -760}, {-7600, -900}}, "Copperleaf Avenue",
            Rank::Arterial);
    addRoad(nearestCorner({2850, -4300}), {{2900, -4900}, {3050, -5600}}, "Kestrel Boulevard",
            Rank::Arterial);
    const auto source = [this](Spot near, const Line &way, const std::string &name, Zone zone) {
        const int end = addRoad(nearestCorner(near), way, name, Rank::Service);
        m_town.corners[static_cast<std::size_t>(end)].isSource = true;
        m_town.corners[static_cast<std::size_t>(end)].zone = zone;
    };
    source({-5900, 700}, {{-6250, 820}, {-6700, 1050}}, "Treatment Plant Road", Zone::Middle);
    source({-3000, 4500}, {{-3060, 4950}, {-3200, 5350}}, "North Tank Road", Zone::High);
    source({3950, 4300}, {{4100, 4800}, {4350, 5150}}, "East Tank Road", Zone::High);
    source({-1950, -4300}, {{-1900, -4700}, {-1700, -5050}}, "South Tank Road", Zone::Low);
    const int yard = addRoad(nearestCorner({-3720, -3250}), {{-3610, -3420}, yardSpot}, "Yard Lane",
                             Rank::Service);
    m_town.streets.back().carriesMain = m_town.corners[static_cast<std::size_t>(yard)].spot.x > 0;
}

void Layout::addCutOffLane()
{
    const int a = addCorner({6050, -2900});
    const int b = addCorner({6350, -2620});
    const int c = addCorner({6700, -2550});
    const int d = addCorner({6420, -2950});
    const auto piece = [this](int from, int to, const Line &between) {
        StreetPiece street;
        street.from = from;
        street.to = to;
        street.line.push_back(m_town.corners[static_cast<std::size_t>(from)].spot);
        street.line.insert(street.line.end(), between.begin(), between.end());
        street.line.push_back(m_town.corners[static_cast<std::size_t>(to)].spot);
        street.name = "Killdeer Wash Lane";
        street.mph = 15;
        street.district = District::Outside;
        street.cutOff = true;
        m_town.streets.push_back(std::move(street));
    };
    piece(a, b, {{6170, -2700}});
    piece(b, c, {});
    piece(b, d, {{6450, -2780}});
}

} // namespace

std::string addressOn(const StreetPiece &street, Spot at, bool leftSide)
{
    const Spot course = street.line.back() - street.line.front();
    const bool north = std::abs(course.y) > std::abs(course.x);
    const int base = static_cast<int>(std::floor(((north ? at.y : at.x) + 8000.0) / 12.0)) * 2;
    return std::to_string(base + (leftSide ? 1 : 0)) + " " + street.name;
}

void layOutStreets(Town &town, Random &random)
{
    Layout layout(town, random);
    layout.drawNet();
    layout.roundCorners();
    layout.addCulDeSacs();
    layout.addOutskirts();
    layout.addCutOffLane();
}

} // namespace keyround::sample
