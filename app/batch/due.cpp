// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"

#include <QJsonArray>
#include <QMap>

namespace keyround::batch {

namespace {

QJsonValue dateJson(const QDate &date)
{
    return date.isValid() ? QJsonValue(date.toString(Qt::ISODate)) : QJsonValue();
}

QJsonObject toJson(const Valve &valve, const DueEntry &entry)
{
    return {{QStringLiteral("valve"), valve.number},
            {QStringLiteral("lat"), valve.place.latitude},
            {QStringLiteral("lon"), valve.place.longitude},
            {QStringLiteral("state"), keyFor(entry.state)},
            {QStringLiteral("rule"), entry.rule},
            {QStringLiteral("last_cycle"), dateJson(entry.lastCycle)},
            {QStringLiteral("due_on"), dateJson(entry.dueOn)},
            {QStringLiteral("days_overdue"), entry.daysOverdue},
            {QStringLiteral("priority"), entry.priority},
            {QStringLiteral("reason"), entry.reason}};
}

} // namespace

Done runDue(const QStringList &arguments)
{
    QCommandLineParser parser;
    parser.setApplicationDescription(
        QObject::tr("due: lists which valves are due on a day, by which rule, and why."));
    addProjectOption(parser);
    parser.addOption({QStringLiteral("on"), QObject::tr("the day"), QStringLiteral("YYYY-MM-DD")});
    addJsonOption(parser);
    if (auto parsed = parse(parser, QStringLiteral("due"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    auto opened = openSessionOn(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    QJsonArray entries;
    QMap<QString, int> counts;
    for (const DueEntry &entry : session.dueList()) {
        const Valve &valve = *session.valve(entry.valve);
        entries.append(toJson(valve, entry));
        ++counts[wordFor(entry.state)];
        if (wantsVisit(entry.state)) {
            say(QStringLiteral("%1\t%2").arg(valve.number, entry.reason));
        }
    }
    QStringList totals;
    for (const auto &[state, count] : counts.asKeyValueRange()) {
        totals << QStringLiteral("%1 %2").arg(count).arg(state);
    }
    const QString date = session.today().toString(Qt::ISODate);
    complain(QObject::tr("On %1: %2").arg(date, totals.join(QStringLiteral(", "))));
    return writeJson(parser, {{QStringLiteral("date"), date},
                              {QStringLiteral("policy"), session.settings().policy.name},
                              {QStringLiteral("valves"), entries}});
}

} // namespace keyround::batch
