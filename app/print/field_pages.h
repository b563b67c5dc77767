// SPDX-License-Identifier: GPL-3.0-or-later
// Field sheets on paper: two stops to a page, each with what is known at the left and large boxes
// for the pen, numbered in the order in which they are typed in.
#pragma once

#include "app/print/page_run.h"
#include "core/reports/field_sheet.h"

namespace keyround {

/// The cautions stand on the first page, by themselves.
[[nodiscard]] PaperPart paperOf(FieldSheet sheet);

} // namespace keyround
