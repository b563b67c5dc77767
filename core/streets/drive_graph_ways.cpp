// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/geo/polyline.h"
#include "core/streets/drive_graph_data.h"
#include "core/streets/row_threads.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace keyround {

namespace {

/// Between places of one piece this near to each other, served alike, the truck need not move.
constexpr double samePlaceMetres = 0.001;

/// Each thread keeps its search tables between calls; they hold nothing of one graph that the
/// next search would trust.
WaySearch &threadSearch()
{
    thread_local WaySearch search;
    return search;
}

} // namespace

void DriveGraph::Data::search(WaySearch &search, const Snap &from,
                              const std::vector<Snap> &to) const
{
    std::vector<WaySearch::Seed> seeds;
    const DrivenPiece &start = pieces[from.edge];
    const StopDirections left = directionsAt(from);
    for (const bool forward : {true, false}) {
        if (std::isfinite(left.leave[forward])) {
            const double metres = start.metresFrom(from.along, forward);
            seeds.push_back({table.arcOf(from.edge, forward),
                             left.leave[forward] + metres * start.secondsPerMetre});
        }
    }
    std::vector<std::uint32_t> targets;
    for (const Snap &target : to) {
        const StopDirections reached = directionsAt(target);
        for (const bool forward : {true, false}) {
            if (std::isfinite(reached.arrive[forward])) {
                targets.push_back(table.arcOf(target.edge, forward));
            }
        }
    }
    search.run(table, seeds, targets);
}

BestWay DriveGraph::Data::direct(const Snap &from, const Snap &to) const
{
    BestWay way;
    if (from.edge != to.edge) {
        return way;
    }
    const StopDirections left = directionsAt(from);
    const StopDirections reached = directionsAt(to);
    const double gap = to.along - from.along;
    for (const bool forward : {true, false}) {
        const double leave = left.leave[forward];
        const double arrive = reached.arrive[forward];
        if (!std::isfinite(leave) || !std::isfinite(arrive)) {
            continue;
        }
        if (std::abs(gap) <= samePlaceMetres && left == reached) {
            way.consider({0.0, std::abs(gap), true, forward, 0.0, 0.0});
        } else if (gap == 0 || (gap > 0) == forward) {
            way.consider({leave + std::abs(gap) * pieces[to.edge].secondsPerMetre + arrive,
                          std::abs(gap), true, forward, leave, arrive});
        }
    }
    return way;
}

BestWay DriveGraph::Data::best(const WaySearch &search, const Snap &from, const Snap &to) const
{
    BestWay way = direct(from, to);
    const DrivenPiece &piece = pieces[to.edge];
    const StopDirections reached = directionsAt(to);
    for (const bool forward : {true, false}) {
        const double arrive = reached.arrive[forward];
        if (!std::isfinite(arrive)) {
            continue;
        }
        const std::uint32_t arc = table.arcOf(to.edge, forward);
        const double begun = search.secondsTo(arc);
        if (std::isfinite(begun)) {
            const double metres = piece.metresTo(to.along, forward);
            way.consider({begun + metres * piece.secondsPerMetre + arrive, metres, false, forward,
                          0.0, arrive});
        }
    }
    return way;
}

double DriveGraph::Data::metresOf(WaySearch &search, const BestWay &best, const Snap &from,
                                  const Snap &to) const
{
    if (best.isDirect || !std::isfinite(best.seconds)) {
        return best.metres;
    }
    const std::uint32_t arc = table.arcOf(to.edge, best.isForward);
    const double whole = search.metresTo(table, arc);
    const bool leavesForward = table.isForward(search.seedOf(arc));
    return pieces[from.edge].metresFrom(from.along, leavesForward) + whole + best.metres;
}

