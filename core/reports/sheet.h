// SPDX-License-Identifier: GPL-3.0-or-later
// What a printed sheet says, as plain text; fonts, pages and printers are the app's business.
#pragma once

#include "core/reports/table.h"

namespace keyround {

struct Sheet
{
    QString title;
    QStringList headerLines; ///< below the title: date, crew, shift, what the day comes to
    ReportTable table;
    int penColumnsFrom = -1; ///< the columns from here on are left empty for the pen; -1: none
    QStringList notes;       ///< below the table: what the reader must know of this very day
    QStringList cautions;    ///< on every page or at the end: safety, and whose rules come first
};

/// The cautions that every sheet for the field carries (common practice, no source).
[[nodiscard]] QStringList fieldCautions();

} // namespace keyround
