// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/plan_words.h"

#include <QJsonArray>

namespace keyround::batch {

namespace {

QString numberOf(Session &session, const ValveId &id)
{
    const Valve *valve = session.valve(id);
    return valve == nullptr ? id.text() : valve->number;
}

QJsonObject toJson(Session &session, const PlannedStop &stop)
{
    const Valve *valve = session.valve(stop.valve);
    const GeoPoint place = valve == nullptr ? GeoPoint{} : valve->place;
    return {{QStringLiteral("valve"), numberOf(session, stop.valve)},
            {QStringLiteral("lat"), place.latitude},
            {QStringLiteral("lon"), place.longitude},
            {QStringLiteral("arrive"), clock(stop.arrive)},
            {QStringLiteral("begin"), clock(stop.begin)},
            {QStringLiteral("leave"), clock(stop.leave)},
            {QStringLiteral("wait_seconds"), stop.waitSeconds},
            {QStringLiteral("drive_seconds"), stop.driveSeconds},
            {QStringLiteral("drive_metres"), stop.driveMetres},
            {QStringLiteral("stop_minutes"), stop.stopMinutes},
            {QStringLiteral("misses_hours"), stop.missesHours}};
}

QJsonArray toJson(const std::vector<PlannedBreak> &breaks)
{
    QJsonArray json;
    for (const PlannedBreak &each : breaks) {
        json.append(QJsonObject{{QStringLiteral("from"), clock(each.from)},
                                {QStringLiteral("minutes"), each.minutes},
                                {QStringLiteral("after_stop"), each.afterStop + 1},
                                {QStringLiteral("late"), each.isLate}});
    }
    return json;
}

void addBreaks(QStringList &lines, const DayPlan &plan, int afterStop)
{
    for (const PlannedBreak &each : plan.breaks) {
        if (each.afterStop == afterStop) {
            const QString late = each.isLate ? QObject::tr("later than it should be") : QString();
            lines << QStringLiteral("\t%1-%2\t%3\t%4")
                         .arg(clock(each.from), clock(each.from.addSecs(qRound(each.minutes * 60))),
                              QObject::tr("break"), late);
        }
    }
}

} // namespace

QString clock(const QTime &time)
{
    return time.toString(QStringLiteral("HH:mm"));
}

QJsonArray toJson(Session &session, const std::vector<LeftOut> &leftOut)
{
    QJsonArray json;
    for (const LeftOut &left : leftOut) {
        json.append(QJsonObject{{QStringLiteral("valve"), numberOf(session, left.valve)},
                                {QStringLiteral("reason"), left.reason}});
    }
    return json;
}

QJsonObject toJson(Session &session, const Round &round, const DayPlan &plan)
{
    QJsonArray stops;
    for (const PlannedStop &stop : plan.stops) {
        stops.append(toJson(session, stop));
    }
    return {{QStringLiteral("date"), round.date.toString(Qt::ISODate)},
            {QStringLiteral("crew"), round.crew},
            {QStringLiteral("travel"), wordFor(plan.travel)},
            {QStringLiteral("stops"), stops},
            {QStringLiteral("breaks"), toJson(plan.breaks)},
            {QStringLiteral("return_seconds"), plan.returnSeconds},
            {QStringLiteral("drive_seconds"), plan.driveSeconds},
            {QStringLiteral("drive_metres"), plan.driveMetres},
            {QStringLiteral("least_drive_seconds"), plan.leastDriveSeconds},
            {QStringLiteral("wait_seconds"), plan.waitSeconds},
            {QStringLiteral("priority"), plan.priority},
            {QStringLiteral("finish"), clock(plan.finish)},
            {QStringLiteral("overruns_shift"), plan.overrunsShift},
            {QStringLiteral("left_out"), toJson(session, plan.leftOut)},
            {QStringLiteral("notes"), QJsonArray::fromStringList(plan.notes)}};
}

QStringList stopLines(Session &session, const DayPlan &plan)
{
    QStringList lines;
    addBreaks(lines, plan, -1);
    for (std::size_t i = 0; i < plan.stops.size(); ++i) {
        const PlannedStop &stop = plan.stops[i];
        const Valve *valve = session.valve(stop.valve);
        QString line =
            QStringLiteral("%1\t%2-%3\t%4\t%5")
                .arg(QString::number(i + 1), clock(stop.arrive), clock(stop.leave),
                     numberOf(session, stop.valve), valve == nullptr ? QString() : valve->address);
        if (stop.waitSeconds >= 30) {
            line += QObject::tr("\twaits %1, begins %2")
                        .arg(durationText({stop.waitSeconds}), clock(stop.begin));
        }
        if (!stop.missesHours.isEmpty()) {
            line += QLatin1Char('\t') + stop.missesHours;
        }
        lines << line;
        addBreaks(lines, plan, static_cast<int>(i));
    }
    return lines;
}

QString drivingWords(const DayPlan &plan)
{
    const QString driving =
        QObject::tr("%1 driving (%2)").arg(durationText({plan.driveSeconds}), wordFor(plan.travel));
    return plan.leastDriveSeconds > 0 ? QObject::tr("%1; no order can take less than %2")
                                            .arg(driving, durationText({plan.leastDriveSeconds}))
                                      : driving;
}

} // namespace keyround::batch