std::vector<Way> DriveGraph::waysFrom(const Snap &from, const std::vector<Snap> &to) const
{
    WaySearch &search = threadSearch();
    m_data->search(search, from, to);
    std::vector<Way> ways(to.size());
    for (std::size_t i = 0; i < to.size(); ++i) {
        const BestWay best = m_data->best(search, from, to[i]);
        ways[i].seconds = best.seconds;
        ways[i].metres = m_data->metresOf(search, best, from, to[i]);
    }
    return ways;
}

CellOverlay::Stop DriveGraph::Data::overlayStop(const Snap &snap) const
{
    CellOverlay::Stop stop;
    const StopDirections directions = directionsAt(snap);
    const DrivenPiece &piece = pieces[snap.edge];
    for (const bool forward : {false, true}) {
        const std::uint32_t arc = table.arcOf(snap.edge, forward);
        const double ahead = piece.metresFrom(snap.along, forward);
        const double behind = piece.metresTo(snap.along, forward);
        if (std::isfinite(directions.leave[forward])) {
            stop.leave[forward] = {
                arc, {directions.leave[forward] + ahead * piece.secondsPerMetre, ahead}};
        }
        if (std::isfinite(directions.arrive[forward])) {
            stop.arrive[forward] = {
                arc, {directions.arrive[forward] + behind * piece.secondsPerMetre, behind}};
        }
    }
    return stop;
}

void DriveGraph::Data::fillByCells(WayTable &ways, const std::vector<Snap> &from,
                                   const std::vector<Snap> &to) const
{
    const CellOverlay &cells = *overlay.get();
    const auto stopsAt = [this](const std::vector<Snap> &snaps) {
        std::vector<CellOverlay::Stop> stops;
        std::transform(snaps.begin(), snaps.end(), std::back_inserter(stops),
                       [this](const Snap &snap) { return overlayStop(snap); });
        return stops;
    };
    const CellOverlay::Targets targets = cells.prepare(stopsAt(to));
    const std::vector<CellOverlay::Stop> starts = stopsAt(from);
    const std::vector<std::uint32_t> order = cells.byNeighbourhood(starts);
    constexpr std::size_t rowsAtOnce = 16;
    forEachRow((from.size() + rowsAtOnce - 1) / rowsAtOnce, [&](std::size_t part) {
        const std::size_t first = part * rowsAtOnce;
        const std::size_t last = std::min(first + rowsAtOnce, from.size());
        std::vector<CellOverlay::Stop> some;
        for (std::size_t i = first; i < last; ++i) {
            some.push_back(starts[order[i]]);
        }
        ReachGrid byArcs;
        cells.rows(some, targets, byArcs);
        for (std::size_t i = first; i < last; ++i) {
            const std::size_t row = order[i];
            for (std::size_t k = 0; k < to.size(); ++k) {
                const BestWay straight = direct(from[row], to[k]);
                const Reach reach = byArcs.at(i - first, k);
                const bool isStraight = straight.seconds <= reach.seconds;
                const std::size_t at = row * ways.columns + k;
                ways.seconds[at] = isStraight ? straight.seconds : reach.seconds;
                ways.metres[at] = isStraight ? straight.metres : reach.metres;
            }
        }
    });
}

/// Whether searches between these places would touch so much of the town that the cells are faster.
/// They touch about what lies within half of the places' own extent around them.
bool DriveGraph::Data::isFarFlung(const std::vector<Snap> &from, const std::vector<Snap> &to) const
{
    constexpr std::size_t fewRows = 4;
    constexpr std::size_t manyNodes = 5000;
    if (from.size() < fewRows || nodes.size() < manyNodes || to.empty()) {
        return false;
    }
    GeoPoint south = to.front().onStreet;
    GeoPoint north = south;
    for (const std::vector<Snap> *snaps : {&from, &to}) {
        for (const Snap &snap : *snaps) {
            south.latitude = std::min(south.latitude, snap.onStreet.latitude);
            south.longitude = std::min(south.longitude, snap.onStreet.longitude);
            north.latitude = std::max(north.latitude, snap.onStreet.latitude);
            north.longitude = std::max(north.longitude, snap.onStreet.longitude);
        }
    }
    const double high = (north.latitude - south.latitude) / 2.0;
    const double wide = (north.longitude - south.longitude) / 2.0;
    const auto touched = std::count_if(nodes.begin(), nodes.end(), [&](const GeoPoint &node) {
        return node.latitude > south.latitude - high && node.latitude < north.latitude + high &&
               node.longitude > south.longitude - wide && node.longitude < north.longitude + wide;
    });
    return touched >= static_cast<std::ptrdiff_t>(manyNodes);
}

