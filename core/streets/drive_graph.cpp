// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/drive_graph.h"

#include "core/geo/polyline.h"
#include "core/streets/arc_table.h"
#include "core/streets/cell_overlay.h"
#include "core/streets/row_threads.h"
#include "core/streets/stop_directions.h"
#include "core/streets/way_search.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <mutex>
#include <utility>

namespace keyround {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

DriveGraphReport reportOn(const std::vector<Street> &streets,
                          const std::vector<DrivenPiece> &pieces, const std::vector<char> &inside)
{
    DriveGraphReport report;
    report.pieces = pieces.size();
    std::map<std::size_t, DriveGraphReport::CutOff> cutOff; // in the order of the file
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        if (inside[i] != 0) {
            continue;
        }
        const auto [it, isNew] = cutOff.try_emplace(pieces[i].street);
        if (isNew) {
            it->second.name = streets[pieces[i].street].name;
            it->second.at = pieces[i].line.front();
        }
        it->second.metres += pieces[i].metres;
    }
    for (auto &[street, entry] : cutOff) {
        report.cutOff.push_back(std::move(entry));
    }
    return report;
}

/// The way found so far from one snapped place to another.
struct BestWay
{
    double seconds = infinite;
    double metres = infinite; ///< on the target's piece
    bool isDirect = false;    ///< along the piece that both lie on, in one direction
    bool isForward = false;   ///< the target's piece is driven so
    double leaveSeconds = 0;  ///< of a direct way
    double arriveSeconds = 0;

    void consider(const BestWay &other)
    {
        if (other.seconds < seconds) {
            *this = other;
        }
    }
};

/// Between places of one piece this near to each other, served alike, the truck need not move.
constexpr double samePlaceMetres = 0.001;

} // namespace

struct DriveGraph::Data
{
    std::vector<DrivenPiece> pieces;
    TurnRules rules;
    ArcTable table;
    SegmentIndex index;
    DriveGraphReport report;
    GeoLine nodes;
    std::once_flag overlayMade;
    std::unique_ptr<CellOverlay> overlay; ///< made when first needed

    struct Nearest
    {
        LinePosition position;
        SegmentRef segment;
    };
    [[nodiscard]] std::optional<Nearest> nearest(const GeoPoint &place) const;
    [[nodiscard]] StopDirections directionsAt(const Snap &snap) const
    {
        return stopDirections(pieces[snap.edge], snap.side, rules);
    }
    void search(WaySearch &search, const Snap &from, const std::vector<Snap> &to) const;
    [[nodiscard]] BestWay best(const WaySearch &search, const Snap &from, const Snap &to) const;
    [[nodiscard]] BestWay direct(const Snap &from, const Snap &to) const;
    [[nodiscard]] double metresOf(WaySearch &search, const BestWay &best, const Snap &from,
                                  const Snap &to) const;
    [[nodiscard]] CellOverlay::Stop overlayStop(const Snap &snap) const;
    void fillByCells(WayTable &ways, const std::vector<Snap> &from, const std::vector<Snap> &to);
    void draw(Way &way, const WaySearch &search, const BestWay &best, const Snap &from,
              const Snap &to) const;
};

