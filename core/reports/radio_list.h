// SPDX-License-Identifier: GPL-3.0-or-later
// The round as plain lines that can be read over the radio: whole words, one stop a line, nothing
// that only an eye can sort out. For a crew whose laptop and paper are both gone.
#pragma once

#include "core/condition/history.h"
#include "core/dayplan/plan.h"

namespace keyround {

/// "Stop 1: valve 0412, Larch Street at 3rd; 8-inch gate, closes clockwise, 24 turns; be there
/// 07:20." Breaks and waits stand where they come. A stop that the list does not hold keeps its
/// number.
[[nodiscard]] QStringList radioList(const Round &day, const DayPlan &plan,
                                    const std::vector<Valve> &valves, const Histories &histories,
                                    UnitSystem units);

} // namespace keyround
