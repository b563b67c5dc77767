// SPDX-License-Identifier: GPL-3.0-or-later
// The lists of a notice as tables (declared in notice_files.h).
#include "app/print/notice_files.h"

#include "app/shell/session.h"
#include "core/reports/notice_log.h"

namespace keyround {

CsvTable recipientsTable(const NoticeJob &job)
{
    CsvTable table;
    // Headings that the importer of services knows.
    table.header = {QStringLiteral("Service number"), QStringLiteral("Address"),
                    QStringLiteral("Customer"), QStringLiteral("Phone"),
                    QStringLiteral("Critical")};
    for (const NoticeRecipient &each : job.recipients) {
        table.rows.push_back({each.service, each.address, each.customer, each.phone,
                              each.critical ? QStringLiteral("Y") : QStringLiteral("N")});
    }
    return table;
}

Status writeRecipientsCsv(const NoticeJob &job, const QString &path)
{
    return writeCsv(path, recipientsTable(job));
}

Status writeNoticeLog(Session &session, const QString &path)
{
    const ReportTable log = noticeLog(session.notices(), session.valves());
    return writeCsv(path, {log.columns, {log.rows.begin(), log.rows.end()}});
}

} // namespace keyround
