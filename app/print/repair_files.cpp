// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/repair_files.h"

#include "app/commands/repair_commands.h"
#include "app/print/repair_pages.h"
#include "core/exchange/tables.h"
#include "core/reports/repair_table.h"

#include <QFileInfo>
#include <QJsonDocument>

#include <algorithm>

namespace keyround {

namespace {

QString endingOf(const QString &path)
{
    return QFileInfo(path).suffix().toLower();
}

} // namespace

Status writeRepairs(Session &session, const std::vector<BacklogRow> &rows, const QString &path)
{
    const QString ending = endingOf(path);
    if (ending == QLatin1String("pdf")) {
        return writeRepairSheets(session, rows, path);
    }
    if (ending == QLatin1String("json")) {
        return writeWhole(path, QJsonDocument(repairJson(rows, session.units())).toJson());
    }
    if (ending == QLatin1String("csv") || ending == QLatin1String("xlsx")) {
        const ReportTable table = repairTable(rows, session.units());
        return writeTable(path, {table.columns, {table.rows.begin(), table.rows.end()}},
                          QStringLiteral("repairs"));
    }
    return fail(ErrorCode::BadInput,
                QObject::tr("\"%1\" ends in no kind of file that requests are sent as. End it in "
                            ".pdf, .csv, .xlsx or .json.")
                    .arg(path));
}

Status sendRepairs(Session &session, const std::vector<RequestId> &requests, const QString &to,
                   const QString &path)
{
    if (requests.empty()) {
        return fail(ErrorCode::NotFound,
                    QObject::tr("No request was chosen. Choose those that are to be sent."));
    }
    if (to.trimmed().isEmpty()) {
        return fail(ErrorCode::BadInput, QObject::tr("Say whom the requests go to."));
    }
    std::vector<BacklogRow> rows = backlogOf(session);
    std::erase_if(rows, [&requests](const BacklogRow &row) {
        return std::ranges::find(requests, row.request->id) == requests.end();
    });
    if (rows.size() != requests.size()) {
        return fail(ErrorCode::Refused,
                    QObject::tr("%1 of the chosen requests are closed. Choose open ones.")
                        .arg(requests.size() - rows.size()));
    }
    return writeRepairs(session, rows, path).and_then([&] {
        const QString how =
            QStringLiteral("%1, %2").arg(endingOf(path).toUpper(), QFileInfo(path).fileName());
        std::vector<RepairEvent> events;
        for (const RequestId &request : requests) {
            events.push_back(sentEvent(request, session.today(), to.trimmed(), how));
        }
        return recordRepairs(session, std::move(events),
                             QObject::tr("Send requests: %1").arg(requests.size()));
    });
}

} // namespace keyround
