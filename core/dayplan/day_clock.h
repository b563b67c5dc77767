// SPDX-License-Identifier: GPL-3.0-or-later
// A day worked out in time: the seconds of a given order of stops become times of the clock.
// A round ends on the day it begins: a time past midnight stands at 23:59:59, and is said.
#pragma once

#include "core/dayplan/plan.h"

namespace keyround {

/// Places of a day: the start, the finish, then the stops in the callers' order.
struct DayPlaces
{
    static constexpr std::size_t start = 0;
    static constexpr std::size_t finish = 1;
    static constexpr std::size_t firstStop = 2;
};

/// The stops' times, legs and totals. `order` holds indices of `stops`; the place of stop i is
/// `firstStop + i` in the table.
void fillTimes(DayPlan &plan, const Round &day, const std::vector<StopCandidate> &stops,
               const std::vector<std::size_t> &order, const TravelTable &table);

/// Refuses a day that has no start place or no shift.
[[nodiscard]] Status checkDay(const Round &day);

/// Where the day ends: the start, when no finish is given.
[[nodiscard]] GeoPoint finishOf(const Round &day);

/// Seconds of the shift.
[[nodiscard]] double shiftSeconds(const Round &day);

/// Notes on stops that lie off the streets, and on the places of the day.
void noteOffStreet(DayPlan &plan, const DriveGraph &graph, const TravelTable &table,
                   const std::vector<StopCandidate> &stops, const TravelSettings &settings);

} // namespace keyround
