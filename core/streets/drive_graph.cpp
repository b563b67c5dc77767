// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/drive_graph.h"

#include "core/geo/polyline.h"
#include "core/streets/driven_pieces.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

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
    enum class Entry { None, Direct, AtFirst, AtLast }; ///< Direct: along the piece of both
    double seconds = infinite;
    Entry entry = Entry::None;
    std::uint32_t node = 0; ///< by which the target's piece is entered
    double lastMetres = 0;  ///< along the target's piece

    void consider(const BestWay &other)
    {
        if (other.seconds < seconds) {
            *this = other;
        }
    }
};

/// How a way leaves the piece that it begins on.
struct Exit
{
    bool atLast = true; ///< by the piece's last point
    double metres = 0;
};

} // namespace

struct DriveGraph::Data
{
    std::vector<DrivenPiece> pieces;
    ArcTable table;
    SegmentIndex index;
    DriveGraphReport report;

    void search(WaySearch &search, const Snap &from, const std::vector<Snap> &to) const;
    [[nodiscard]] BestWay best(const WaySearch &search, const Snap &from, const Snap &to) const;
    [[nodiscard]] Exit exitBy(const Snap &from, std::uint32_t node) const;
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
    if (start.leavesByLast(from.along)) {
        seeds.push_back({start.to, (start.metres - from.along) * start.secondsPerMetre});
    }
    if (start.leavesByFirst(from.along)) {
        seeds.push_back({start.from, from.along * start.secondsPerMetre});
    }
    std::vector<std::uint32_t> targets;
    for (const Snap &target : to) {
        const DrivenPiece &piece = pieces[target.edge];
        if (piece.entersByFirst(target.along)) {
            targets.push_back(piece.from);
        }
        if (piece.entersByLast(target.along)) {
            targets.push_back(piece.to);
        }
    }
    search.run(table, seeds, targets);
}

BestWay DriveGraph::Data::best(const WaySearch &search, const Snap &from, const Snap &to) const
{
    const DrivenPiece &piece = pieces[to.edge];
    BestWay way;
    const double gap = to.along - from.along;
    using Entry = BestWay::Entry;
    if (from.edge == to.edge && ((piece.forward && gap >= 0) || (piece.backward && gap <= 0))) {
        way.consider({std::abs(gap) * piece.secondsPerMetre, Entry::Direct, 0, std::abs(gap)});
    }
    if (piece.entersByFirst(to.along)) {
        way.consider({search.secondsTo(piece.from) + to.along * piece.secondsPerMetre,
                      Entry::AtFirst, piece.from, to.along});
    }
    if (piece.entersByLast(to.along)) {
        const double rest = piece.metres - to.along;
        way.consider({search.secondsTo(piece.to) + rest * piece.secondsPerMetre, Entry::AtLast,
                      piece.to, rest});
    }
    return way;
}

Exit DriveGraph::Data::exitBy(const Snap &from, std::uint32_t node) const
{
    const DrivenPiece &piece = pieces[from.edge];
    const bool byLast = piece.leavesByLast(from.along) && piece.to == node;
    const bool byFirst = piece.leavesByFirst(from.along) && piece.from == node;
    const double ahead = piece.metres - from.along;
    // A loop leads to its one junction both ways; the search began with the shorter.
    if (byLast && (!byFirst || ahead <= from.along)) {
        return {true, ahead};
    }
    return {false, from.along};
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
    data.pieces = drivenPieces(streets, cut);
    if (!data.pieces.empty()) {
        data.table = arcsOf(data.pieces, cut.nodes.size());
        const std::vector<char> inside = largestPart(data.pieces, data.table);
        data.report = reportOn(streets, data.pieces, inside);
        data.index = indexOf(data.pieces, inside);
    }
    data.report.nodes = cut.nodes.size();
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

std::optional<Snap> DriveGraph::snap(const GeoPoint &place, double maxMetres) const
{
    if (!place.isValid()) {
        return {};
    }
    // The index knows the nearest segments on its own plane; measured here, the first may change
    // with one of those that are nearly as near.
    constexpr unsigned measured = 8;
    std::optional<LinePosition> best;
    SegmentRef bestRef;
    for (const SegmentRef &ref : m_data->index.nearest(place, measured)) {
        const GeoLine &line = m_data->pieces[ref.line].line;
        const auto found = nearestOn({line[ref.segment], line[ref.segment + 1]}, place);
        if (found && (!best || found->offsetMetres < best->offsetMetres)) {
            best = found;
            bestRef = ref;
        }
    }
    if (!best || best->offsetMetres > maxMetres) {
        return {};
    }
    const DrivenPiece &piece = m_data->pieces[bestRef.line];
    best->segment = bestRef.segment;
    const double along = std::min(distanceAlong(piece.line, *best), piece.metres);
    return Snap{bestRef.line, along, best->offsetMetres, best->point};
}

std::vector<Way> DriveGraph::waysFrom(const Snap &from, const std::vector<Snap> &to) const
{
    WaySearch &search = threadSearch();
    m_data->search(search, from, to);
    std::vector<Way> ways(to.size());
    std::vector<std::uint32_t> arcs;
    for (std::size_t i = 0; i < to.size(); ++i) {
        const BestWay best = m_data->best(search, from, to[i]);
        ways[i].seconds = best.seconds;
        ways[i].metres = best.lastMetres;
        if (!std::isfinite(best.seconds)) {
            ways[i].metres = infinite;
        } else if (best.entry != BestWay::Entry::Direct) {
            const std::uint32_t exit = search.trace(m_data->table, best.node, arcs);
            ways[i].metres += m_data->exitBy(from, exit).metres;
            for (const std::uint32_t arc : arcs) {
                ways[i].metres += m_data->pieces[m_data->table.arcs[arc].piece].metres;
            }
        }
    }
    return ways;
}

Way DriveGraph::wayBetween(const Snap &from, const Snap &to) const
{
    Way way = waysFrom(from, {to}).front();
    if (!std::isfinite(way.seconds)) {
        return way;
    }
    const WaySearch &search = threadSearch(); // still holds the search just made
    const BestWay best = m_data->best(search, from, to);
    const auto append = [&way](const GeoLine &stretch) {
        for (const GeoPoint &point : stretch) {
            if (way.line.empty() || way.line.back() != point) {
                way.line.push_back(point);
            }
        }
    };
    const DrivenPiece &first = m_data->pieces[from.edge];
    const DrivenPiece &last = m_data->pieces[to.edge];
    if (best.entry == BestWay::Entry::Direct) {
        append(stretchOf(first.line, from.along, to.along));
    } else {
        std::vector<std::uint32_t> arcs;
        const std::uint32_t exit = search.trace(m_data->table, best.node, arcs);
        const bool atLast = m_data->exitBy(from, exit).atLast;
        append(stretchOf(first.line, from.along, atLast ? first.metres : 0.0));
        for (const std::uint32_t arc : arcs) {
            const GeoLine &line = m_data->pieces[m_data->table.arcs[arc].piece].line;
            append(m_data->table.arcs[arc].forward != 0 ? line
                                                        : GeoLine(line.rbegin(), line.rend()));
        }
        const bool atFirst = best.entry == BestWay::Entry::AtFirst;
        append(stretchOf(last.line, atFirst ? 0.0 : last.metres, to.along));
    }
    if (way.line.size() < 2) {
        way.line.push_back(way.line.back());
    }
    return way;
}

} // namespace keyround