namespace {

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

double defaultSpeed(StreetClass kind)
{
    constexpr double metresPerSecondOfMph = metresPerMile / 3600.0;
    switch (kind) {
    case StreetClass::Motorway:
        return 55 * metresPerSecondOfMph;
    case StreetClass::Arterial:
        return 35 * metresPerSecondOfMph;
    case StreetClass::Collector:
        return 30 * metresPerSecondOfMph;
    case StreetClass::ServiceRoad:
        return 10 * metresPerSecondOfMph;
    case StreetClass::Path:
        return 5 * metresPerSecondOfMph;
    case StreetClass::Residential:
    case StreetClass::Unknown:
        break;
    }
    return 25 * metresPerSecondOfMph;
}

DriveGraph::DriveGraph() : m_data(std::make_unique<Data>()) {}
DriveGraph::~DriveGraph() = default;
DriveGraph::DriveGraph(DriveGraph &&) noexcept = default;
DriveGraph &DriveGraph::operator=(DriveGraph &&) noexcept = default;

DriveGraph DriveGraph::build(const std::vector<Street> &streets, const DriveGraphOptions &options)
{
    DriveGraph graph;
    Data &data = *graph.m_data;
    CutStreets cut = cutStreets(streets, options.joinMetres);
    data.pieces = drivenPieces(streets, cut, options.factors);
    data.rules = cleaned(options.turns);
    if (!data.pieces.empty()) {
        const std::vector<char> inside = largestPart(data.pieces, cut.nodes.size());
        data.table = arcTable(data.pieces, inside, cut.nodes.size(), data.rules);
        data.report = reportOn(streets, data.pieces, inside);
        data.index = indexOf(data.pieces, inside);
    }
    data.report.nodes = cut.nodes.size();
    data.nodes = std::move(cut.nodes);
    data.report.leftOut = cut.leftOut;
    return graph;
}

bool DriveGraph::isEmpty() const
{
    return m_data->pieces.empty();
}

const DriveGraphReport &DriveGraph::report() const
{
    return m_data->report;
}

std::optional<DriveGraph::Data::Nearest> DriveGraph::Data::nearest(const GeoPoint &place) const
{
    if (!place.isValid()) {
        return {};
    }
    // The index knows the nearest segments on its own plane; measured here, the first may change
    // with one of those that are nearly as near.
    constexpr unsigned measured = 8;
    std::optional<Nearest> best;
    for (const SegmentRef &ref : index.nearest(place, measured)) {
        const GeoLine &line = pieces[ref.line].line;
        const auto found = nearestOn({line[ref.segment], line[ref.segment + 1]}, place);
        if (found && (!best || found->offsetMetres < best->position.offsetMetres)) {
            best = {*found, ref};
        }
    }
    return best;
}

std::optional<Snap> DriveGraph::snap(const GeoPoint &place, double maxMetres) const
{
    const auto best = m_data->nearest(place);
    if (!best || best->position.offsetMetres > maxMetres) {
        return {};
    }
    const DrivenPiece &piece = m_data->pieces[best->segment.line];
    LinePosition position = best->position;
    position.segment = best->segment.segment;
    const double along = std::min(distanceAlong(piece.line, position), piece.metres);
    const StreetSide side = sideOf(piece.line[position.segment], piece.line[position.segment + 1],
                                   place, m_data->rules.middleMetres);
    return Snap{best->segment.line, along, position.offsetMetres, position.point, side};
}

std::optional<double> DriveGraph::nearestStreetMetres(const GeoPoint &place) const
{
    const auto best = m_data->nearest(place);
    return best ? std::optional(best->position.offsetMetres) : std::nullopt;
}

std::size_t DriveGraph::streetOf(const Snap &snap) const
{
    return m_data->pieces[snap.edge].street;
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
                                   const std::vector<Snap> &to)
{
    std::call_once(overlayMade, [this] { overlay = std::make_unique<CellOverlay>(table, nodes); });
    std::vector<CellOverlay::Stop> stops;
    stops.reserve(to.size());
    for (const Snap &snap : to) {
        stops.push_back(overlayStop(snap));
    }
    const CellOverlay::Targets targets = overlay->prepare(stops);
    forEachRow(from.size(), [&](std::size_t row) {
        std::vector<CellOverlay::Reach> reach(to.size());
        overlay->row(overlayStop(from[row]), targets, reach.data());
        for (std::size_t k = 0; k < to.size(); ++k) {
            const BestWay straight = direct(from[row], to[k]);
            const bool isStraight = straight.seconds <= reach[k].seconds;
            const std::size_t at = row * ways.columns + k;
            ways.seconds[at] = isStraight ? straight.seconds : reach[k].seconds;
            ways.metres[at] = isStraight ? straight.metres : reach[k].metres;
        }
    });
}

WayTable DriveGraph::wayTable(const std::vector<Snap> &from, const std::vector<Snap> &to,
                              TableMethod method) const
{
    WayTable ways;
    ways.columns = to.size();
    ways.seconds.resize(from.size() * to.size());
    ways.metres.resize(from.size() * to.size());
    // Below this, working out the cells costs more than the searches that it saves.
    constexpr std::size_t manyRows = 300;
    constexpr std::size_t manyNodes = 5000;
    const bool isLarge = from.size() >= manyRows && m_data->nodes.size() >= manyNodes;
    const bool byCells =
        method == TableMethod::Cells || (method == TableMethod::Fitting && isLarge);
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
