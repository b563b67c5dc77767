// SPDX-License-Identifier: GPL-3.0-or-later
// Painting a sheet's content onto pages: heading, picture, table, notes, cautions; PDF, US Letter
// or A4. See page_run.h for what holds for all paper.
#pragma once

#include "app/print/page_run.h"
#include "core/reports/sheet.h"

namespace keyround {

/// A picture that fills the first page below the heading; empty: none.
using SheetPicture = std::function<void(QPainter &, const QRectF &)>;

/// One sheet of several in a file. The picture takes this share of what is left of its first page;
/// from 1 on the text begins on a page of its own.
struct SheetPart
{
    Sheet sheet;
    SheetPicture picture;
    double pictureShare = 1.0;
};

/// For painting among other parts.
[[nodiscard]] PaperPart paperOf(SheetPart part);

/// Writes the file whole or not at all.
[[nodiscard]] Status writeSheetPdf(const Sheet &sheet, const PageFurniture &furniture,
                                   const SheetPicture &picture, const QString &path);
/// Several sheets, each from a new page on, with one count of pages.
[[nodiscard]] Status writeSheetsPdf(const std::vector<SheetPart> &parts,
                                    const PageFurniture &furniture, const QString &path);

} // namespace keyround
