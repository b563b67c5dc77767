// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/notice.h"

#include <algorithm>

namespace keyround {

namespace {

/// The moment as the yard's clock showed it, to compare with a day's planned hours.
QDateTime onClockOf(const QDateTime &work, const Moment &moment)
{
    const QDateTime shown = moment.local();
    QDateTime same = work;
    same.setDate(shown.date());
    same.setTime(shown.time());
    return same;
}

bool isWorkingDay(const QDate &day, const QList<QDate> &holidays)
{
    return day.dayOfWeek() <= Qt::Friday && !holidays.contains(day);
}

} // namespace

QDateTime latestNotice(const QDateTime &work, const NoticeLead &lead, const QList<QDate> &holidays)
{
    QDateTime latest = work;
    for (int left = lead.workingDays; left > 0;) {
        latest = latest.addDays(-1);
        left -= isWorkingDay(latest.date(), holidays) ? 1 : 0;
    }
    constexpr double secondsInHour = 3600.0;
    return latest.addSecs(-static_cast<qint64>(lead.hours * secondsInHour));
}

const Notice *noticeFor(const std::vector<Notice> &notices, const ValveId &valve,
                        const QDateTime &work, const NoticeLead &lead, const QList<QDate> &holidays)
{
    const QDateTime latest = latestNotice(work, lead, holidays);
    const Notice *best = nullptr;
    for (const Notice &notice : notices) {
        const QDateTime given = onClockOf(work, notice.given);
        const bool holds = notice.valve == valve && given <= latest &&
                           given.date().addDays(lead.validDays) >= work.date() &&
                           (notice.forDay.isNull() || notice.forDay == work.date());
        if (holds && (best == nullptr || best->given < notice.given)) {
            best = &notice;
        }
    }
    return best;
}

QString noticeNeededWords(int services, const QDateTime &latest, const QDateTime &now)
{
    const QString who =
        services == 1 ? QStringLiteral("Notice needed: 1 service loses water. ")
                      : QStringLiteral("Notice needed: %1 services lose water. ").arg(services);
    if (now > latest) {
        return who + QStringLiteral("It is too late for this day; a later day lets it in.");
    }
    return who + QStringLiteral("Give it by %1 and it can be planned for this day.")
                     .arg(latest.toString(QStringLiteral("ddd yyyy-MM-dd HH:mm")));
}

} // namespace keyround
