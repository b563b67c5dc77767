// SPDX-License-Identifier: GPL-3.0-or-later
// A chart's picture on a sheet.
#pragma once

#include "app/charts/chart_picture.h"
#include "app/print/sheet_printer.h"

namespace keyround {

/// The picture is kept whole: its figures may go meanwhile.
[[nodiscard]] SheetPicture chartOnPaper(ChartPicture picture);

} // namespace keyround
