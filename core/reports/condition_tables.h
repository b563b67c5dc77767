// SPDX-License-Identifier: GPL-3.0-or-later
// The Office's figures as tables: condition by period, valves that went out of condition, the due
// list. CSV and paper take the same table.
#pragma once

#include "core/condition/changes.h"
#include "core/reports/table.h"
#include "core/schedule/due.h"

namespace keyround {

/// period, serviceable, defect, does_not_shut, does_not_turn, cannot_reach, never_visited: the
/// keys of files, so that a script reads the same names in CSV and JSON.
[[nodiscard]] ReportTable conditionTable(const std::vector<PeriodCounts> &series);

/// One row a change: valve, what it is, date, from, to, what the visit found.
[[nodiscard]] ReportTable wentOutTable(const std::vector<ConditionChange> &changes,
                                       const std::vector<Valve> &valves, const Histories &histories,
                                       UnitSystem units);

/// What the map of a period shows: one row a valve that was out of condition at its end (those that
/// went out in it first), and then those that came back in it and held at its end. The period is an
/// index in the figure's; no row where there is none.
[[nodiscard]] ReportTable outInPeriodTable(const ConditionChanges &figure, std::size_t period,
                                           const std::vector<Valve> &valves,
                                           const Histories &histories, UnitSystem units);

/// One row an entry, in the list's order: valve, what and where it is, state, due on, why.
[[nodiscard]] ReportTable dueTable(const std::vector<DueEntry> &entries,
                                   const std::vector<Valve> &valves, UnitSystem units);

} // namespace keyround
