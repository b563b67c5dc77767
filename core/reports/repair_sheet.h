// SPDX-License-Identifier: GPL-3.0-or-later
// What a repair request says on paper: one sheet a request, with boxes for the answer.
#pragma once

#include "core/condition/history.h"
#include "core/fieldlog/shut_log.h"
#include "core/repairs/backlog.h"
#include "core/reports/table.h"

#include <utility>

namespace keyround {

struct RepairSheet
{
    QString title;  ///< "Repair request R26-4K7M-Q2TX"
    QString urgent; ///< "URGENT, for Valves": how urgent, and for which department
    std::vector<std::pair<QString, QString>> facts; ///< label and text, empty ones left out
    ReportTable evidence;                           ///< one row a visit or shut that showed it
    QStringList life;                               ///< steps, oldest first
    QStringList boxes; ///< labels of the boxes that the department fills in
    QString answerHow; ///< how an answer comes back
};

[[nodiscard]] RepairSheet repairSheet(const BacklogRow &row, const ValveHistory &history,
                                      const std::vector<ShutLog> &shuts, const QString &utility,
                                      UnitSystem units);

/// All of it as plain text, for copying and for the console.
[[nodiscard]] QString textOf(const RepairSheet &sheet);

} // namespace keyround
