// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/sheet_printer.h"

#include "app/print/column_widths.h"
#include "app/shell/style.h"
#include "core/exchange/write_files.h"

#include <QBuffer>
#include <QFontMetricsF>
#include <QPageLayout>
#include <QPainter>
#include <QPdfWriter>
#include <QTextOption>

#include <algorithm>

namespace keyround {

namespace {

// The screen's own measure, so that a map is drawn on paper as it is in the window. It costs no
// sharpness: a PDF keeps fractions of a dot.
constexpr int dotsPerInch = 96;
constexpr double marginMillimetres = 12;
constexpr double penRowMillimetres = 11;
constexpr double penColumnMillimetres = 17;
constexpr double longestWordMillimetres = 22; ///< longer words are broken

double millimetres(double value)
{
    return value / 25.4 * dotsPerInch;
}

QTextOption wrapping()
{
    QTextOption option;
    option.setWrapMode(QTextOption::WrapAtWordBoundaryOrAnywhere);
    return option;
}

QFont fontOf(double points, QFont::Weight weight = QFont::Normal)
{
    QFont font(QStringLiteral("DejaVu Sans"));
    font.setPointSizeF(points);
    font.setWeight(weight);
    // Hinting would round the widths of letters to whole dots.
    font.setHintingPreference(QFont::PreferNoHinting);
    // The least spacing there is keeps letters from being joined ("ff" as one sign), so that the
    // text of a PDF can be searched as it was written.
    constexpr double leastSpacing = 1.0 / 64.0;
    font.setLetterSpacing(QFont::AbsoluteSpacing, leastSpacing);
    return font;
}

/// One run over the sheet's pages. The number of pages is known only after a run, so a sheet is
/// painted twice: once to count, once with the count in its heads.
class SheetRun
{
public:
    SheetRun(QPdfWriter &writer, const PageFurniture &furniture, int pageCount)
        : m_writer(writer), m_furniture(furniture), m_pageCount(pageCount), m_painter(&writer),
          m_page(0, 0, writer.width(), writer.height())
    {
    }

    int paint(const std::vector<SheetPart> &parts)
    {
        for (const SheetPart &part : parts) {
            if (m_pageNumber > 0) {
                m_writer.newPage();
            }
            m_sheet = part.sheet;
            paintPart(part);
        }
        return m_pageNumber;
    }

private:
    void paintPart(const SheetPart &part)
    {
        startPage();
        paragraph(m_sheet.title, fontOf(15, QFont::DemiBold));
        for (const QString &line : m_sheet.headerLines) {
            paragraph(line, fontOf(9.5));
        }
        if (part.picture) {
            paintPicture(part);
        }
        paintTable();
        paintList(QObject::tr("Notes"), m_sheet.notes);
        paintList(QObject::tr("Take care"), m_sheet.cautions);
    }

    void paintPicture(const SheetPart &part)
    {
        m_y += millimetres(2);
        m_painter.setFont(fontOf(8));
        double height = (m_page.bottom() - m_y) * part.pictureShare;
        if (part.pictureShare < 1.0) {
            height = leaveRoom(height);
        }
        part.picture(m_painter, QRectF(m_page.left(), m_y, m_page.width(), height));
        m_y += height + millimetres(2);
        if (part.pictureShare >= 1.0) {
            nextPage();
        }
    }

    /// A smaller picture where that keeps what follows on its page, down to two thirds of it.
    double leaveRoom(double height)
    {
        const double rest = m_page.bottom() - m_y - millimetres(2) - heightOfText();
        return std::clamp(rest, height * 2.0 / 3.0, height);
    }

    /// What table and lists take where they all fit on one page.
    double heightOfText()
    {
        double height = millimetres(2);
        if (!m_sheet.table.columns.isEmpty()) {
            m_widths = columnWidths();
            height += rowHeight(m_sheet.table.columns, m_headFont);
            for (const QStringList &row : m_sheet.table.rows) {
                height += std::max(leastRow(), rowHeight(row, m_cellFont));
            }
        }
        for (const QStringList &list : {m_sheet.notes, m_sheet.cautions}) {
            if (list.isEmpty()) {
                continue;
            }
            height += millimetres(3.8) + heightOf(QStringLiteral("X"), 100, m_listHeadFont);
            for (const QString &line : list) {
                height += heightOf(bullet(line), m_page.width(), m_listFont) + millimetres(0.8);
            }
        }
        return height;
    }

