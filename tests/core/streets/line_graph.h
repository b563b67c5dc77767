// SPDX-License-Identifier: GPL-3.0-or-later
// Ways through an invented town by Boost.Graph's Dijkstra, for tests of the drive graph. The graph
// for Boost is told by the generator, not taken from the drive graph.
#pragma once

#include "core/streets/turn_rules.h"
#include "tests/support/grid_town.h"

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <boost/graph/strong_components.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <vector>

namespace keyround::tests {

using Weight = boost::property<boost::edge_weight_t, double>;
using BoostGraph =
    boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property, Weight>;

constexpr double never = std::numeric_limits<double>::infinity();

/// A place beside a block, part of the way along it; `metresLeft` of its line.
struct PlaceOnBlock
{
    std::size_t block = 0;
    double share = 0;
    double metresLeft = 0;
};

/// The town told to Boost.Graph as a line graph: a vertex for each direction of a block (2b + 1
/// from its first junction to its last, 2b back), which stands for beginning to drive it. Turns and
/// sides are worked out here anew, on a plane, from the generator's junctions.
class LineGraph
{
public:
    LineGraph(const GridTown &town, const std::set<QString> &cutOff, const TurnRules &rules)
        : m_town(town), m_rules(rules), m_inside(town.blocks.size()),
          m_arms(town.junctions.size(), 0), m_graph(2 * town.blocks.size() + 1)
    {
        for (std::size_t b = 0; b < town.blocks.size(); ++b) {
            m_inside[b] = cutOff.count(town.streets[b].name) == 0;
            ++m_arms[town.blocks[b].from];
            ++m_arms[town.blocks[b].to];
        }
        layTurns({});
        std::vector<std::size_t> part(boost::num_vertices(m_graph));
        boost::strong_components(m_graph, boost::make_iterator_property_map(
                                              part.begin(), get(boost::vertex_index, m_graph)));
        std::map<std::size_t, std::size_t> sizes;
        for (std::size_t d = 0; d < 2 * town.blocks.size(); ++d) {
            sizes[part[d]] += isDriven(d) ? 1 : 0;
        }
        const auto largest = std::max_element(sizes.begin(), sizes.end(),
                                              [](auto &x, auto &y) { return x.second < y.second; });
        std::set<std::size_t> outside;
        for (std::size_t d = 0; d < 2 * town.blocks.size(); ++d) {
            if (isDriven(d) && part[d] != largest->first) {
                outside.insert(d);
            }
        }
        m_forced = outside.size();
        layTurns(outside);
    }

    /// Seconds from one place to all others.
    [[nodiscard]] std::vector<double> secondsFrom(const PlaceOnBlock &from,
                                                  const std::vector<PlaceOnBlock> &to)
    {
        const std::size_t source = 2 * m_town.blocks.size();
        boost::clear_out_edges(source, m_graph);
        for (const bool forward : {false, true}) {
            const double leave = stopSeconds(from, forward);
            if (leave < never) {
                const std::size_t here = 2 * from.block + (forward ? 1 : 0);
                const double rest = forward ? 1.0 - from.share : from.share;
                forTurns(here, [&](std::size_t next, double seconds) {
                    boost::add_edge(source, next, leave + rest * secondsOf(here) + seconds,
                                    m_graph);
                });
            }
        }
        std::vector<double> begun(boost::num_vertices(m_graph));
        boost::dijkstra_shortest_paths(
            m_graph, source,
            boost::distance_map(boost::make_iterator_property_map(
                begun.begin(), boost::get(boost::vertex_index, m_graph))));
        std::vector<double> seconds;
        for (const PlaceOnBlock &place : to) {
            double best = never;
            for (const bool forward : {false, true}) {
                const std::size_t there = 2 * place.block + (forward ? 1 : 0);
                const double arrive = stopSeconds(place, forward);
                const double part = forward ? place.share : 1.0 - place.share;
                if (arrive < never &&
                    begun[there] < 1e9) { // Boost's infinity is the largest double
                    best = std::min(best, begun[there] + part * secondsOf(there) + arrive);
                }
                const double gap = (place.share - from.share) * (forward ? 1.0 : -1.0);
                if (place.block == from.block && gap >= 0) {
                    best = std::min(best, gap == 0 ? 0.0
                                                   : stopSeconds(from, forward) + arrive +
                                                         gap * secondsOf(there));
                }
            }
            seconds.push_back(best);
        }
        return seconds;
    }

    /// Directions of blocks that need a U-turn against the rules.
    [[nodiscard]] std::size_t forced() const { return m_forced; }

private:
    [[nodiscard]] const GridTown::Block &blockOf(std::size_t d) const
    {
        return m_town.blocks[d / 2];
    }
    [[nodiscard]] const TurnRules::OfClass &rulesOf(std::size_t d) const
    {
        return m_rules.ofClass[static_cast<std::size_t>(m_town.streets[d / 2].kind)];
    }
    [[nodiscard]] bool isDriven(std::size_t d) const
    {
        return m_inside[d / 2] &&
               blockOf(d).oneWay != (d % 2 == 1 ? OneWay::Backward : OneWay::Forward);
    }
    [[nodiscard]] std::size_t tail(std::size_t d) const
    {
        return d % 2 == 1 ? blockOf(d).from : blockOf(d).to;
    }
    [[nodiscard]] std::size_t head(std::size_t d) const { return tail(d ^ 1U); }
    [[nodiscard]] double secondsOf(std::size_t d) const
    {
        return distanceBetween(m_town.junctions[tail(d)], m_town.junctions[head(d)]).value /
               blockOf(d).metresPerSecond;
    }

