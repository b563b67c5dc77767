// SPDX-License-Identifier: GPL-3.0-or-later
// What a planner holds by hand of a round's order, as indices of the candidates that the searches
// work on: stretches that stay together, and the stops pinned first and last.
#pragma once

#include "core/dayplan/plan.h"
#include "core/routing/stop_order.h"

#include <optional>
#include <vector>

namespace keyround {

struct HeldStops
{
    std::vector<std::vector<std::size_t>> stretches; ///< of two stops and more
    std::optional<std::size_t> first;
    std::optional<std::size_t> last;
};

/// Stops of the round that are not among the candidates are passed over, and end a stretch.
[[nodiscard]] HeldStops heldStops(const Round &day, const std::vector<StopCandidate> &candidates);

/// The valves that are held in one way or another.
[[nodiscard]] QSet<ValveId> heldValves(const Round &day);

/// What to ask for the order of `stops` (indices of the candidates) without clock and hours, on a
/// table with the places of DayPlaces. A stretch is held where all of it is among the stops.
[[nodiscard]] OrderRequest orderRequestFor(const HeldStops &held,
                                           const std::vector<std::size_t> &stops);

} // namespace keyround
