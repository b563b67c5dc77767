// SPDX-License-Identifier: GPL-3.0-or-later
// Answers to repair requests from a table (CSV, XLSX, ODS): the file that was sent, filled in, or
// the department's own with a column for the number. Reading changes nothing.
#pragma once

#include "core/common/result.h"
#include "core/inventory/value_parsers.h"
#include "core/repairs/repair_answers.h"

namespace keyround {

/// Columns are found by their headings: number (request), answer (status), date, by, work; and of a
/// new valve install year, turns, size, type. Errors: no file, no table, no column of numbers or of
/// answers, dates that can be read two ways and no order given.
[[nodiscard]] Result<std::vector<RepairAnswer>>
readRepairAnswers(const QString &path, std::optional<DateOrder> dateOrder = {});

} // namespace keyround