    [[nodiscard]] double turn(std::size_t from, std::size_t to) const
    {
        if (m_arms[head(from)] < 3) {
            return 0.0;
        }
        const LocalPlane plane(m_town.junctions[head(from)]);
        const PlanePoint in = plane.toPlane(m_town.junctions[tail(from)]);
        const PlanePoint out = plane.toPlane(m_town.junctions[head(to)]);
        const double ahead = -in.x * out.x - in.y * out.y;
        const double left = -in.x * out.y + in.y * out.x;
        if (ahead > std::abs(left)) {
            return m_rules.straightSeconds;
        }
        return left > 0 ? m_rules.farTurnSeconds : m_rules.nearTurnSeconds;
    }

    [[nodiscard]] std::vector<std::size_t> leaving(std::size_t junction) const
    {
        std::vector<std::size_t> found;
        for (std::size_t d = 0; d < 2 * m_town.blocks.size(); ++d) {
            if (isDriven(d) && tail(d) == junction) {
                found.push_back(d);
            }
        }
        return found;
    }

    [[nodiscard]] double uTurn(std::size_t d, const std::set<std::size_t> &outside) const
    {
        const auto arms = leaving(head(d));
        if (arms.size() == 1) {
            return m_rules.deadEndSeconds;
        }
        if (rulesOf(d).uTurnMidStreet || (rulesOf(d).uTurnAtJunction && m_arms[head(d)] >= 3)) {
            return m_rules.uTurnSeconds;
        }
        double best = never;
        for (const std::size_t side : arms) {
            if (side != (d ^ 1U) && isDriven(side ^ 1U) && rulesOf(side).uTurnMidStreet) {
                best =
                    std::min(best, turn(d, side) + m_rules.uTurnSeconds + turn(side ^ 1U, d ^ 1U));
            }
        }
        const bool isForced = outside.count(d) != 0 || outside.count(d ^ 1U) != 0;
        return best == never && isForced ? m_rules.uTurnSeconds : best;
    }

    void layTurns(const std::set<std::size_t> &outside)
    {
        for (std::size_t d = 0; d < 2 * m_town.blocks.size(); ++d) {
            boost::clear_out_edges(d, m_graph);
            for (const std::size_t next : isDriven(d) ? leaving(head(d)) : leaving(m_arms.size())) {
                const double seconds = next == (d ^ 1U) ? uTurn(d, outside) : turn(d, next);
                if (seconds < never) {
                    boost::add_edge(d, next, secondsOf(d) + seconds, m_graph);
                }
            }
        }
    }

    template <typename Take> void forTurns(std::size_t d, Take take) const
    {
        const auto weight = boost::get(boost::edge_weight, m_graph);
        const auto [begin, end] = boost::out_edges(d, m_graph);
        for (auto edge = begin; edge != end; ++edge) {
            take(boost::target(*edge, m_graph), weight[*edge] - secondsOf(d));
        }
    }

    [[nodiscard]] double stopSeconds(const PlaceOnBlock &place, bool forward) const
    {
        const std::size_t d = 2 * place.block + (forward ? 1 : 0);
        if (!isDriven(d) || !isDriven(d ^ 1U)) {
            return isDriven(d) ? 0.0 : never;
        }
        if (rulesOf(d).uTurnMidStreet && !rulesOf(d).kerbSideOnly) {
            return m_rules.uTurnSeconds / 4;
        }
        const bool stands = forward == (place.metresLeft <= 0.0);
        return stands ? 0.0 : rulesOf(d).uTurnMidStreet ? m_rules.uTurnSeconds : never;
    }

    const GridTown &m_town;
    TurnRules m_rules;
    std::vector<bool> m_inside;
    std::vector<unsigned> m_arms;
    BoostGraph m_graph;
    std::size_t m_forced = 0;
};

/// Streets of all classes; the rules know one class that may be turned on but not crossed.
inline void giveClasses(GridTown &town, unsigned seed)
{
    std::mt19937 random(seed);
    std::uniform_int_distribution<int> any(0, static_cast<int>(streetClassCount) - 1);
    for (Street &street : town.streets) {
        street.kind = static_cast<StreetClass>(any(random));
    }
}

inline TurnRules mixedRules()
{
    TurnRules rules;
    rules.ofClass[static_cast<std::size_t>(StreetClass::Path)] = {true, true, true};
    rules.ofClass[static_cast<std::size_t>(StreetClass::ServiceRoad)] = {true, false, false};
    return rules;
}

inline GeoPoint placeOf(const GridTown &town, const PlaceOnBlock &place)
{
    const GeoPoint a = town.junctions[town.blocks[place.block].from];
    const GeoPoint b = town.junctions[town.blocks[place.block].to];
    const GeoPoint on{a.latitude + (b.latitude - a.latitude) * place.share,
                      a.longitude + (b.longitude - a.longitude) * place.share};
    const LocalPlane plane(on);
    const PlanePoint along = plane.toPlane(b);
    const double part = place.metresLeft / std::hypot(along.x, along.y);
    return plane.toGeo(PlanePoint{-along.y * part, along.x * part});
}

} // namespace keyround::tests
