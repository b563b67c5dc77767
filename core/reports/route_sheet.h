// SPDX-License-Identifier: GPL-3.0-or-later
// The day on paper, in case the laptop fails: the stops in their order, what is known of each
// valve, and room for the pen.
#pragma once

#include "core/condition/history.h"
#include "core/dayplan/plan.h"
#include "core/dayplan/round.h"
#include "core/reports/sheet.h"

namespace keyround {

/// What else is known of a stop on its day, one line each; empty where there is nothing to say.
struct StopExtras
{
    QString setUp; ///< "application 18: 11 cones, 4 signs, no flaggers"
    QString told;  ///< who loses water, and whether they were told
};
using StopExtrasById = QHash<ValveId, StopExtras>;

/// What the crew must know before they set the key: hours, critical customers, how it was last
/// left, its condition and problems, remarks; one thing each.
[[nodiscard]] QStringList stopWarnings(const PlannedStop &stop, const Valve &valve,
                                       const ValveHistory &history);

/// A stop a row, and a break a row of its own where it is taken. A valve that the plan names but
/// the list does not hold keeps its row and stands as "not in the list", so that the sheet's
/// numbering is the plan's.
[[nodiscard]] Sheet routeSheet(const Round &day, const DayPlan &plan,
                               const std::vector<Valve> &valves, const Histories &histories,
                               const QString &utility, UnitSystem units,
                               const StopExtrasById &extras = {});

} // namespace keyround
