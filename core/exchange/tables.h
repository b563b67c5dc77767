// SPDX-License-Identifier: GPL-3.0-or-later
// Whole tables in and out: a table that writeCsv() or writeXlsx() wrote comes back unchanged.
#pragma once

#include "core/exchange/write_files.h"

namespace keyround {

/// The first table of a CSV, XLSX or ODS file, every cell as text.
[[nodiscard]] Result<CsvTable> readTable(const QString &path);

/// One sheet with every cell as text, so that a spreadsheet turns no number into another; the same
/// guard against formulas as in CSV. Headings must differ. Written whole or not at all.
[[nodiscard]] Status writeXlsx(const QString &path, const CsvTable &table,
                               const QString &sheetName);

/// By the ending of the path: .xlsx, else CSV.
[[nodiscard]] Status writeTable(const QString &path, const CsvTable &table,
                                const QString &sheetName);

} // namespace keyround