    double leastRow() const
    {
        return m_sheet.penColumnsFrom >= 0 ? millimetres(penRowMillimetres) : 0.0;
    }

    static QString bullet(const QString &line) { return QStringLiteral("\u2022 ") + line; }

    void startPage()
    {
        ++m_pageNumber;
        m_y = m_page.top();
        m_painter.setPen(look::quietInk);
        m_painter.setFont(fontOf(7.5));
        const QRectF head(m_page.left(), m_y, m_page.width(), millimetres(4.5));
        const QString left = QStringList{m_furniture.utility, m_furniture.projectFile}.join(
            m_furniture.utility.isEmpty() ? QString() : QStringLiteral("  -  "));
        const QFontMetricsF metrics(m_painter.font(), &m_writer);
        m_painter.drawText(head, Qt::AlignLeft,
                           metrics.elidedText(left, Qt::ElideRight, m_page.width() * 0.55));
        m_painter.drawText(head, Qt::AlignRight,
                           QObject::tr("%1   page %2 of %3")
                               .arg(m_furniture.printedWhen)
                               .arg(m_pageNumber)
                               .arg(m_pageCount));
        m_painter.drawLine(head.bottomLeft(), head.bottomRight());
        m_painter.setPen(look::ink);
        m_y = head.bottom() + millimetres(2);
    }

    void nextPage()
    {
        m_writer.newPage();
        startPage();
    }

    double heightOf(const QString &text, double width, const QFont &font)
    {
        m_painter.setFont(font);
        return m_painter.boundingRect(QRectF(0, 0, width, 1e7), text, wrapping()).height();
    }

    void paragraph(const QString &text, const QFont &font)
    {
        const double height = heightOf(text, m_page.width(), font);
        if (m_y + height > m_page.bottom()) {
            nextPage();
        }
        m_painter.setFont(font);
        m_painter.drawText(QRectF(m_page.left(), m_y, m_page.width(), height), text, wrapping());
        m_y += height + millimetres(0.8);
    }

    void paintList(const QString &heading, const QStringList &lines)
    {
        if (lines.isEmpty()) {
            return;
        }
        m_y += millimetres(3);
        paragraph(heading, m_listHeadFont);
        for (const QString &line : lines) {
            paragraph(bullet(line), m_listFont);
        }
    }

    bool isPen(int column) const
    {
        return m_sheet.penColumnsFrom >= 0 && column >= m_sheet.penColumnsFrom;
    }

    double longestWord(const QString &text, const QFontMetricsF &metrics) const
    {
        double longest = 0;
        for (const QString &word : text.split(QLatin1Char(' '))) {
            longest = std::max(longest, metrics.horizontalAdvance(word));
        }
        return longest + 2.2 * m_padding;
    }

    std::vector<double> columnWidths()
    {
        const QFontMetricsF bold(m_headFont, &m_writer);
        const QFontMetricsF plain(m_cellFont, &m_writer);
        std::vector<ColumnWish> wishes;
        for (int column = 0; column < m_sheet.table.columns.size(); ++column) {
            ColumnWish wish;
            wish.pen = isPen(column);
            wish.least = longestWord(m_sheet.table.columns.at(column), bold);
            if (wish.pen) {
                wish.least = std::max(wish.least, millimetres(penColumnMillimetres));
            }
            wish.natural = wish.least;
            for (const QStringList &row : m_sheet.table.rows) {
                const QString &cell = row.value(column);
                wish.least = std::max(wish.least, std::min(longestWord(cell, plain),
                                                           millimetres(longestWordMillimetres)));
                wish.natural =
                    std::max(wish.natural, plain.horizontalAdvance(cell) + 2.2 * m_padding);
            }
            wishes.push_back(wish);
        }
        return shareWidth(wishes, m_page.width());
    }

