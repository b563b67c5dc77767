// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/sheet_printer.h"

#include "app/print/column_widths.h"
#include "app/shell/style.h"

#include <QFontMetricsF>
#include <QPainter>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

constexpr double penRowMillimetres = 11;
constexpr double penColumnMillimetres = 17;
constexpr double widestPenHeadingMillimetres = 34;
constexpr double longestWordMillimetres = 22; ///< longer words are broken

QString bullet(const QString &line)
{
    return QStringLiteral("\u2022 ") + line;
}

/// One sheet on as many pages as it takes; its first one is begun.
class SheetPainting
{
public:
    SheetPainting(PageRun &run, const SheetPart &part)
        : m_run(run), m_part(part), m_sheet(part.sheet), m_painter(run.painter()),
          m_page(run.page())
    {
    }

    void paint()
    {
        m_run.paragraph(m_sheet.title, paperFont(15, QFont::DemiBold));
        for (const QString &line : m_sheet.headerLines) {
            m_run.paragraph(line, paperFont(9.5));
        }
        if (m_part.picture) {
            paintPicture();
        }
        paintTable();
        paintList(QObject::tr("Notes"), m_sheet.notes);
        paintList(QObject::tr("Take care"), m_sheet.cautions);
    }

private:
    void paintPicture()
    {
        m_run.y += millimetres(2);
        double height = m_run.left() * m_part.pictureShare;
        if (m_part.pictureShare < 1.0) {
            height = leaveRoom(height);
        }
        m_painter.setFont(paperFont(8));
        m_part.picture(m_painter, QRectF(m_page.left(), m_run.y, m_page.width(), height));
        m_run.y += height + millimetres(2);
        if (m_part.pictureShare >= 1.0) {
            m_run.startPage();
        }
    }

