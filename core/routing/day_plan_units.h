// SPDX-License-Identifier: GPL-3.0-or-later
// From a day's task to the units that its search is given: stops that no day could hold are set
// aside, locked stretches become one unit, must-go stops are made worth more than all others.
#pragma once

#include "core/routing/day_route.h"
#include "core/routing/day_units.h"

namespace keyround {

struct PlanUnits
{
    std::vector<TimedStop> stops; ///< as they are planned: windows that must be missed are gone
    TimedShift shift;
    std::vector<DayUnit> units;
    std::vector<std::size_t> aside; ///< stops that are in no unit
    std::vector<char> hasWay;       ///< for each stop
};

[[nodiscard]] PlanUnits planUnits(const Matrix &seconds, const DayTask &task);

} // namespace keyround
