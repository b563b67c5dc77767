// SPDX-License-Identifier: GPL-3.0-or-later
// Orders units in their windows by dynamic programming over sets of them (Dumas, Desrosiers,
// Gelinas and Solomon 1995), of which each level keeps only the most promising states. Where none
// had to be given up the order is the best there is.
#pragma once

#include "core/routing/day_route.h"
#include "core/routing/day_units.h"

#include <functional>
#include <vector>

namespace keyround {

struct BeamOrder
{
    std::vector<std::uint32_t> route; ///< empty when none was found
    bool isExact = false;             ///< no state was given up: the best, or none, there is
};

/// `width` states a level; `byTime` prefers the early ones to those that cost little. `goesOn` is
/// asked once a level.
[[nodiscard]] BeamOrder beamOrder(const DayUnits &units, const std::vector<std::uint32_t> &all,
                                  DayObjective objective, std::size_t width, bool byTime,
                                  const std::function<bool()> &goesOn);

/// The most prize, then the least cost, from all units; for few of them, since every state is kept.
[[nodiscard]] BeamOrder bestSelection(const DayUnits &units, DayObjective objective,
                                      const std::function<bool()> &goesOn);

} // namespace keyround
