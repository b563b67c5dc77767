// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/cut_streets.h"

#include "core/geo/polyline.h"
#include "core/streets/segment_index.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <tuple>
#include <unordered_map>

namespace keyround {

namespace {

constexpr std::uint32_t noAnchor = std::numeric_limits<std::uint32_t>::max();

struct PointHash
{
    std::size_t operator()(const GeoPoint &point) const
    {
        // Adding zero makes one zero of the two, as == does.
        const auto a = std::bit_cast<std::uint64_t>(point.latitude + 0.0);
        const auto b = std::bit_cast<std::uint64_t>(point.longitude + 0.0);
        std::uint64_t mixed = a * 0x9E3779B97F4A7C15ULL ^ (b + 0x7F4A7C15ULL + (a << 6U));
        mixed ^= mixed >> 32U;
        return static_cast<std::size_t>(mixed * 0xD6E8FEB86659FD93ULL);
    }
};

/// A line without points that are no place and without a point twice in a row.
GeoLine cleaned(const GeoLine &line)
{
    GeoLine clean;
    clean.reserve(line.size());
    for (const GeoPoint &point : line) {
        const bool isPlace = std::abs(point.latitude) <= 90.0 && std::abs(point.longitude) <= 180.0;
        if (isPlace && (clean.empty() || clean.back() != point)) {
            clean.push_back(point);
        }
    }
    return clean;
}

/// Where a street is cut: at a share of a segment, at an anchor.
struct Cut
{
    std::size_t segment = 0;
    double share = 0;
    std::uint32_t anchor = 0;
};

class Cutter
{
public:
    Cutter(const std::vector<Street> &streets, double joinMetres)
        : m_streets(streets), m_tolerance(joinMetres), m_lines(streets.size()),
          m_cuts(streets.size())
    {
    }

    CutStreets run()
    {
        clean();
        anchorSharedNodes();
        anchorEnds();
        joinAnchors();
        cutAtTouchingEnds();
        for (std::size_t i = 0; i < m_lines.size(); ++i) {
            emit(i);
        }
        return std::move(m_result);
    }

private:
    void clean();
    void anchorSharedNodes();
    void anchorEnds();
    void joinAnchors();
    void cutAtTouchingEnds();
    void cutAt(std::uint32_t anchor, const std::vector<SegmentRef> &near);
    void emit(std::size_t street);

    [[nodiscard]] bool meetsByEnds(std::size_t street) const
    {
        return m_streets[street].junctions == JunctionRule::EndPoints;
    }
    std::uint32_t anchorAt(const GeoPoint &point);
    std::uint32_t rootOf(std::uint32_t anchor);
    void join(std::uint32_t a, std::uint32_t b);
    std::uint32_t nodeOf(std::uint32_t anchor);
    void addPiece(std::size_t street, const Cut &from, const Cut &to);

