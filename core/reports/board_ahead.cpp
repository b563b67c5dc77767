// SPDX-License-Identifier: GPL-3.0-or-later
// The board report's last pages: whose counts drift, where it will hurt next, what more or less
// work would do. They are told as known on the day of the report, whatever time it is about.
#include "core/reports/board_pages.h"
#include "core/reports/review_tables.h"

#include <algorithm>

namespace keyround {

namespace {

constexpr std::size_t mostRows = 25; // what a board reads, and one page holds

/// The first rows; says how many more there are.
void takeRows(Sheet &sheet, ReportTable table)
{
    const std::size_t all = table.rows.size();
    table.rows.resize(std::min(all, mostRows));
    sheet.table = std::move(table);
    if (all > mostRows) {
        sheet.notes << QStringLiteral("The first %1 of %2.").arg(mostRows).arg(all);
    }
}

/// The list without its last columns: the reasons, which a board asks for where it wants them.
ReportTable withoutReasons(ReportTable table)
{
    constexpr qsizetype reasons = 2;
    table.columns.resize(table.columns.size() - reasons);
    for (QStringList &row : table.rows) {
        row.resize(table.columns.size());
    }
    return table;
}

/// Of each plan, how it stands today and after the last year.
ReportTable endsOnly(ReportTable table)
{
    constexpr qsizetype day = 1;
    if (!table.rows.empty()) {
        const QString first = table.rows.front()[day];
        const QString last = table.rows.back()[day];
        std::erase_if(table.rows, [&](const QStringList &row) {
            return row[day] != first && row[day] != last;
        });
    }
    return table;
}

QString knownOn(const BoardFigures &figures)
{
    return QStringLiteral("As known on %1.").arg(boardDay(figures.today));
}

} // namespace

BoardPage boardDriftPage(const BoardFigures &figures, const std::vector<Valve> &valves)
{
    BoardPage page =
        boardPage(figures, QStringLiteral("Valves whose counts drift"), BoardPicture::None);
    page.sheet.headerLines << figures.turns.sentence;
    takeRows(page.sheet, driftTable(figures.turns, valves, figures.units));
    return page;
}

BoardPage boardRiskPage(const BoardFigures &figures, const std::vector<Valve> &valves)
{
    BoardPage page =
        boardPage(figures, QStringLiteral("Where it will hurt next"), BoardPicture::WhatNext);
    page.sheet.headerLines << knownOn(figures) + QLatin1Char(' ') + whatNextSentence(figures.next);
    takeRows(page.sheet, withoutReasons(whatNextTable(figures.next, valves, figures.units)));
    page.sheet.cautions << QStringLiteral(
        "The chance is reckoned from like valves, not seen. Services are told by how the mains "
        "connect, not by pressure: confirm on the ground.");
    return page;
}

BoardPage boardOutlookPage(const BoardFigures &figures)
{
    BoardPage page = boardPage(figures, QStringLiteral("What more or less work would do"),
                               BoardPicture::Outlook);
    page.sheet.headerLines << knownOn(figures) + QLatin1Char(' ') + figures.outlook.sentence;
    page.sheet.table = endsOnly(outlookTable(figures.outlook));
    page.sheet.cautions << figures.outlook.caution;
    return page;
}

} // namespace keyround
