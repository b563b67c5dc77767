// SPDX-License-Identifier: GPL-3.0-or-later
// Dijkstra's search over the arcs of the drive graph, bounded: it stops when every arc asked for
// has its least seconds. What is labelled is the moment at which the truck begins an arc, the turn
// into it done; so a turn may cost by where the truck comes from. Seconds are exact sums of the
// arcs' and the turns' seconds. Equal ways are decided by the order of the arcs, so the same graph
// gives the same way.
// A junction with n arms has up to n such labels, so this costs two to three times a search by
// nodes; arrivals that can better nothing at a junction are dropped before they are queued.
#pragma once

#include "core/streets/arc_table.h"

#include <cstdint>
#include <vector>

namespace keyround {

/// Keeps its tables between searches, so that a search costs what it touches. One per thread.
class WaySearch
{
public:
    /// The truck reaches the end of an arc on which it began its way.
    struct Seed
    {
        std::uint32_t arc = 0;
        double seconds = 0;
    };

    /// Searches from the seeds until all targets are settled or nothing is left.
    void run(const ArcTable &table, const std::vector<Seed> &seeds,
             const std::vector<std::uint32_t> &targets);

    /// Seconds until an arc is begun; infinite when the last search did not get there. Exact for
    /// the targets of that search.
    [[nodiscard]] double secondsTo(std::uint32_t arc) const;
    /// Metres of the arcs driven whole before `arc` is begun, which the last search must have
    /// reached. What is found for one arc is kept for others behind it.
    [[nodiscard]] double metresTo(const ArcTable &table, std::uint32_t arc);
    /// The arc of the seed that the way begins on; after metresTo() of the same arc.
    [[nodiscard]] std::uint32_t seedOf(std::uint32_t arc) const;
    /// The arcs driven whole before `arc` is begun, in the order of driving; the arc of the seed
    /// that the way begins on, which is not among them.
    [[nodiscard]] std::uint32_t trace(std::uint32_t arc, std::vector<std::uint32_t> &arcs) const;

private:
    struct Label
    {
        double seconds = 0;
        std::uint32_t before = 0; ///< the arc driven before, with seedBit where it is a seed's
        std::uint32_t seenIn = 0; ///< number of the search that wrote this label
    };
    struct KnownMetres
    {
        double metres = 0;
        std::uint32_t seed = 0;
        std::uint32_t knownIn = 0;
    };
    /// An arrival at the end of an arc.
    struct QueueItem
    {
        double seconds = 0;
        std::uint32_t arc = 0; ///< with seedBit where the way begins on it
        [[nodiscard]] bool before(const QueueItem &other) const
        {
            return seconds < other.seconds || (seconds == other.seconds && arc < other.arc);
        }
    };
    /// After which arrivals at a node better nothing any more.
    struct Bound
    {
        double seconds = 0;
        std::uint32_t seenIn = 0;
    };
    static constexpr std::uint32_t seedBit = 0x80000000U;

    void prepare(const ArcTable &table);
    void arrive(const ArcTable &table, const QueueItem &item);
    [[nodiscard]] double passedAt(std::uint32_t node) const
    {
        const Bound &bound = m_bounds[node];
        return bound.seenIn == m_search ? bound.seconds : std::numeric_limits<double>::infinity();
    }
    void push(QueueItem item);
    QueueItem pop();

    std::vector<Label> m_labels;
    std::vector<KnownMetres> m_metres;     ///< by arc
    std::vector<std::uint32_t> m_wantedIn; ///< by arc: the search that asked for it
    std::vector<Bound> m_bounds;           ///< by node
    std::vector<QueueItem> m_heap;         ///< four children a parent: fewer levels than two
    std::vector<std::uint32_t> m_trail;
    std::uint32_t m_search = 0;
    std::size_t m_wanted = 0; ///< arcs asked for that the search has not reached yet
};

} // namespace keyround
