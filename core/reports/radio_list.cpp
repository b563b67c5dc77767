// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/radio_list.h"

#include "core/reports/day_words.h"

#include <QHash>

namespace keyround {

namespace {

/// "8-inch gate", "DN 200 gate", "valve of unknown size".
QString kindWords(const Valve &valve, UnitSystem units)
{
    QString size = sizeText(valve.size, units);
    if (units == UnitSystem::Us && !size.isEmpty()) {
        size.replace(QStringLiteral(" in"), QStringLiteral("-inch"));
    }
    const bool named = valve.type != ValveType::Unknown && valve.type != ValveType::Other;
    QStringList words{size, named ? wordFor(valve.type) : QStringLiteral("valve")};
    words.removeAll(QString());
    return words.join(QLatin1Char(' '));
}

QString turnsWords(const Baseline &baseline)
{
    if (baseline.source == BaselineSource::None) {
        return QStringLiteral("turns not known");
    }
    if (baseline.least == baseline.most) {
        return QStringLiteral("%1 turns").arg(turnsText(baseline.most));
    }
    return QStringLiteral("%1 to %2 turns")
        .arg(turnsText(baseline.least), turnsText(baseline.most));
}

QString placeWords(const Valve &valve)
{
    if (!valve.address.isEmpty()) {
        return valve.address;
    }
    return valve.ties.isEmpty() ? QStringLiteral("no address") : valve.ties;
}

QString stopLine(qsizetype number, const PlannedStop &stop, const Valve *valve,
                 const Baseline &baseline, UnitSystem units)
{
    QString when = QStringLiteral("be there %1").arg(clockText(stop.arrive));
    if (isWaitShown(stop)) {
        when += QStringLiteral(", no work before %1").arg(clockText(stop.begin));
    }
    if (!stop.missesHours.isEmpty()) {
        when += QStringLiteral(", in busy hours");
    }
    if (valve == nullptr) {
        return QStringLiteral("Stop %1: valve not in the list; %2.").arg(number).arg(when);
    }
    QStringList what{kindWords(*valve, units),
                     QStringLiteral("closes %1").arg(wordFor(valve->closes)), turnsWords(baseline)};
    if (valve->normally == NormalPosition::Closed) {
        what << QStringLiteral("normally closed");
    }
    QStringList parts{what.join(QStringLiteral(", "))};
    if (valve->isCritical()) {
        parts << QStringLiteral("cannot go without water: %1").arg(valve->criticalCustomers);
    }
    parts << when;
    return QStringLiteral("Stop %1: valve %2, %3; %4.")
        .arg(QString::number(number), valve->number, placeWords(*valve),
             parts.join(QStringLiteral("; ")));
}

} // namespace

QStringList radioList(const Round &day, const DayPlan &plan, const std::vector<Valve> &valves,
                      const Histories &histories, UnitSystem units)
{
    QHash<ValveId, const Valve *> index;
    for (const Valve &valve : valves) {
        index.insert(valve.id, &valve);
    }
    QStringList who{QStringLiteral("Round of %1").arg(day.date.toString(Qt::ISODate)), day.crew};
    who.removeAll(QString());
    QStringList lines{QStringLiteral("%1: %2, leave at %3.")
                          .arg(who.join(QStringLiteral(", ")), stopsText(plan.stops.size()),
                               clockText(day.shift.from))};
    const auto breaksAfter = [&](int stop) {
        for (const PlannedBreak &pause : plan.breaks) {
            if (pause.afterStop == stop) {
                lines << QStringLiteral("%1.").arg(breakWords(pause));
            }
        }
    };
    breaksAfter(-1);
    int number = 0;
    for (const PlannedStop &stop : plan.stops) {
        const Valve *valve = index.value(stop.valve, nullptr);
        const auto history = histories.constFind(stop.valve);
        Baseline baseline;
        if (history != histories.cend()) {
            baseline = history->baseline;
        } else if (valve != nullptr) {
            baseline = baselineFor(*valve, {}, {});
        }
        lines << stopLine(number + 1, stop, valve, baseline, units);
        breaksAfter(number);
        ++number;
    }
    lines << QStringLiteral("Back at %1.").arg(clockText(plan.finish));
    return lines;
}

} // namespace keyround
