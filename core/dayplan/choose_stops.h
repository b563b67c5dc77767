// SPDX-License-Identifier: GPL-3.0-or-later
// Which stops of a due list go into the day, and in which order: a pool that is worth a table of
// ways (stop_pool.h), of which bestDay() takes the stops that earn most. Time that is left over is
// offered to the shorter ones that were not in the pool.
#pragma once

#include "core/dayplan/day_clock.h"
#include "core/dayplan/plan.h"

#include <vector>

namespace keyround {

struct ChosenDay
{
    std::vector<StopCandidate> pool; ///< the candidates that the table is of
    TravelTable table;
    TimedDay timed;
    std::vector<std::size_t> order; ///< indices of the pool
    std::vector<LeftOut> leftOut;   ///< all that were not taken
};

/// All candidates have places, and nothing bars them. Stops held by hand must be must-go. An error
/// when cancelled.
[[nodiscard]] Result<ChosenDay> chooseStops(const DriveGraph &graph, const Round &day,
                                            const std::vector<StopCandidate> &candidates,
                                            const TravelSettings &settings,
                                            const Progress &progress);

/// The places of a day, as DayPlaces numbers them.
[[nodiscard]] std::vector<GeoPoint> placesOf(const Round &day,
                                             const std::vector<StopCandidate> &stops);

/// The best order of all these stops: within their hours and breaks where that can be, then ending
/// earliest; what is held by hand stays.
[[nodiscard]] std::vector<std::size_t> bestOrderOfDay(const Round &day, const TimedDay &timed,
                                                      const std::vector<StopCandidate> &stops,
                                                      const TravelTable &table);

} // namespace keyround
