// SPDX-License-Identifier: GPL-3.0-or-later
// The Office's figures as tables of plain text: for CSV, for the table that a screen reader takes
// in the place of a picture, and for the board report. Headings are words with their units; numbers
// carry no thousands separators.
#pragma once

#include "core/condition/ageing.h"
#include "core/condition/changes.h"
#include "core/condition/condition_bands.h"
#include "core/condition/fleet_turns.h"
#include "core/reports/table.h"
#include "core/schedule/outlook.h"
#include "core/schedule/pace.h"
#include "core/schedule/what_next.h"

namespace keyround {

/// The table with what was counted in its title and beside every row, so that no row travels
/// without it; unchanged where all valves were.
[[nodiscard]] ReportTable counted(ReportTable table, const QString &filterWords);

/// One row a year and group: year, what, valves, target, inspected, full cycles, share of target.
[[nodiscard]] ReportTable paceTable(const Pace &pace);
/// One row a year: crew-days, visits, valves a day.
[[nodiscard]] ReportTable crewDayTable(const Pace &pace);
/// One row a kind: visits, median minutes and quartiles.
[[nodiscard]] ReportTable minutesTable(const Pace &pace);
/// One row a period: counts by condition, visited, serviceable, share, interval, which it is,
/// limits, whether it stands out.
[[nodiscard]] ReportTable conditionOverTimeTable(const ConditionOverTime &figure);
/// One row a period: went out, restored, out at the end.
[[nodiscard]] ReportTable changePeriodTable(const ConditionChanges &figure);
/// One row a change: valve, what, where, date, kind, from, to, what the visit found.
[[nodiscard]] ReportTable changeTable(const ConditionChanges &figure,
                                      const std::vector<Valve> &valves, const Histories &histories,
                                      UnitSystem units);
/// One row a box of each group's curve: from, to, share that holds after, band, numbers at risk;
/// a group without a curve has one row that says why.
[[nodiscard]] ReportTable ageingTable(const Ageing &figure);
/// One row a group, of the valves that its reading counts: failed, half out by, could be, reading.
[[nodiscard]] ReportTable ageingReadings(const Ageing &figure);
/// One row a count of one valve.
[[nodiscard]] ReportTable valveTurnsTable(const ValveTurns &figure);
/// One row a group: counts, centre, limits.
[[nodiscard]] ReportTable turnsGroupTable(const FleetTurns &figure);
/// One row a valve that drifts.
[[nodiscard]] ReportTable driftTable(const FleetTurns &figure, const std::vector<Valve> &valves,
                                     UnitSystem units);
/// One row an entry: valve, what, where, state, chance, services more, risk, why.
[[nodiscard]] ReportTable whatNextTable(const std::vector<RiskEntry> &entries,
                                        const std::vector<Valve> &valves, UnitSystem units);
/// One row a plan and year.
[[nodiscard]] ReportTable outlookTable(const Outlook &figure);

} // namespace keyround
