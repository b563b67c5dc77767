// SPDX-License-Identifier: GPL-3.0-or-later
// Dijkstra's search over the drive graph, bounded: it stops when every node asked for is settled.
// Seconds are exact sums of the arcs' seconds. Equal ways are decided by the lower node, so the
// same graph gives the same way.
#pragma once

#include <cstdint>
#include <limits>
#include <vector>

namespace keyround {

/// One direction of a piece of street.
struct DriveArc
{
    double seconds = 0;
    std::uint32_t head = 0;       ///< the node it leads to
    std::uint32_t piece : 31 {};  ///< narrow, because the search is as fast as it reads these
    std::uint32_t forward : 1 {}; ///< driven from the piece's first point to its last
};

/// All arcs, sorted by the node that they leave: those of node n are [first[n], first[n + 1]).
struct ArcTable
{
    std::vector<std::uint32_t> first;
    std::vector<DriveArc> arcs;
    std::vector<std::uint32_t> tails; ///< by arc: the node that it leaves

    [[nodiscard]] std::size_t nodeCount() const { return first.empty() ? 0 : first.size() - 1; }
};

/// Keeps its tables between searches, so that a search costs what it touches. One per thread.
class WaySearch
{
public:
    struct Seed
    {
        std::uint32_t node = 0;
        double seconds = 0;
    };

    /// Searches from the seeds until all targets are settled or nothing is left.
    void run(const ArcTable &table, const std::vector<Seed> &seeds,
             const std::vector<std::uint32_t> &targets);

    /// Infinite when the last search did not get there. Exact for the targets of that search.
    [[nodiscard]] double secondsTo(std::uint32_t node) const;
    /// The arcs of the way to a node, in the order of driving; the seed that it begins at.
    [[nodiscard]] std::uint32_t trace(const ArcTable &table, std::uint32_t node,
                                      std::vector<std::uint32_t> &arcs) const;

private:
    struct Label
    {
        double seconds = 0;
        std::uint32_t arc = 0;    ///< by which the node was reached, or noArc for a seed
        std::uint32_t seenIn = 0; ///< number of the search that wrote this label
    };
    struct QueueItem
    {
        double seconds = 0;
        std::uint32_t node = 0;
        [[nodiscard]] bool before(const QueueItem &other) const
        {
            return seconds < other.seconds || (seconds == other.seconds && node < other.node);
        }
    };
    static constexpr std::uint32_t noArc = std::numeric_limits<std::uint32_t>::max();

    void prepare(std::size_t nodes);
    void reach(std::uint32_t node, double seconds, std::uint32_t arc);
    void push(QueueItem item);
    QueueItem pop();

    std::vector<Label> m_labels;
    std::vector<std::uint32_t> m_wantedIn; ///< by node: the search that has yet to settle it
    std::vector<QueueItem> m_heap;         ///< four children a parent: fewer levels than two
    std::uint32_t m_search = 0;
};

} // namespace keyround
