// SPDX-License-Identifier: GPL-3.0-or-later
// Why stops are not in a day, and what would let them in.
#pragma once

#include "core/routing/day_plan_units.h"

namespace keyround {

/// Causes for the units that are not among `route` (units in the order of driving), and for the
/// stops that are in no unit; by the task's order of stops.
[[nodiscard]] std::vector<LeftOutStop> leftOutStops(const Matrix &seconds, const DayTask &task,
                                                    const PlanUnits &plan,
                                                    const std::vector<std::uint32_t> &route);

} // namespace keyround
