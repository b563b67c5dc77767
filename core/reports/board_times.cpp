// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/board_times.h"

#include <algorithm>

namespace keyround {

namespace {

constexpr int april = 4;

BoardTime timeOf(int year, const QDate &today)
{
    const QDate first(year, 1, 1);
    const QDate last = std::min(QDate(year, 12, 31), today);
    const bool isWhole = last == QDate(year, 12, 31);
    const QString span =
        QStringLiteral("%1 to %2").arg(first.toString(Qt::ISODate), last.toString(Qt::ISODate));
    return {
        isWhole ? QString::number(year) : QStringLiteral("%1 so far").arg(year),
        {first, last},
        (isWhole ? QStringLiteral("%1, the whole year.") : QStringLiteral("%1, this year so far."))
            .arg(span)};
}

} // namespace

BoardTimes boardTimes(const QDate &firstVisit, const QDate &today)
{
    BoardTimes times;
    const int oldest =
        firstVisit.isValid() ? std::min(firstVisit.year(), today.year()) : today.year();
    for (int year = today.year(); year >= oldest; --year) {
        times.years.push_back(timeOf(year, today));
    }
    if (times.years.size() < 2) {
        times.why = QStringLiteral("No visit is on record from before this year.");
    } else if (today.month() < april) {
        times.usual = 1;
        times.why = QStringLiteral("Until the end of March the year before is offered first.");
    } else {
        times.why = QStringLiteral("From April on this year so far is offered first.");
    }
    return times;
}

} // namespace keyround
