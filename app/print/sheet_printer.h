// SPDX-License-Identifier: GPL-3.0-or-later
// Painting a sheet's content onto pages: PDF, US Letter or A4, painted page by page so that length
// costs nothing. Text stays text. Every string is drawn as plain text and wrapped, in the middle of
// a word where it must be; nothing is clipped.
#pragma once

#include "core/common/result.h"
#include "core/common/units.h"
#include "core/reports/sheet.h"

#include <QPageSize>

#include <functional>
#include <vector>

class QPainter;
class QRectF;

namespace keyround {

/// What stands at the head of every page beside the title.
struct PageFurniture
{
    QString utility;
    QString projectFile;
    QString printedWhen;
    QPageSize::PageSizeId paper = QPageSize::Letter;
};

/// Paper by custom: Letter where US units are used, A4 elsewhere.
[[nodiscard]] QPageSize::PageSizeId paperFor(UnitSystem units);

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

/// Writes the file whole or not at all.
[[nodiscard]] Status writeSheetPdf(const Sheet &sheet, const PageFurniture &furniture,
                                   const SheetPicture &picture, const QString &path);
/// Several sheets, each from a new page on, with one count of pages.
[[nodiscard]] Status writeSheetsPdf(const std::vector<SheetPart> &parts,
                                    const PageFurniture &furniture, const QString &path);

} // namespace keyround
