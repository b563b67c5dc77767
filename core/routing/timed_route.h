// SPDX-License-Identifier: GPL-3.0-or-later
// The clock of a route: when each stop of a given order is reached, begun and left, where breaks
// are taken, and what does not come out. This is the one definition of it: plans show it, and
// searches are checked by it. The rules stand in timed_task.h; seconds are exact sums of the input.
//
// Breaks are put where fewest windows, latest break seconds and the shift's end are missed; then
// where the route ends earliest; then as early as possible. With b breaks and n stops this takes
// n * b steps, and a little more where something is missed.
#pragma once

#include "core/routing/timed_task.h"

#include <vector>

namespace keyround {

struct RouteStop
{
    std::size_t stop = 0; ///< index in the task's stops
    double drive = 0;     ///< seconds from the place before
    double arrive = 0;
    double begin = 0; ///< of work: after waiting for a window
    double end = 0;   ///< of work
    double leave = 0; ///< drives on: after the breaks taken here
    /// Seconds by which it is reached after its last window has closed; 0 when the window is met.
    /// It is worked at once then.
    double late = 0;
};

struct RouteBreak
{
    std::size_t index = 0; ///< in the shift's breaks
    std::size_t after = 0; ///< so many stops are worked before it; 0: at the start
    double begin = 0;
    double end = 0;
    double late = 0; ///< seconds after its latest second; 0 when it is in time
};

struct RouteTimes
{
    std::vector<RouteStop> stops;   ///< in the order of driving
    std::vector<RouteBreak> breaks; ///< those taken, in order
    double finish = 0; ///< second of arriving at the finish (or of leaving the last stop)
    double drive = 0;  ///< seconds driven, the way to the finish among them
    double driveToFinish = 0;
    double waited = 0;  ///< seconds, for windows and for breaks to begin
    double overrun = 0; ///< seconds after the shift's end
    bool hasWay = true; ///< false: some leg has no way, and times from there on are infinite

    /// Every window, every break and the shift's end are met.
    [[nodiscard]] bool isKept() const;
    /// Stops, breaks and end that are missed.
    [[nodiscard]] std::size_t misses() const;
};

/// `order` holds indices of `stops`, each at most once.
[[nodiscard]] RouteTimes timesAlong(const Matrix &seconds, const TimedShift &shift,
                                    const std::vector<TimedStop> &stops,
                                    const std::vector<std::size_t> &order);

/// When work begins for a crew that arrives then: at once inside a window and after the last one,
/// else when the next window opens.
[[nodiscard]] double beginOfWork(const TimedStop &stop, double arrive);
/// Seconds by which an arrival is after the last window.
[[nodiscard]] double secondsLate(const TimedStop &stop, double arrive);

} // namespace keyround
