// SPDX-License-Identifier: GPL-3.0-or-later
// Which stops of a pool go into the day: by priority while the day still fits the shift with the
// best order found, then whatever still fits once the order is at its best. A stop of higher
// priority is never given up for others.
#pragma once

#include "core/dayplan/plan.h"

#include <optional>

namespace keyround {

struct Choice
{
    std::vector<std::size_t> order; ///< indices of the candidates chosen, in driving order
    double seconds = 0;             ///< the whole day, driving and stops
};

/// The first `kept` of the pool are in the day already, in this order, and stay; the others follow
/// by priority, highest first. The place of candidate i is `DayPlaces::firstStop + i` in the table.
/// Empty when the watcher cancelled.
[[nodiscard]] std::optional<Choice> chooseStops(const TravelTable &table,
                                                const std::vector<StopCandidate> &pool,
                                                std::size_t kept, double shiftSeconds,
                                                const Progress &progress);

/// The seconds by which a day grows with one more stop, put where it costs least.
[[nodiscard]] double insertionSeconds(const TravelTable &table,
                                      const std::vector<StopCandidate> &pool,
                                      const std::vector<std::size_t> &order, std::size_t candidate);

} // namespace keyround
