// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/cut_tree.h"

#include "core/mains/joined_sets.h"

#include <bit>

namespace keyround {

/// Neighbours by vertex, the root that feeds all roots being the last.
struct CutTree::Adjacency
{
    std::vector<NetIndex> starts;
    std::vector<std::pair<NetIndex, NetIndex>> items; ///< neighbour, edge

    Adjacency(std::size_t vertices, const std::vector<Edge> &edges,
              const std::vector<NetIndex> &roots)
        : starts(vertices + 2, 0)
    {
        const auto feeder = static_cast<NetIndex>(vertices);
        const auto forAll = [&](auto use) {
            for (NetIndex e = 0; e < edges.size(); ++e) {
                if (edges[e].first != edges[e].second) {
                    use(edges[e].first, edges[e].second, e);
                }
            }
            for (NetIndex r = 0; r < roots.size(); ++r) {
                use(feeder, roots[r], static_cast<NetIndex>(edges.size()) + r);
            }
        };
        forAll([&](NetIndex a, NetIndex b, NetIndex) {
            ++starts[a + 1];
            ++starts[b + 1];
        });
        for (std::size_t i = 1; i < starts.size(); ++i) {
            starts[i] += starts[i - 1];
        }
        items.resize(starts.back());
        std::vector<NetIndex> next(starts.begin(), starts.end() - 1);
        forAll([&](NetIndex a, NetIndex b, NetIndex e) {
            items[next[a]++] = {b, e};
            items[next[b]++] = {a, e};
        });
    }
};

CutTree::CutTree(const std::vector<Edge> &edges, const std::vector<NetIndex> &roots,
                 const std::vector<Load> &loads)
    : m_at(loads.size() + 1, noIndex), m_treeChild(edges.size() + roots.size(), noIndex)
{
    search(Adjacency(loads.size(), edges, roots));
    std::vector<NetIndex> parents(m_places.size(), noIndex);
    for (NetIndex p = 1; p < m_places.size(); ++p) {
        parents[p] = m_places[p].parent;
    }
    m_children = rowsByOwner(m_places.size(), parents);
    findHighs(edges);
    sum(loads);
    prepareLeast();
}

void CutTree::search(const Adjacency &adjacency)
{
    struct Step
    {
        NetIndex vertex;
        NetIndex byEdge;
        NetIndex next;
    };
    std::vector<Step> path;
    const auto enter = [&](NetIndex vertex, NetIndex byEdge, NetIndex parent) {
        const auto place = static_cast<NetIndex>(m_places.size());
        m_at[vertex] = place;
        m_places.push_back({parent, 0, place, place, 0});
        path.push_back({vertex, byEdge, adjacency.starts[vertex]});
        if (byEdge != noIndex) {
            m_order.push_back(vertex);
            m_treeChild[byEdge] = place;
        }
    };
    enter(static_cast<NetIndex>(m_at.size() - 1), noIndex, 0);
    while (!path.empty()) {
        Step &step = path.back();
        const NetIndex here = m_at[step.vertex];
        if (step.next == adjacency.starts[step.vertex + 1]) {
            m_places[here].end = static_cast<NetIndex>(m_places.size());
            Place &parent = m_places[m_places[here].parent];
            parent.low = std::min(parent.low, m_places[here].low);
            path.pop_back();
            continue;
        }
        const auto [other, edge] = adjacency.items[step.next++];
        if (edge == step.byEdge) {
            continue;
        }
        if (m_at[other] == noIndex) {
            enter(other, edge, here);
        } else {
            m_places[here].low = std::min(m_places[here].low, m_at[other]);
            m_places[here].back = std::min(m_places[here].back, m_at[other]);
        }
    }
}

void CutTree::findHighs(const std::vector<Edge> &edges)
{
    // Edges to the lowest places first: each place keeps the first that is above its parent, and
    // is skipped from then on. The set of a place stands for the nearest one above it, or itself,
    // that has none yet: joining to the parent keeps the lower index as the root, as NetSets does.
    std::vector<NetIndex> targets;
    std::vector<NetIndex> from;
    for (std::size_t e = 0; e < edges.size(); ++e) {
        const NetIndex a = m_at[edges[e].first];
        const NetIndex b = m_at[edges[e].second];
        if (a != noIndex && b != noIndex && a != b && m_treeChild[e] == noIndex) {
            targets.push_back(std::min(a, b));
            from.push_back(std::max(a, b));
        }
    }
    const IndexRows byTarget = rowsByOwner(m_places.size(), targets);
    NetSets open(m_places.size());
    for (auto target = static_cast<NetIndex>(m_places.size()); target-- > 0;) {
        for (const NetIndex i : byTarget.of(target)) {
            NetIndex place = open.root(from[i]);
            while (place != 0 && m_places[place].parent > target) {
                m_places[place].high = target;
                open.join(place, m_places[place].parent);
                place = open.root(place);
            }
        }
    }
}

void CutTree::sum(const std::vector<Load> &loads)
{
    m_sums.assign(m_places.size() + 1, {});
    for (std::size_t p = 1; p < m_places.size(); ++p) {
        m_sums[p + 1] = m_sums[p] + loads[m_order[p - 1]];
    }
    m_cut.assign(m_places.size(), {});
    m_cutWithParent.assign(m_places.size(), {});
    for (NetIndex p = 1; p < m_places.size(); ++p) {
        const Place &place = m_places[p];
        if (place.low >= place.parent) {
            m_cut[place.parent] += subtree(p);
        }
        if (place.low >= m_places[place.parent].parent) {
            m_cutWithParent[place.parent] += subtree(p);
        }
    }
}

void CutTree::prepareLeast()
{
    m_least.emplace_back();
    m_least.front().reserve(m_places.size());
    for (const Place &place : m_places) {
        m_least.front().push_back(place.back);
    }
    for (std::size_t span = 2; span <= m_places.size(); span *= 2) {
        const std::vector<NetIndex> &half = m_least.back();
        std::vector<NetIndex> whole(m_places.size() - span + 1);
        for (std::size_t i = 0; i < whole.size(); ++i) {
            whole[i] = std::min(half[i], half[i + span / 2]);
        }
        m_least.push_back(std::move(whole));
    }
}

NetIndex CutTree::leastBack(NetIndex begin, NetIndex end) const
{
    if (begin >= end) {
        return noIndex;
    }
    const NetIndex span = std::bit_floor(end - begin);
    const auto level = static_cast<std::size_t>(std::countr_zero(span));
    return std::min(m_least[level][begin], m_least[level][end - span]);
}

std::pair<NetIndex, NetIndex> CutTree::beyondEdge(std::size_t edge) const
{
    const NetIndex child = m_treeChild[edge];
    if (child == noIndex || m_places[child].low <= m_places[child].parent) {
        return {0, 0};
    }
    return {child - 1, m_places[child].end - 1};
}

Load CutTree::beyondOne(NetIndex vertex) const
{
    return isReached(vertex) ? m_cut[m_at[vertex]] : Load{};
}

Load CutTree::beyondPair(NetIndex a, NetIndex b) const
{
    if (!isReached(a) || !isReached(b)) {
        return {};
    }
    const NetIndex upper = std::min(m_at[a], m_at[b]);
    const NetIndex lower = std::max(m_at[a], m_at[b]);
    const auto children = m_children.of(upper);
    const NetIndex child = *std::prev(std::upper_bound(children.begin(), children.end(), lower));
    Load out = m_cut[upper];
    if (m_places[child].low >= upper) {
        out -= subtree(child);
    }
    return out + (child == lower ? m_cutWithParent[lower] : beyondFar(upper, child, lower));
}

/// What is cut off of the subtree of `child` when `lower`, further down in it, and the child's
/// parent `upper` go.
Load CutTree::beyondFar(NetIndex upper, NetIndex child, NetIndex lower) const
{
    const NetIndex lowerEnd = m_places[lower].end;
    const NetIndex least =
        std::min(leastBack(child, lower), leastBack(lowerEnd, m_places[child].end));
    bool betweenIsFed = least < upper;
    for (const NetIndex below : m_children.of(lower)) {
        betweenIsFed =
            betweenIsFed || (m_places[below].low < upper && m_places[below].high > upper);
    }
    Load out;
    if (!betweenIsFed) {
        out += subtree(child) - subtree(lower);
    }
    for (const NetIndex below : m_children.of(lower)) {
        const bool fedAbove = m_places[below].low < upper;
        const bool hangsBetween = m_places[below].high > upper;
        if (!fedAbove && !(hangsBetween && betweenIsFed)) {
            out += subtree(below);
        }
    }
    return out;
}

} // namespace keyround
