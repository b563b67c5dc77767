// SPDX-License-Identifier: GPL-3.0-or-later
// Orders units that all must be visited so that the fewest seconds are late: after last windows,
// after the latest second of breaks, after the shift's end. Where 0 is reached the order keeps
// everything. A local search (relocation of stretches, and kicks), not an exact method.
#pragma once

#include "core/routing/day_effort.h"
#include "core/routing/day_units.h"
#include "core/routing/dice.h"

namespace keyround {

/// The shift's breaks and end are needed beside the units, which count what is kept only.
[[nodiscard]] std::vector<std::uint32_t>
leastLateOrder(const DayUnits &units, const std::vector<TimedStop> &stops, const TimedShift &shift,
               std::vector<std::uint32_t> order, DayEffort &effort, std::uint64_t seed);

} // namespace keyround
