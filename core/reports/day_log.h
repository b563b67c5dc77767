// SPDX-License-Identifier: GPL-3.0-or-later
// What was done on a round: one row a visit, as it was judged, and what the day came to.
#pragma once

#include "core/condition/history.h"
#include "core/dayplan/outcome.h"
#include "core/reports/sheet.h"

namespace keyround {

/// Rows by arrival. The turns are those of the longest pass each way; a stop worked back and forth
/// shows all its passes in a column of their own. Stops not done stand in the notes.
[[nodiscard]] Sheet dayLog(const Round &round, const std::vector<Valve> &valves,
                           const Histories &histories, const QString &utility, UnitSystem units);

} // namespace keyround
