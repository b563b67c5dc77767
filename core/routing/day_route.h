// SPDX-License-Identifier: GPL-3.0-or-later
// One crew's day: which stops, in which order, when.
//
// In this order of weight the day
//  1. holds every must-go stop to which there is a way,
//  2. earns the most priority that the windows, the breaks and the shift's end allow (the
//     orienteering problem with time windows),
//  3. takes the least driving, or ends earliest.
// Windows, breaks and the end are never broken for a stop that is not must-go. Where the must-go
// stops alone cannot keep them, the day with the least lateness found is given, and what it misses
// stands in its times.
//
// Method: insertion, and a beam search over sets of stops where must-go stops have windows (after
// Dumas, Desrosiers, Gelinas and Solomon 1995); then destroying and repairing parts of the day,
// each time with Or-opt, 2-opt and exchanges of stops in for stops out, accepted as in annealing.
// Every check of a change is exact and takes the length of what is moved: the earliest leaving and
// the latest arriving are kept for each stop and each number of breaks taken (Savelsbergh 1985).
// Rounds are counted, not timed: same input and seed, same answer on every machine.
#pragma once

#include "core/common/progress.h"
#include "core/routing/timed_route.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace keyround {

struct DayTask
{
    TimedShift shift;
    std::vector<TimedStop> stops;
    /// Stretches of stops that follow each other in this order, without another between them. A
    /// stretch is in the day as a whole or not at all; one must-go stop makes all of it must-go.
    /// A stop is in one stretch at most (in others it is passed over).
    std::vector<std::vector<std::size_t>> locked;
    /// The stop that comes before (after) all others, where it is in the day; it brings its
    /// stretch along. Where one stretch holds both, it comes first.
    std::optional<std::size_t> pinnedFirst;
    std::optional<std::size_t> pinnedLast;
};

enum class DayObjective { LeastDriving, EarliestFinish };

struct DayRouteOptions
{
    DayObjective objective = DayObjective::LeastDriving;
    std::uint64_t seed = 1;
    /// Of destroying and repairing. 500 are near what 20,000 reach in days of 30 stops out of 120
    /// candidates, and take 0.16 to 0.19 s of processor time.
    std::size_t rounds = 500;
    /// Instead of counted rounds: wall time, for benchmarks; the answer then depends on the
    /// machine.
    std::optional<double> budgetMilliseconds;
    /// A day known already: where it is possible, the answer is never worse.
    std::vector<std::size_t> startOrder;
};

enum class LeftOutCause {
    NoWay,            ///< it cannot be reached, or not left again towards the finish
    WindowNeverMet,   ///< none of its windows can be met, even with no other stop
    DoesNotFit,       ///< `missingSeconds` more of shift would let it in
    WindowNotOffered, ///< it would fit, but not in any of its windows
};

struct LeftOutStop
{
    std::size_t stop = 0;
    LeftOutCause cause = LeftOutCause::NoWay;
    double missingSeconds = 0; ///< DoesNotFit: with the cheapest insertion into this day
    /// WindowNotOffered: when this day could begin work there, were it not for the windows; and the
    /// window of the stop that lies nearest to it.
    double couldBegin = 0;
    std::optional<TimeWindow> nearestWindow;
};

struct DayRoute
{
    std::vector<std::size_t> order; ///< indices of the task's stops
    RouteTimes times;
    double priority = 0;              ///< earned
    std::vector<LeftOutStop> leftOut; ///< all others, in the task's order
    bool keepsMustGo = true;   ///< every must-go stop is in the day, and the day misses nothing
    bool wasCancelled = false; ///< the best so far was taken
};

/// Priorities that are negative or not numbers count as none; a stop without priority is taken
/// where it costs no other. Places are indices of the matrix.
[[nodiscard]] DayRoute bestDay(const Matrix &seconds, const DayTask &task,
                               const DayRouteOptions &options = {}, const Progress &progress = {});

} // namespace keyround
