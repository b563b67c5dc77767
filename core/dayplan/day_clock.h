// SPDX-License-Identifier: GPL-3.0-or-later
// A day worked out in time: a round as the searches of core/routing take it (seconds from midnight,
// windows in which work may begin), and the times of an order of stops as a plan shows them. The
// clock itself is timesAlong(), for every plan alike. A round ends on the day it begins: a time
// past midnight stands at 23:59:59, and is said.
#pragma once

#include "core/dayplan/plan.h"
#include "core/routing/timed_task.h"

#include <optional>

namespace keyround {

/// Places of a day: the start, the finish, then the stops in the callers' order.
struct DayPlaces
{
    static constexpr std::size_t start = 0;
    static constexpr std::size_t finish = 1;
    static constexpr std::size_t firstStop = 2;
};

/// What a stop is worth to the search: its priority and a little for being a stop at all, so that
/// of two days of equal priority the one with more valves is better. The little is a tenth of what
/// a valve counts that was never visited or is one interval overdue (dueList()): ten valves that
/// have just fallen due weigh as much as that one.
inline constexpr double worthOfAnyStop = 0.1;
[[nodiscard]] double worthOf(const StopCandidate &candidate);

/// A day as the searches take it. Stop i is candidate i and has the place `firstStop + i`.
struct TimedDay
{
    TimedShift shift;
    std::vector<TimedStop> stops;
    /// Stops longer than every time that busy hours leave open: they have no windows here, are
    /// worked at any time, and miss their hours.
    std::vector<char> neverOpen;
};
[[nodiscard]] TimedDay timedDay(const Round &day, const std::vector<StopCandidate> &stops);

/// When work of so many seconds may begin: the open hours, each shorter by the work. Empty: at any
/// time. No value: the work is longer than every open stretch, or there is none.
[[nodiscard]] std::optional<std::vector<TimeWindow>> windowsFor(const WorkHours &hours,
                                                                double workSeconds);
/// True when a stop's work can lie within its hours and the shift, driving not counted.
[[nodiscard]] bool mayBeWorked(const TimedDay &day, std::size_t stop);

/// The stops' times, legs, breaks, totals, and notes on what is missed. `order` holds indices of
/// `stops`.
void fillTimes(DayPlan &plan, const TimedDay &day, const std::vector<StopCandidate> &stops,
               const std::vector<std::size_t> &order, const TravelTable &table);

/// Fills a plan for stops that all have a place: in their order, or in the best one. The table is
/// of the day's places (DayPlaces). Notes what should keep a stop out.
void timeStops(DayPlan &plan, const Round &day, const std::vector<StopCandidate> &stops,
               bool reorder, const TravelTable &table);
/// A stop without a place counts as being where the crew is: its minutes, but no driving. Noted.
[[nodiscard]] std::vector<StopCandidate>
placedWhereTheCrewIs(DayPlan &plan, const Round &day, const std::vector<StopCandidate> &stops);

/// Refuses a day that has no start place or no shift.
[[nodiscard]] Status checkDay(const Round &day);

/// Where the day ends: the start, when no finish is given.
[[nodiscard]] GeoPoint finishOf(const Round &day);

/// "07:20"; from seconds since midnight too, to the nearest second before the minutes are cut.
[[nodiscard]] QString clockText(const QTime &time);
[[nodiscard]] QString clockText(double second);

/// "8 minutes", rounded up: with the minutes that are said it fits.
[[nodiscard]] QString minutesText(double seconds);

/// Seconds of the shift.
[[nodiscard]] double shiftSeconds(const Round &day);

/// The rules that closed the hours, in words: "07:00-09:00 on Main Street, every day; ...".
[[nodiscard]] QString rulesText(const std::vector<BusyHours> &rules);

/// Notes on stops that lie off the streets, and on the places of the day.
void noteOffStreet(DayPlan &plan, const DriveGraph &graph, const TravelTable &table,
                   const std::vector<StopCandidate> &stops, const TravelSettings &settings);

} // namespace keyround
