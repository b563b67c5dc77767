// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/notice_log.h"

#include <QHash>

#include <algorithm>

namespace keyround {

ReportTable noticeLog(const std::vector<Notice> &notices, const std::vector<Valve> &valves)
{
    QHash<ValveId, QString> numbers;
    for (const Valve &valve : valves) {
        numbers.insert(valve.id, valve.number);
    }
    std::vector<const Notice *> order;
    for (const Notice &notice : notices) {
        order.push_back(&notice);
    }
    std::ranges::stable_sort(order,
                             [](const Notice *a, const Notice *b) { return b->given < a->given; });
    ReportTable table;
    table.title = QStringLiteral("Notices given");
    table.columns = {QStringLiteral("Given"), QStringLiteral("Valve"),
                     QStringLiteral("For"),   QStringLiteral("Day of the work"),
                     QStringLiteral("Told"),  QStringLiteral("Of services"),
                     QStringLiteral("How"),   QStringLiteral("Wording"),
                     QStringLiteral("By"),    QStringLiteral("On the machine")};
    for (const Notice *notice : order) {
        table.rows.push_back({notice->given.local().toString(QStringLiteral("yyyy-MM-dd HH:mm")),
                              numbers.value(notice->valve, QStringLiteral("not in the list")),
                              notice->what, notice->forDay.toString(Qt::ISODate),
                              QString::number(notice->services),
                              notice->affected > 0 ? QString::number(notice->affected) : QString(),
                              notice->how, notice->wording, notice->person, notice->device});
    }
    return table;
}

} // namespace keyround
