// SPDX-License-Identifier: GPL-3.0-or-later
// What a day comes to, in one sentence.
#pragma once

#include "core/common/units.h"
#include "core/dayplan/plan.h"

namespace keyround {

/// "34 stops · 2 h 05 driving, 31.2 mi by streets; no order can take less than 2 h 03 · 20 min
/// waiting · back at 15:12, 18 min before the shift ends".
[[nodiscard]] QString daySentence(const DayPlan &plan, const Round &round, UnitSystem units);
/// Minutes from the finish to the shift's end; below 0: past it.
[[nodiscard]] double minutesLeft(const DayPlan &plan, const Round &round);

} // namespace keyround
