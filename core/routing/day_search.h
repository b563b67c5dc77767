// SPDX-License-Identifier: GPL-3.0-or-later
// The search for a day: again and again a part of the day is destroyed and repaired by other stops
// or in another order, then bettered; worse days are gone on from for a while, ever less (annealed
// acceptance).
#pragma once

#include "core/routing/day_effort.h"
#include "core/routing/day_improve.h"
#include "core/routing/dice.h"

namespace keyround {

class DaySearch
{
public:
    DaySearch(const DayUnits &units, DayImprover &improver, std::uint64_t seed);

    /// Puts in what fits, dearest (for its seconds) first; with dice, in a somewhat other order.
    void fill(DayTrip &trip, bool withDice);
    /// The same with must-go units only.
    void fillMustGo(DayTrip &trip);
    /// Cheaper orders, more stops and exchanges in turn until none helps.
    void better(DayTrip &trip);
    /// Leaves the best trip found; never worse than the given one.
    void run(DayTrip &best, DayEffort &effort);

    /// More priority, or as much at less cost.
    [[nodiscard]] bool isBetter(const DayTrip &a, const DayTrip &b) const;

private:
    struct Offer
    {
        double cost = DayUnits::impossible;
        std::size_t gap = 0;
    };

    [[nodiscard]] Offer offerFor(const DayTrip &trip, std::uint32_t u) const;
    void considerGap(const DayTrip &trip, std::uint32_t u, std::size_t gap, Offer &best) const;
    void destroy(DayTrip &trip);
    void takeOut(DayTrip &trip, const std::vector<std::uint32_t> &units);
    void takeOutString(DayTrip &trip);
    void takeOutAround(DayTrip &trip);
    bool forceIn(DayTrip &trip);
    bool forceIn(DayTrip &trip, std::uint32_t u);
    bool forceClusterIn(DayTrip &trip);
    void rollRepair();
    [[nodiscard]] DayTrip freshStart(DayEffort &effort, double upTo);
    void takeBetter(DayTrip &best, const DayTrip &other) const;
    [[nodiscard]] double loss(const DayTrip &from, const DayTrip &to) const;

    const DayUnits *m_units;
    DayImprover *m_improver;
    Dice m_dice;
    double m_waitWeight = 1.0;
    double m_prizePower = 1.0;
    double m_spread = 0.5;      ///< of the dice that a repair throws
    std::vector<char> m_barred; ///< not put in by this repair
};

} // namespace keyround
