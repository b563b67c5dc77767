// SPDX-License-Identifier: GPL-3.0-or-later
// The vocabulary of routes that have a clock: a task of places with seconds between them, stops
// that take time, earn priority and may be begun only in their windows, and breaks. All times are
// seconds from a zero of the caller's choice (the day plan uses midnight). Knows nothing of valves.
//
// Rules of the clock
//  - The route leaves the start at the task's begin and must be at its finish by the task's end.
//  - Work at a stop begins in one of its windows; whoever comes early waits there. Windows say when
//    work may begin; a caller that must keep work itself out of some hours shortens them first.
//  - A break is taken between stops, where the crew is: after a stop's work (or at the start),
//    before driving on. It begins between its earliest and its latest second. Each is taken once;
//    breaks whose earliest second comes when the route is already at its finish fall away.
#pragma once

#include "core/routing/matrix.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace keyround {

/// Seconds at which work may begin, both ends included.
struct TimeWindow
{
    double from = 0;
    double to = unreachable;
    friend bool operator==(const TimeWindow &, const TimeWindow &) = default;
};

struct TimedBreak
{
    double earliest = 0;
    double latest = unreachable;
    double seconds = 0;
};

struct TimedStop
{
    std::size_t place = 0;           ///< index in the matrix
    double service = 0;              ///< seconds on site
    double priority = 0;             ///< earned when it is visited; not negative
    bool mustGo = false;             ///< is never given up for another stop
    std::vector<TimeWindow> windows; ///< in order, apart from each other; empty: at any time
};

/// Seconds from the shift's begin to its end, and the places where it begins and ends.
struct TimedShift
{
    std::size_t start = 0;
    std::optional<std::size_t> finish; ///< empty: ends at its last stop
    double begin = 0;
    double end = unreachable;
    std::vector<TimedBreak> breaks; ///< in the order in which they are taken
};

} // namespace keyround
