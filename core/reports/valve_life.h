// SPDX-License-Identifier: GPL-3.0-or-later
// One valve's whole life in words: what is known of it now, its lives in the ground, what was
// found, its repair requests, every visit. The screen, the paper and the CSV say the same.
#pragma once

#include "core/condition/history.h"
#include "core/repairs/repair_book.h"
#include "core/reports/sheet.h"
#include "core/schedule/due.h"

namespace keyround {

/// "Condition now": "does not turn", "since 2024-05-03".
struct LifeFact
{
    QString heading;
    QStringList lines; ///< at least one
};

/// `due` may be null: the valve is not on the due list.
[[nodiscard]] std::vector<LifeFact> valveLifeFacts(const Valve &valve, const ValveHistory &history,
                                                   const DueEntry *due, const RepairBook &repairs);

/// One row a visit, newest first: valve, life (1 is the first valve of that number), date, crew,
/// passes, count, judgement, baseline, full cycle, condition after it, how it was found and left,
/// problems, remarks, who recorded it.
[[nodiscard]] ReportTable visitsTable(const Valve &valve, const ValveHistory &history);

/// All of it on paper; the table without what is the same in every row.
[[nodiscard]] Sheet valveLifeSheet(const Valve &valve, const ValveHistory &history,
                                   const std::vector<LifeFact> &facts, const QDate &today,
                                   UnitSystem units);

} // namespace keyround