    const std::vector<Street> &m_streets;
    double m_tolerance;
    std::vector<GeoLine> m_lines; ///< cleaned; empty for a street left out
    std::vector<std::vector<Cut>> m_cuts;
    std::unordered_map<GeoPoint, std::uint32_t, PointHash> m_anchorOf;
    std::vector<GeoPoint> m_anchors; ///< places that may become nodes
    std::vector<char> m_joins;       ///< by anchor: is an end of an EndPoints street
    std::vector<std::uint32_t> m_parent;
    std::vector<std::uint32_t> m_node; ///< by root anchor
    CutStreets m_result;
};

void Cutter::clean()
{
    for (std::size_t i = 0; i < m_streets.size(); ++i) {
        if (m_streets[i].drivable) {
            m_lines[i] = cleaned(m_streets[i].line);
        }
        if (m_lines[i].size() < 2) {
            m_lines[i].clear();
            ++m_result.leftOut;
        }
    }
}

std::uint32_t Cutter::anchorAt(const GeoPoint &point)
{
    const auto [it, isNew] =
        m_anchorOf.try_emplace(point, static_cast<std::uint32_t>(m_anchors.size()));
    if (isNew) {
        m_anchors.push_back(point);
        m_joins.push_back(0);
    }
    return it->second;
}

void Cutter::anchorSharedNodes()
{
    std::unordered_map<GeoPoint, unsigned, PointHash> uses;
    for (std::size_t i = 0; i < m_lines.size(); ++i) {
        if (!meetsByEnds(i)) {
            for (const GeoPoint &point : m_lines[i]) {
                ++uses[point];
            }
        }
    }
    for (std::size_t i = 0; i < m_lines.size(); ++i) {
        if (meetsByEnds(i)) {
            continue;
        }
        for (std::size_t k = 1; k + 1 < m_lines[i].size(); ++k) {
            if (uses[m_lines[i][k]] > 1) {
                m_cuts[i].push_back({k, 0.0, anchorAt(m_lines[i][k])});
            }
        }
    }
}

void Cutter::anchorEnds()
{
    for (std::size_t i = 0; i < m_lines.size(); ++i) {
        if (m_lines[i].empty()) {
            continue;
        }
        const std::uint32_t first = anchorAt(m_lines[i].front());
        const std::uint32_t last = anchorAt(m_lines[i].back());
        if (meetsByEnds(i)) {
            m_joins[first] = 1;
            m_joins[last] = 1;
        }
        m_cuts[i].push_back({0, 0.0, first});
        m_cuts[i].push_back({m_lines[i].size() - 1, 0.0, last});
    }
    m_parent.resize(m_anchors.size());
    std::iota(m_parent.begin(), m_parent.end(), 0U);
    m_node.assign(m_anchors.size(), noAnchor);
}

std::uint32_t Cutter::rootOf(std::uint32_t anchor)
{
    while (m_parent[anchor] != anchor) {
        m_parent[anchor] = m_parent[m_parent[anchor]];
        anchor = m_parent[anchor];
    }
    return anchor;
}

void Cutter::join(std::uint32_t a, std::uint32_t b)
{
    a = rootOf(a);
    b = rootOf(b);
    // The first of the file gives the junction its place, whatever the order of joining.
    m_parent[std::max(a, b)] = std::min(a, b);
}

void Cutter::joinAnchors()
{
    if (m_tolerance <= 0.0) {
        return;
    }
    std::vector<SegmentIndex::Entry> ends;
    for (std::uint32_t i = 0; i < m_anchors.size(); ++i) {
        if (m_joins[i] != 0) {
            ends.push_back({{i, 0}, m_anchors[i], m_anchors[i]});
        }
    }
    const SegmentIndex index(ends);
    for (std::uint32_t i = 0; i < m_anchors.size(); ++i) {
        for (const SegmentRef &other : index.within(m_anchors[i], m_tolerance)) {
            if (distanceBetween(m_anchors[i], m_anchors[other.line]).value <= m_tolerance) {
                join(i, other.line);
            }
        }
    }
}

void Cutter::cutAtTouchingEnds()
{
    std::vector<SegmentIndex::Entry> segments;
    for (std::uint32_t i = 0; i < m_lines.size(); ++i) {
        if (meetsByEnds(i)) {
            for (std::uint32_t k = 0; k + 1 < m_lines[i].size(); ++k) {
                segments.push_back({{i, k}, m_lines[i][k], m_lines[i][k + 1]});
            }
        }
    }
    const SegmentIndex index(segments);
    for (std::uint32_t i = 0; i < m_anchors.size(); ++i) {
        if (m_joins[i] != 0) {
            cutAt(i, index.within(m_anchors[i], std::max(m_tolerance, 1e-3)));
        }
    }
}

void Cutter::cutAt(std::uint32_t anchor, const std::vector<SegmentRef> &near)
{
    const GeoPoint &place = m_anchors[anchor];
    const double tolerance = std::max(m_tolerance, 1e-3);
    const LocalPlane plane(place);
    std::map<std::uint32_t, std::tuple<double, std::uint32_t, double>> best; // by street
    for (const SegmentRef &ref : near) {
        const GeoLine &line = m_lines[ref.line];
        const PlanePoint a = plane.toPlane(line[ref.segment]);
        const PlanePoint b = plane.toPlane(line[ref.segment + 1]);
        const double share = nearestShare(a, b, {});
        const double off = std::hypot(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share);
        if (off > tolerance) {
            continue;
        }
        // Near one of its own ends, the street is joined there already.
        const LinePosition position{ref.segment, share, {}, 0};
        const double along = distanceAlong(line, position);
        const double length = lengthOf(line).value;
        const double ownReach = 4.0 * tolerance;
        const bool atFirst = rootOf(anchor) == rootOf(m_anchorOf[line.front()]);
        const bool atLast = rootOf(anchor) == rootOf(m_anchorOf[line.back()]);
        if ((atFirst && along <= ownReach) || (atLast && length - along <= ownReach)) {
            continue;
        }
        const auto found = std::make_tuple(off, ref.segment, share);
        const auto [it, isNew] = best.try_emplace(ref.line, found);
        if (!isNew && found < it->second) {
            it->second = found;
        }
    }
    for (const auto &[street, found] : best) {
        const auto [off, segment, share] = found;
        if (share >= 1.0) {
            m_cuts[street].push_back({segment + 1U, 0.0, anchor});
        } else {
            m_cuts[street].push_back({segment, share, anchor});
        }
    }
}

std::uint32_t Cutter::nodeOf(std::uint32_t anchor)
{
    const std::uint32_t root = rootOf(anchor);
    if (m_node[root] == noAnchor) {
        m_node[root] = static_cast<std::uint32_t>(m_result.nodes.size());
        m_result.nodes.push_back(m_anchors[root]);
    }
    return m_node[root];
}

void Cutter::addPiece(std::size_t street, const Cut &from, const Cut &to)
{
    StreetPiece piece{street, nodeOf(from.anchor), nodeOf(to.anchor), {}};
    const GeoLine &line = m_lines[street];
    piece.line.push_back(m_result.nodes[piece.from]);
    const std::size_t end = to.share > 0.0 ? to.segment : to.segment - 1;
    for (std::size_t k = from.segment + 1; k <= end; ++k) {
        if (piece.line.back() != line[k]) {
            piece.line.push_back(line[k]);
        }
    }
    if (piece.line.size() > 1 && piece.line.back() == m_result.nodes[piece.to]) {
        piece.line.pop_back();
    }
    piece.line.push_back(m_result.nodes[piece.to]);
    // What the tolerance has shrunk to nothing is no piece; a loop back to its junction is one.
    if (piece.from == piece.to && lengthOf(piece.line).value <= 2.0 * m_tolerance) {
        return;
    }
    m_result.pieces.push_back(std::move(piece));
}

void Cutter::emit(std::size_t street)
{
    std::vector<Cut> &cuts = m_cuts[street];
    if (m_lines[street].empty()) {
        return;
    }
    std::stable_sort(cuts.begin(), cuts.end(), [](const Cut &a, const Cut &b) {
        return std::tie(a.segment, a.share) < std::tie(b.segment, b.share);
    });
    for (std::size_t k = 1; k < cuts.size(); ++k) {
        addPiece(street, cuts[k - 1], cuts[k]);
    }
}

} // namespace

CutStreets cutStreets(const std::vector<Street> &streets, double joinMetres)
{
    return Cutter(streets, joinMetres).run();
}

} // namespace keyround
