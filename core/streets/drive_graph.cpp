// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/drive_graph.h"

#include "core/geo/polyline.h"
#include "core/streets/drive_graph_data.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace keyround {

namespace {

/// A search of a smaller graph is as fast as what the cells are made for.
constexpr std::size_t manyNodes = 5000;

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

} // namespace

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
    data.overlay =
        std::async(data.nodes.size() >= manyNodes ? std::launch::async : std::launch::deferred,
                   [made = graph.m_data.get()] {
                       return std::make_unique<const CellOverlay>(made->table, made->nodes);
                   });
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

} // namespace keyround
