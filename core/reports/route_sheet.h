// SPDX-License-Identifier: GPL-3.0-or-later
// The day on paper, in case the laptop fails: the stops in their order, what is known of each
// valve, and room for the pen.
#pragma once

#include "core/condition/history.h"
#include "core/dayplan/plan.h"
#include "core/dayplan/round.h"
#include "core/reports/sheet.h"

namespace keyround {

/// A stop a row, and a break a row of its own where it is taken. A valve that the plan names but
/// the list does not hold keeps its row and stands as "not in the list", so that the sheet's
/// numbering is the plan's.
[[nodiscard]] Sheet routeSheet(const Round &day, const DayPlan &plan,
                               const std::vector<Valve> &valves, const Histories &histories,
                               const QString &utility, UnitSystem units);

} // namespace keyround