    /// A smaller picture where that keeps what follows on its page, down to two thirds of it.
    double leaveRoom(double height)
    {
        const double rest = m_run.left() - millimetres(2) - heightOfText();
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
            height += millimetres(3.8) + m_run.heightOf(QStringLiteral("X"), 100, m_listHeadFont);
            for (const QString &line : list) {
                height +=
                    m_run.heightOf(bullet(line), m_page.width(), m_listFont) + millimetres(0.8);
            }
        }
        return height;
    }

    [[nodiscard]] double leastRow() const
    {
        return m_sheet.penColumnsFrom >= 0 ? millimetres(penRowMillimetres) : 0.0;
    }

    void paintList(const QString &heading, const QStringList &lines)
    {
        if (lines.isEmpty()) {
            return;
        }
        m_run.y += millimetres(3);
        m_run.paragraph(heading, m_listHeadFont);
        for (const QString &line : lines) {
            m_run.paragraph(bullet(line), m_listFont);
        }
    }

    [[nodiscard]] bool isPen(int column) const
    {
        return m_sheet.penColumnsFrom >= 0 && column >= m_sheet.penColumnsFrom;
    }

    [[nodiscard]] double longestWord(const QString &text, const QFontMetricsF &metrics) const
    {
        double longest = 0;
        for (const QString &word : text.split(QLatin1Char(' '))) {
            longest = std::max(longest, metrics.horizontalAdvance(word));
        }
        return longest + 2.2 * m_padding;
    }

    std::vector<double> columnWidths()
    {
        const QFontMetricsF bold = m_run.metrics(m_headFont);
        const QFontMetricsF plain = m_run.metrics(m_cellFont);
        std::vector<ColumnWish> wishes;
        for (int column = 0; column < m_sheet.table.columns.size(); ++column) {
            ColumnWish wish;
            wish.pen = isPen(column);
            wish.least = longestWord(m_sheet.table.columns.at(column), bold);
            if (wish.pen) { // room for its heading in a line is room for the hand
                const double heading =
                    bold.horizontalAdvance(m_sheet.table.columns.at(column)) + 2.2 * m_padding;
                wish.least =
                    std::max({wish.least, millimetres(penColumnMillimetres),
                              std::min(heading, millimetres(widestPenHeadingMillimetres))});
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
            height = std::max(height, m_run.heightOf(cells.value(qsizetype(i)),
                                                     m_widths[i] - 2 * m_padding, font));
        }
        return height + 2 * m_padding;
    }

    void paintFrame(const QRectF &cell, int column)
    {
        m_painter.setPen(QPen(look::quietInk, isPen(column) ? 1.0 : 0.4));
        m_painter.drawRect(cell);
        m_painter.setPen(look::ink);
    }

    void paintRow(const QStringList &cells, const QFont &font, double height)
    {
        double x = m_page.left();
        for (size_t i = 0; i < m_widths.size(); ++i) {
            const QRectF cell(x, m_run.y, m_widths[i], height);
            paintFrame(cell, int(i));
            m_painter.setFont(font);
            m_painter.drawText(cell.adjusted(m_padding, m_padding, -m_padding, -m_padding),
                               cells.value(qsizetype(i)), paperWrapping());
            x += m_widths[i];
        }
        m_run.y += height;
    }

    /// A row that is higher than a page goes on over as many as it takes.
    void paintLongRow(const QStringList &cells)
    {
        std::vector<PaperLines> texts;
        int most = 0;
        for (size_t i = 0; i < m_widths.size(); ++i) {
            texts.push_back(
                m_run.lines(cells.value(qsizetype(i)), m_cellFont, m_widths[i] - 2 * m_padding));
            most = std::max(most, texts.back().count());
        }
        for (int first = 0; first < most;) {
            int fits = most;
            double height = 0;
            for (const PaperLines &text : texts) {
                if (first < text.count()) {
                    const int room = text.fitting(first, m_run.left() - 2 * m_padding);
                    fits = first + room < text.count() ? std::min(fits, std::max(1, room)) : fits;
                }
            }
            for (const PaperLines &text : texts) {
                height = std::max(height, text.height(first, fits));
            }
            double x = m_page.left();
            for (size_t i = 0; i < m_widths.size(); ++i) {
                paintFrame(QRectF(x, m_run.y, m_widths[i], height + 2 * m_padding), int(i));
                texts[i].draw(m_painter, {x + m_padding, m_run.y + m_padding}, first, fits);
                x += m_widths[i];
            }
            m_run.y += height + 2 * m_padding;
            first += fits;
            if (first < most) {
                m_run.startPage();
                paintTableHead();
            }
        }
    }

    void paintTableHead()
    {
        const double height = rowHeight(m_sheet.table.columns, m_headFont);
        m_painter.fillRect(QRectF(m_page.left(), m_run.y, m_page.width(), height), look::waterTint);
        paintRow(m_sheet.table.columns, m_headFont, height);
    }

    void paintTable()
    {
        if (m_sheet.table.columns.isEmpty()) {
            return;
        }
        m_widths = columnWidths();
        m_run.y += millimetres(2);
        paintTableHead();
        for (const QStringList &row : m_sheet.table.rows) {
            const double height = std::max(leastRow(), rowHeight(row, m_cellFont));
            if (height > m_run.left()) {
                m_run.startPage();
                paintTableHead();
            }
            if (height > m_run.left()) {
                paintLongRow(row);
            } else {
                paintRow(row, m_cellFont, height);
            }
        }
    }

    PageRun &m_run;
    const SheetPart &m_part;
    const Sheet &m_sheet;
    QPainter &m_painter;
    QRectF m_page;
    double m_padding = millimetres(0.8);
    QFont m_headFont = paperFont(7.5, QFont::DemiBold);
    QFont m_cellFont = paperFont(7.5);
    QFont m_listHeadFont = paperFont(10.5, QFont::DemiBold);
    QFont m_listFont = paperFont(8.5);
    std::vector<double> m_widths;
};

} // namespace

PaperPart paperOf(SheetPart part)
{
    QString name = part.sheet.title;
    return {std::move(name),
            [part = std::move(part)](PageRun &run) { SheetPainting(run, part).paint(); }};
}

Status writeSheetPdf(const Sheet &sheet, const PageFurniture &furniture,
                     const SheetPicture &picture, const QString &path)
{
    return writeSheetsPdf({{sheet, picture, 1.0}}, furniture, path);
}

Status writeSheetsPdf(const std::vector<SheetPart> &parts, const PageFurniture &furniture,
                      const QString &path)
{
    std::vector<PaperPart> paper;
    for (const SheetPart &part : parts) {
        paper.push_back(paperOf(part));
    }
    return writePaper(parts.empty() ? QString() : parts.front().sheet.title, paper, furniture, {},
                      path);
}

} // namespace keyround