WayTable DriveGraph::wayTable(const std::vector<Snap> &from, const std::vector<Snap> &to,
                              TableMethod method) const
{
    WayTable ways;
    ways.columns = to.size();
    ways.seconds.resize(from.size() * to.size());
    ways.metres.resize(from.size() * to.size());
    const bool byCells = method == TableMethod::Cells ||
                         (method == TableMethod::Fitting && m_data->isFarFlung(from, to));
    if (byCells && !isEmpty()) {
        m_data->fillByCells(ways, from, to);
        return ways;
    }
    forEachRow(from.size(), [&](std::size_t row) {
        const std::vector<Way> found = waysFrom(from[row], to);
        for (std::size_t k = 0; k < to.size(); ++k) {
            ways.seconds[row * ways.columns + k] = found[k].seconds;
            ways.metres[row * ways.columns + k] = found[k].metres;
        }
    });
    return ways;
}

Way DriveGraph::wayBetween(const Snap &from, const Snap &to) const
{
    WaySearch &search = threadSearch();
    m_data->search(search, from, {to});
    const BestWay best = m_data->best(search, from, to);
    Way way{best.seconds, m_data->metresOf(search, best, from, to), {}, 0.0, {}};
    if (std::isfinite(best.seconds)) {
        m_data->draw(way, search, best, from, to);
    }
    return way;
}

void DriveGraph::Data::draw(Way &way, const WaySearch &search, const BestWay &best,
                            const Snap &from, const Snap &to) const
{
    way.byClass.resize(streetClassCount);
    const auto drive = [&](std::size_t edge, double begin, double end) {
        const DrivenPiece &piece = pieces[edge];
        for (const GeoPoint &point : stretchOf(piece.line, begin, end)) {
            if (way.line.empty() || way.line.back() != point) {
                way.line.push_back(point);
            }
        }
        DrivenOnClass &onClass = way.byClass[static_cast<std::size_t>(piece.kind)];
        onClass.metres += std::abs(end - begin);
        onClass.seconds += std::abs(end - begin) * piece.secondsPerMetre;
    };
    if (best.isDirect) {
        drive(from.edge, from.along, to.along);
        way.turnSeconds = best.leaveSeconds + best.arriveSeconds;
    } else {
        std::vector<std::uint32_t> arcs;
        std::uint32_t before = search.trace(table.arcOf(to.edge, best.isForward), arcs);
        const bool leavesForward = table.isForward(before);
        way.turnSeconds = directionsAt(from).leave[leavesForward] + best.arriveSeconds;
        drive(from.edge, from.along, leavesForward ? pieces[from.edge].metres : 0.0);
        arcs.push_back(table.arcOf(to.edge, best.isForward));
        for (const std::uint32_t arc : arcs) {
            way.turnSeconds += table.turnBetween(before, arc);
            const bool isForward = table.isForward(arc);
            const DrivenPiece &piece = pieces[table.pieceOf(arc)];
            const double begin = isForward ? 0.0 : piece.metres;
            const double end = isForward ? piece.metres : 0.0;
            drive(table.pieceOf(arc), begin, arc == arcs.back() ? to.along : end);
            before = arc;
        }
    }
    if (way.line.size() < 2) {
        way.line.push_back(way.line.back());
    }
}

} // namespace keyround
