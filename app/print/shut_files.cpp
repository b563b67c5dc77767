// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/shut_files.h"

#include "app/print/page_furniture.h"
#include "core/exchange/write_files.h"
#include "core/reports/shut_sheet.h"

namespace keyround {

namespace {

Sheet sheetOf(Session &session, const ShutPlan &plan)
{
    return shutSheet(session.network().network, plan, session.valves(), session.settings().utility,
                     session.units());
}

} // namespace

Status writeShutSheet(Session &session, const ShutPlan &plan, const QString &path)
{
    return writeSheetPdf(sheetOf(session, plan), furnitureOf(session), {}, path);
}

Status writeShutCsv(Session &session, const ShutPlan &plan, const QString &path)
{
    const ReportTable table = sheetOf(session, plan).table;
    return writeCsv(path, {table.columns, {table.rows.begin(), table.rows.end()}});
}

} // namespace keyround
