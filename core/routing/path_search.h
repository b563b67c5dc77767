// SPDX-License-Identifier: GPL-3.0-or-later
// Shortens a path: 2-opt and Or-opt (Or-3opt for long stretches) over each place's nearest
// neighbours until none helps, then kicks out of that state and begins again, a set number of
// times. Numbers, not the clock, end the search, and its dice are its own: the same input gives
// the same answer on every machine.
#pragma once

#include "core/routing/path.h"

namespace keyround {

/// The order that goes from each place to the nearest not yet visited.
[[nodiscard]] std::vector<std::uint32_t> nearestNeighbourOrder(const PathCosts &costs);

class PathSearch
{
public:
    explicit PathSearch(const PathCosts &costs);

    /// 2-opt and Or-opt until neither helps; never longer than before.
    void descend(Path &path);
    /// Then kicks, each followed by a descent around it; leaves the best path found.
    void perturb(Path &path, std::size_t kicks);

private:
    /// The best move found for one place.
    struct Move
    {
        enum class Kind { None, Reverse, Shift, TurnedShift };
        Kind kind = Kind::None;
        double gain = 0;
        std::size_t i = 0;
        std::size_t j = 0;
        std::size_t k = 0;
    };

    void improveQueued(Path &path);
    void apply(Path &path, const Move &move);
    [[nodiscard]] double worthBeating(const Path &path, std::uint32_t place) const;
    void seekReversals(const Path &path, std::uint32_t place, Move &best) const;
    void seekShifts(const Path &path, std::uint32_t place, Move &best) const;
    void seekExchanges(const Path &path, std::uint32_t place, Move &best) const;
    void considerReversal(const Path &path, std::size_t i, std::size_t j, Move &best) const;
    void considerShift(const Path &path, std::size_t i, std::size_t j, std::size_t k, bool turned,
                       Move &best) const;
    void kick(Path &path);
    void enqueue(std::uint32_t place);
    [[nodiscard]] std::uint64_t random(std::uint64_t below);
    [[nodiscard]] double randomShare();

    const PathCosts *m_costs;
    std::vector<std::vector<std::uint32_t>> m_after;  ///< nearest places to drive to
    std::vector<std::vector<std::uint32_t>> m_before; ///< nearest places to come from
    std::vector<std::uint32_t> m_queue;               ///< places whose surroundings changed
    std::vector<char> m_queued;
    std::uint64_t m_state = 0x9E3779B97F4A7C15ULL;
};

} // namespace keyround
