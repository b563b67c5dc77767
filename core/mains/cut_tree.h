// SPDX-License-Identifier: GPL-3.0-or-later
// Who is cut off from every root of a graph when one edge, one vertex, or two neighbouring
// vertices are taken out: exact, for all of them in one go.
//
// A depth-first tree from a root that feeds all roots. An undirected graph leaves no edge between
// unrelated vertices of such a tree, so two neighbours are always ancestor and descendant, and what
// falls apart when they go is: the other subtrees of the upper one, the subtrees of the lower one,
// and the part between them. Each keeps its supply if it has an edge to above the upper one (low
// points: Tarjan 1972), or if it hangs together with a part that has. Building takes O(n + m log
// n), a question O(log n) plus the lower one's children. Used within core/mains only.
#pragma once

#include "core/mains/pipe_network.h"

#include <utility>

namespace keyround {

class CutTree
{
public:
    using Edge = std::pair<NetIndex, NetIndex>;

    /// Edges may be parallel; an edge from a vertex to itself is as good as none.
    CutTree(const std::vector<Edge> &edges, const std::vector<NetIndex> &roots,
            const std::vector<Load> &loads);

    [[nodiscard]] bool isReached(NetIndex vertex) const { return m_at[vertex] != noIndex; }
    /// What hangs beyond an edge: a range in order(). Empty when it cuts nobody off.
    [[nodiscard]] std::pair<NetIndex, NetIndex> beyondEdge(std::size_t edge) const;
    /// The vertices that are reached, each subtree in one run.
    [[nodiscard]] const std::vector<NetIndex> &order() const { return m_order; }
    [[nodiscard]] Load loadOf(std::pair<NetIndex, NetIndex> range) const
    {
        return m_sums[range.second + 1] - m_sums[range.first + 1];
    }

    /// Who is cut off by taking out a vertex, without itself.
    [[nodiscard]] Load beyondOne(NetIndex vertex) const;
    /// The same for two vertices that an edge joins, without themselves.
    [[nodiscard]] Load beyondPair(NetIndex a, NetIndex b) const;

private:
    // Below, everything is by place in the tree's order: 0 is the root that feeds all roots.
    struct Place
    {
        NetIndex parent = 0;
        NetIndex end = 0;  ///< one past the last of its subtree
        NetIndex low = 0;  ///< the highest place that its subtree has an edge to
        NetIndex back = 0; ///< the same for itself alone
        NetIndex high = 0; ///< the lowest place above its parent that its subtree has an edge to
    };
    struct Adjacency;
    void search(const Adjacency &adjacency);
    void findHighs(const std::vector<Edge> &edges);
    void sum(const std::vector<Load> &loads);
    void prepareLeast();
    [[nodiscard]] NetIndex leastBack(NetIndex begin, NetIndex end) const;
    [[nodiscard]] Load subtree(NetIndex place) const
    {
        return m_sums[m_places[place].end] - m_sums[place];
    }
    [[nodiscard]] Load beyondFar(NetIndex upper, NetIndex child, NetIndex lower) const;

    std::vector<Place> m_places;
    std::vector<NetIndex> m_order;     ///< vertices; place p stands at p - 1
    std::vector<NetIndex> m_at;        ///< by vertex: its place
    std::vector<NetIndex> m_treeChild; ///< by edge: the lower place of a tree edge
    IndexRows m_children;
    std::vector<Load> m_sums;          ///< loads of the places before
    std::vector<Load> m_cut;           ///< subtrees that a place cuts off
    std::vector<Load> m_cutWithParent; ///< subtrees of a place cut off if its parent goes as well
    std::vector<std::vector<NetIndex>> m_least; ///< least `back` of runs of 2^k places
};

} // namespace keyround
