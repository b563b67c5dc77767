// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/models/notice_words.h"

#include "app/shell/session.h"
#include "core/reports/shut_sheet.h"

namespace keyround {

namespace {

/// The day may be another than the clock's: a plan is tried out for it.
QDateTime planningNow(Session &session)
{
    return {session.today(), session.now().local().time()};
}

} // namespace

QString whoLosesWater(Session &session, const ValveId &valve)
{
    const Load load = session.shutLoad(valve);
    if (load == Load{}) {
        return {};
    }
    if (load.services == 0) {
        return load.hydrants == 1
                   ? QObject::tr("Shut alone, it leaves no service but 1 hydrant without water.")
                   : QObject::tr("Shut alone, it leaves no service but %1 hydrants without water.")
                         .arg(load.hydrants);
    }
    return QObject::tr("Shut alone, it leaves %1 without water.").arg(loadWords(load));
}

NoticeStanding noticeStanding(Session &session, const ValveId &valve, const QDateTime &work)
{
    const Load load = session.shutLoad(valve);
    if (load.services == 0) {
        return {};
    }
    const ProjectSettings &settings = session.settings();
    if (const Notice *notice =
            noticeFor(session.notices(), valve, work, settings.notice, settings.holidays)) {
        QString words = QObject::tr("Notice given on %1 by %2")
                            .arg(notice->given.localDate().toString(Qt::ISODate), notice->person);
        if (!notice->how.isEmpty()) {
            words += QStringLiteral(": ") + notice->how;
        }
        return {NoticeState::Given, words};
    }
    return {NoticeState::Needed,
            noticeNeededWords(load.services, latestNotice(work, settings.notice, settings.holidays),
                              planningNow(session))};
}

QDate firstDayWithNotice(Session &session, const ValveId &valve)
{
    if (session.shutLoad(valve).services == 0) {
        return {};
    }
    constexpr int mostDaysAhead = 90;
    const ProjectSettings &settings = session.settings();
    QDate day = session.today();
    for (int i = 0; i < mostDaysAhead; ++i, day = day.addDays(1)) {
        const QDateTime work(day, settings.shift.from);
        if (latestNotice(work, settings.notice, settings.holidays) >= planningNow(session) ||
            noticeStanding(session, valve, work).state == NoticeState::Given) {
            break;
        }
    }
    return day;
}

} // namespace keyround
