// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/repair_pages.h"

#include "app/commands/repair_commands.h"
#include "app/print/page_furniture.h"
#include "core/reports/repair_sheet.h"

namespace keyround {

Status writeRepairSheets(Session &session, const std::vector<BacklogRow> &rows, const QString &path)
{
    std::vector<SheetPart> parts;
    for (const BacklogRow &row : rows) {
        const RepairSheet content =
            repairSheet(row, session.history(row.request->valve), session.shuts(),
                        session.settings().utility, session.units());
        SheetPart part;
        part.sheet.title = content.title;
        part.sheet.headerLines = QStringList{content.urgent};
        part.sheet.table.columns = {QObject::tr("What"), QObject::tr("Says")};
        for (const auto &[label, text] : content.facts) {
            part.sheet.table.rows.push_back({label, text});
        }
        part.sheet.notes = content.life;
        part.sheet.cautions << content.answerHow;
        parts.push_back(std::move(part));
    }
    return writeSheetsPdf(parts, furnitureOf(session), path);
}

} // namespace keyround
