// SPDX-License-Identifier: GPL-3.0-or-later
// Betters a day's trip without breaking it: a cheaper order of what is in it (Or-opt with stretches
// of any length, 2-opt), stops put in, and stops put in for others.
#pragma once

#include "core/routing/day_route.h"
#include "core/routing/day_trip.h"

namespace keyround {

class DayImprover
{
public:
    DayImprover(const DayUnits &units, DayObjective objective);

    /// What the objective counts, the other one as a tie breaker.
    [[nodiscard]] double cost(const DayTrip &trip) const;
    /// Marks the surroundings of a gap as changed.
    void touch(const DayTrip &trip, std::size_t gap);
    void touchAll(const DayTrip &trip);
    /// Until no move of what was touched helps. True when the trip became cheaper.
    bool descend(DayTrip &trip);
    /// The exchange of one stop in for up to `longest` neighbours out that earns most, or saves
    /// most where none earns. False when there is none.
    bool exchange(DayTrip &trip, std::size_t longest);

    /// The nearest units of one, there or back, nearest first.
    [[nodiscard]] const std::vector<std::uint32_t> &near(std::uint32_t u) const
    {
        return m_near[u];
    }

private:
    struct Move
    {
        double gain = 0;
        DayTrip::Piece first{};
        DayTrip::Piece second{};
    };

    /// A unit in for the stretch at [from, to).
    struct Exchange
    {
        std::uint32_t unit = DayTrip::absent;
        std::size_t from = 0;
        std::size_t to = 0;
        double gain = 0;  ///< of prize
        double saved = 0; ///< seconds
    };

    void seekExchange(const DayTrip &trip, const std::vector<std::uint32_t> &outside,
                      const Exchange &stretch, Exchange &best) const;
    bool moveFor(DayTrip &trip, std::uint32_t u);
    void seekShifts(const DayTrip &trip, std::size_t at, std::size_t gap, bool leads,
                    Move &best) const;
    void seekTurns(const DayTrip &trip, std::size_t p, std::size_t q, Move &best) const;
    void consider(const DayTrip &trip, const DayTrip::Piece &first, const DayTrip::Piece &second,
                  Move &best) const;
    void considerShift(const DayTrip &trip, std::size_t i, std::size_t j, std::size_t gap,
                       bool turned, Move &best) const;
    void enqueue(std::uint32_t u);

    const DayUnits *m_units;
    bool m_byFinish;
    std::size_t m_longestShift;
    std::vector<std::vector<std::uint32_t>> m_near;
    std::vector<std::uint32_t> m_queue;
    std::vector<char> m_queued;
};

} // namespace keyround
