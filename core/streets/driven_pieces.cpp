// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/driven_pieces.h"

#include "core/geo/polyline.h"

#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <boost/graph/strong_components.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace keyround {

namespace {

double speedOf(const Street &street)
{
    const double given = street.metresPerSecond.value_or(0.0);
    return std::isfinite(given) && given > 0.0 ? given : defaultSpeed(street.kind);
}

double factorOf(const ClassFactors &factors, StreetClass kind)
{
    const double given = factors[static_cast<std::size_t>(kind)];
    return std::isfinite(given) && given > 0.0 ? given : 1.0;
}

double bearingFrom(const GeoPoint &from, const GeoPoint &to)
{
    constexpr double radians = std::numbers::pi / 180.0;
    const double east = (to.longitude - from.longitude) * std::cos(from.latitude * radians);
    return std::atan2(east, to.latitude - from.latitude);
}

/// Bearings are taken over the first and last metres: a junction's last half metre of digitising
/// says nothing of where the truck is going.
void setBearings(DrivenPiece &piece)
{
    constexpr double seenMetres = 10.0;
    const double seen = std::min(seenMetres, piece.metres);
    piece.bearingAtFirst = bearingFrom(piece.line.front(), pointAt(piece.line, seen));
    piece.bearingAtLast = bearingFrom(pointAt(piece.line, piece.metres - seen), piece.line.back());
}

} // namespace

std::vector<DrivenPiece> drivenPieces(const std::vector<Street> &streets, CutStreets &cut,
                                      const ClassFactors &factors)
{
    std::vector<DrivenPiece> pieces;
    pieces.reserve(cut.pieces.size());
    for (StreetPiece &part : cut.pieces) {
        const Street &street = streets[part.street];
        DrivenPiece piece;
        piece.from = part.from;
        piece.to = part.to;
        piece.metres = lengthOf(part.line).value;
        piece.secondsPerMetre = factorOf(factors, street.kind) / speedOf(street);
        piece.forward = street.oneWay != OneWay::Backward;
        piece.backward = street.oneWay != OneWay::Forward;
        piece.kind = street.kind;
        piece.street = part.street;
        piece.line = std::move(part.line);
        setBearings(piece);
        pieces.push_back(std::move(piece));
    }
    return pieces;
}

std::vector<char> largestPart(const std::vector<DrivenPiece> &pieces, std::size_t nodes)
{
    using Graph = boost::compressed_sparse_row_graph<boost::directedS>;
    std::vector<std::pair<std::uint32_t, std::uint32_t>> ends;
    ends.reserve(2 * pieces.size());
    for (const DrivenPiece &piece : pieces) {
        if (piece.forward) {
            ends.emplace_back(piece.from, piece.to);
        }
        if (piece.backward) {
            ends.emplace_back(piece.to, piece.from);
        }
    }
    const Graph graph(boost::edges_are_unsorted_multi_pass, ends.begin(), ends.end(), nodes);
    std::vector<std::uint32_t> part(nodes, 0);
    const auto parts = boost::strong_components(
        graph,
        boost::make_iterator_property_map(part.begin(), boost::get(boost::vertex_index, graph)));
    std::vector<double> metres(parts, 0.0);
    for (const DrivenPiece &piece : pieces) {
        if (part[piece.from] == part[piece.to]) {
            metres[part[piece.from]] += piece.metres;
        }
    }
    const auto largest =
        static_cast<std::uint32_t>(std::max_element(metres.begin(), metres.end()) - metres.begin());
    std::vector<char> inside(pieces.size(), 0);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        inside[i] = part[pieces[i].from] == largest && part[pieces[i].to] == largest ? 1 : 0;
    }
    return inside;
}

SegmentIndex indexOf(const std::vector<DrivenPiece> &pieces, const std::vector<char> &inside)
{
    std::vector<SegmentIndex::Entry> entries;
    for (std::uint32_t i = 0; i < pieces.size(); ++i) {
        if (inside[i] == 0) {
            continue;
        }
        const GeoLine &line = pieces[i].line;
        for (std::uint32_t k = 0; k + 1 < line.size(); ++k) {
            entries.push_back({{i, k}, line[k], line[k + 1]});
        }
    }
    return SegmentIndex(entries);
}

} // namespace keyround
