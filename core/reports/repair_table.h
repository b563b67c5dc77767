// SPDX-License-Identifier: GPL-3.0-or-later
// Repair requests as a table and as JSON: what a department takes into whatever it uses, with empty
// columns for its answer, and comes back by number (exchange/read_answers.h).
#pragma once

#include "core/repairs/backlog.h"
#include "core/reports/table.h"

#include <QJsonObject>

namespace keyround {

/// One row a request, in the given order. The headings are keys that do not change.
[[nodiscard]] ReportTable repairTable(const std::vector<BacklogRow> &rows, UnitSystem units);

/// The same, and the whole life: {"requests": [...], "open", "overdue", "to_prove"}.
[[nodiscard]] QJsonObject repairJson(const std::vector<BacklogRow> &rows, UnitSystem units);

/// What was sent: number, valve, when, to whom, how, by whom; newest first.
[[nodiscard]] ReportTable sentTable(const RepairBook &book, const std::vector<Valve> &valves);

/// "opened, seen 2026-05-03: Lid missing or broken", "done on 2026-05-04 by Crew R: new lid": one
/// step of a life.
[[nodiscard]] QString lifeWords(const RepairEvent &event);

} // namespace keyround
