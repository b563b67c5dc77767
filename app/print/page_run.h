// SPDX-License-Identifier: GPL-3.0-or-later
// Pages, one after the other, with their head: what everything on paper is painted through, whether
// into a PDF or into the preview. Painted page by page, so that length costs nothing. Text stays
// text; every string is drawn as plain text and wrapped, in the middle of a word where it must be;
// nothing is clipped.
#pragma once

#include "core/common/result.h"
#include "core/common/units.h"

#include <QFont>
#include <QPageLayout>
#include <QPainter>
#include <QTextLayout>
#include <QTextOption>

#include <functional>
#include <memory>
#include <vector>

class QPagedPaintDevice;

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

/// In dots of a page: the screen's own measure, 96 to the inch, so that a map is drawn on paper as
/// it is in the window. It costs no sharpness: a PDF keeps fractions of a dot.
[[nodiscard]] double millimetres(double value);
[[nodiscard]] QFont paperFont(double points, QFont::Weight weight = QFont::Normal);
[[nodiscard]] QTextOption paperWrapping(Qt::Alignment alignment = Qt::AlignLeft);

/// Text laid out in lines of a width, to be drawn some of them at a time.
class PaperLines
{
public:
    PaperLines(const QString &text, const QFont &font, double width, QPaintDevice *device);
    [[nodiscard]] int count() const { return m_layout->lineCount(); }
    /// How many lines from `first` on find room in a height; at least none.
    [[nodiscard]] int fitting(int first, double height) const;
    [[nodiscard]] double height(int first, int count) const;
    void draw(QPainter &painter, const QPointF &at, int first, int count) const;

private:
    std::unique_ptr<QTextLayout> m_layout;
};

struct PaperOptions
{
    QPageLayout::Orientation orientation = QPageLayout::Landscape;
    bool withHead = true; ///< utility, file, page and time; customers' letters have none
};
[[nodiscard]] QPageLayout pageLayoutFor(const PageFurniture &furniture,
                                        const PaperOptions &options);

/// One run over all pages. The number of pages is known only after a run, so all is painted twice:
/// once to count, once with the count in the heads.
class PageRun
{
public:
    PageRun(QPagedPaintDevice &device, const PageFurniture &furniture, const PaperOptions &options,
            int pageCount);

    [[nodiscard]] QPainter &painter() { return m_painter; }
    [[nodiscard]] const QRectF &page() const { return m_page; }
    [[nodiscard]] int pageNumber() const { return m_pageNumber; }
    [[nodiscard]] const PageFurniture &furniture() const { return m_furniture; }
    /// What a font measures on this paper.
    [[nodiscard]] QFontMetricsF metrics(const QFont &font);

    double y = 0; ///< where the next thing stands

    void startPage(); ///< the first page needs no new one of the device
    [[nodiscard]] double left() const { return m_page.bottom() - y; }
    double heightOf(const QString &text, double width, const QFont &font);
    [[nodiscard]] PaperLines lines(const QString &text, const QFont &font, double width);
    /// Text of one font over the whole width; goes on over pages where it is longer than one.
    void paragraph(const QString &text, const QFont &font);

private:
    void paintHead();

    QPagedPaintDevice &m_device;
    const PageFurniture &m_furniture;
    PaperOptions m_options;
    int m_pageCount;
    QPainter m_painter;
    QRectF m_page;
    int m_pageNumber = 0;
};

/// One thing of several in a file: begins on a page of its own.
struct PaperPart
{
    QString name; ///< of its bookmark
    std::function<void(PageRun &)> paint;
};

struct PaperMark
{
    QString name;
    int page = 1;
};
/// Paints all parts; returns how many pages they took, and where each begins.
int paintPaper(QPagedPaintDevice &device, const std::vector<PaperPart> &parts,
               const PageFurniture &furniture, const PaperOptions &options, int pageCount,
               std::vector<PaperMark> *marks = nullptr);

/// How many pages the parts take.
[[nodiscard]] int countPages(const std::vector<PaperPart> &parts, const PageFurniture &furniture,
                             const PaperOptions &options);
/// For finding out what fits: paper that is thrown away.
void measureOnPaper(const PageFurniture &furniture, const PaperOptions &options,
                    const std::function<void(PageRun &)> &measure);

/// Writes the file whole or not at all, with bookmarks where there are several parts.
[[nodiscard]] Status writePaper(const QString &title, const std::vector<PaperPart> &parts,
                                const PageFurniture &furniture, const PaperOptions &options,
                                const QString &path);

} // namespace keyround
