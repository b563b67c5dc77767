// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/driven_pieces.h"

#include "core/geo/polyline.h"
#include "core/streets/drive_graph.h"

#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <boost/graph/strong_components.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

namespace keyround {

namespace {

double speedOf(const Street &street)
{
    const double given = street.metresPerSecond.value_or(0.0);
    return std::isfinite(given) && given > 0.0 ? given : defaultSpeed(street.kind);
}

} // namespace

std::vector<DrivenPiece> drivenPieces(const std::vector<Street> &streets, CutStreets &cut)
{
    std::vector<DrivenPiece> pieces;
    pieces.reserve(cut.pieces.size());
    for (StreetPiece &part : cut.pieces) {
        const Street &street = streets[part.street];
        DrivenPiece piece;
        piece.from = part.from;
        piece.to = part.to;
        piece.metres = lengthOf(part.line).value;
        piece.secondsPerMetre = 1.0 / speedOf(street);
        piece.forward = street.oneWay != OneWay::Backward;
        piece.backward = street.oneWay != OneWay::Forward;
        piece.street = part.street;
        piece.line = std::move(part.line);
        pieces.push_back(std::move(piece));
    }
    return pieces;
}

ArcTable arcsOf(const std::vector<DrivenPiece> &pieces, std::size_t nodes)
{
    ArcTable table;
    table.first.assign(nodes + 1, 0);
    for (const DrivenPiece &piece : pieces) {
        table.first[piece.from + 1] += piece.forward ? 1U : 0U;
        table.first[piece.to + 1] += piece.backward ? 1U : 0U;
    }
    std::partial_sum(table.first.begin(), table.first.end(), table.first.begin());
    table.arcs.resize(table.first.back());
    table.tails.resize(table.first.back());
    std::vector<std::uint32_t> next(table.first.begin(), table.first.end() - 1);
    for (std::uint32_t i = 0; i < pieces.size(); ++i) {
        const DrivenPiece &piece = pieces[i];
        constexpr std::uint32_t pieceMask = 0x7FFFFFFFU; // more pieces than any memory holds
        const double seconds = piece.metres * piece.secondsPerMetre;
        if (piece.forward) {
            table.tails[next[piece.from]] = piece.from;
            table.arcs[next[piece.from]++] = {seconds, piece.to, i & pieceMask, 1};
        }
        if (piece.backward) {
            table.tails[next[piece.to]] = piece.to;
            table.arcs[next[piece.to]++] = {seconds, piece.from, i & pieceMask, 0};
        }
    }
    return table;
}

std::vector<char> largestPart(const std::vector<DrivenPiece> &pieces, const ArcTable &table)
{
    using Graph = boost::compressed_sparse_row_graph<boost::directedS>;
    std::vector<std::pair<std::uint32_t, std::uint32_t>> ends;
    ends.reserve(table.arcs.size());
    for (std::uint32_t node = 0; node < table.nodeCount(); ++node) {
        for (std::uint32_t a = table.first[node]; a < table.first[node + 1]; ++a) {
            ends.emplace_back(node, table.arcs[a].head);
        }
    }
    const Graph graph(boost::edges_are_sorted, ends.begin(), ends.end(), table.nodeCount());
    std::vector<std::uint32_t> part(table.nodeCount(), 0);
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