    double rowHeight(const QStringList &cells, const QFont &font)
    {
        double height = 0;
        for (size_t i = 0; i < m_widths.size(); ++i) {
            height = std::max(
                height, heightOf(cells.value(qsizetype(i)), m_widths[i] - 2 * m_padding, font));
        }
        return height + 2 * m_padding;
    }

    void paintRow(const QStringList &cells, const QFont &font, double height)
    {
        double x = m_page.left();
        for (size_t i = 0; i < m_widths.size(); ++i) {
            const QRectF cell(x, m_y, m_widths[i], height);
            m_painter.setPen(QPen(look::quietInk, isPen(int(i)) ? 1.0 : 0.4));
            m_painter.drawRect(cell);
            m_painter.setPen(look::ink);
            m_painter.setFont(font);
            m_painter.drawText(cell.adjusted(m_padding, m_padding, -m_padding, -m_padding),
                               cells.value(qsizetype(i)), wrapping());
            x += m_widths[i];
        }
        m_y += height;
    }

    void paintTableHead()
    {
        const double height = rowHeight(m_sheet.table.columns, m_headFont);
        m_painter.fillRect(QRectF(m_page.left(), m_y, m_page.width(), height), look::waterTint);
        paintRow(m_sheet.table.columns, m_headFont, height);
    }

    void paintTable()
    {
        if (m_sheet.table.columns.isEmpty()) {
            return;
        }
        m_widths = columnWidths();
        m_y += millimetres(2);
        paintTableHead();
        for (const QStringList &row : m_sheet.table.rows) {
            const double height = std::max(leastRow(), rowHeight(row, m_cellFont));
            if (m_y + height > m_page.bottom()) {
                nextPage();
                paintTableHead();
            }
            paintRow(row, m_cellFont, height);
        }
    }

    QPdfWriter &m_writer;
    Sheet m_sheet; ///< the one that is being painted
    const PageFurniture &m_furniture;
    int m_pageCount;
    QPainter m_painter;
    QRectF m_page;
    double m_y = 0;
    int m_pageNumber = 0;
    double m_padding = millimetres(0.8);
    QFont m_headFont = fontOf(7.5, QFont::DemiBold);
    QFont m_cellFont = fontOf(7.5);
    QFont m_listHeadFont = fontOf(10.5, QFont::DemiBold);
    QFont m_listFont = fontOf(8.5);
    std::vector<double> m_widths;
};

int paintOnce(QByteArray &bytes, const std::vector<SheetPart> &parts,
              const PageFurniture &furniture, int pageCount)
{
    bytes.clear();
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    QPdfWriter writer(&buffer);
    writer.setTitle(parts.front().sheet.title);
    writer.setCreator(QStringLiteral("Keyround"));
    writer.setResolution(dotsPerInch);
    writer.setPageLayout(QPageLayout(
        QPageSize(furniture.paper), QPageLayout::Landscape,
        QMarginsF(marginMillimetres, marginMillimetres, marginMillimetres, marginMillimetres),
        QPageLayout::Millimeter));
    return SheetRun(writer, furniture, pageCount).paint(parts);
}

} // namespace

QPageSize::PageSizeId paperFor(UnitSystem units)
{
    return units == UnitSystem::Us ? QPageSize::Letter : QPageSize::A4;
}

Status writeSheetPdf(const Sheet &sheet, const PageFurniture &furniture,
                     const SheetPicture &picture, const QString &path)
{
    return writeSheetsPdf({{sheet, picture, 1.0}}, furniture, path);
}

Status writeSheetsPdf(const std::vector<SheetPart> &parts, const PageFurniture &furniture,
                      const QString &path)
{
    if (parts.empty()) {
        return fail(ErrorCode::BadInput, QObject::tr("There is nothing to print."));
    }
    QByteArray bytes;
    const int pages = paintOnce(bytes, parts, furniture, 0);
    paintOnce(bytes, parts, furniture, pages);
    return writeWhole(path, bytes);
}

} // namespace keyround
