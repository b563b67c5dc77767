// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/route_sheet.h"

#include "core/reports/day_words.h"
#include "core/reports/valve_words.h"

namespace keyround {

QStringList fieldCautions()
{
    return {
        QStringLiteral("The utility's own procedures and local rules come before this sheet."),
        QStringLiteral("Traffic: set up before anybody steps into the road. The road authority's "
                       "rules and a trained person on site decide how."),
        QStringLiteral("Force: turn with the least that moves it, within the limit that your "
                       "procedure sets. Never lengthen the key. If it binds, spins or leaks, stop "
                       "and report it."),
        QStringLiteral(
            "Boxes and vaults: a vault may be a confined space. Nobody climbs in without "
            "the permit, the air test and the attendant that the rules ask for. Keep "
            "hands out of a box you cannot see into."),
        QStringLiteral(
            "Water off: closing a valve can leave customers without water or stir up the "
            "main. Tell those who must be told first; what follows for water quality is "
            "in the utility's own plan."),
        QStringLiteral("Turn slowly near the ends, and leave each valve in its normal position, or "
                       "write down how it was left and report it the same day."),
    };
}

namespace {

using ValveIndex = QHash<ValveId, const Valve *>;

ValveIndex indexOf(const std::vector<Valve> &valves)
{
    ValveIndex index;
    index.reserve(static_cast<qsizetype>(valves.size()));
    for (const Valve &valve : valves) {
        index.insert(valve.id, &valve);
    }
    return index;
}

QString numberOf(const ValveIndex &valves, const ValveId &id)
{
    const Valve *valve = valves.value(id, nullptr);
    return valve == nullptr ? QStringLiteral("not in the list") : valve->number;
}

/// "07:20", or "07:20, begin 08:00" where the street's hours are waited for.
QString whenWords(const PlannedStop &stop)
{
    return isWaitShown(stop)
               ? QStringLiteral("%1, begin %2").arg(clockText(stop.arrive), clockText(stop.begin))
               : clockText(stop.arrive);
}

QStringList stopRow(int number, const PlannedStop &stop, const Valve &valve,
                    const ValveHistory &history, const StopExtras &extras, UnitSystem units)
{
    QStringList beware = stopWarnings(stop, valve, history);
    beware << (extras.setUp.isEmpty() ? QString() : QStringLiteral("set up: ") + extras.setUp)
           << extras.told;
    beware.removeAll(QString());
    const QString last = history.lastVisit.isValid() ? history.lastVisit.toString(Qt::ISODate)
                                                     : QStringLiteral("never");
    return {QString::number(number),
            whenWords(stop),
            valve.number,
            whereWords(valve, units),
            whatWords(valve, units),
            wordsFor(history.baseline),
            last,
            beware.join(QStringLiteral("; ")),
            QString(),
            QString(),
            QString(),
            QString(),
            QString()};
}

QStringList headerOf(const Round &day, const DayPlan &plan, const QString &utility,
                     UnitSystem units)
{
    QStringList lines;
    if (!utility.isEmpty()) {
        lines << utility;
    }
    QString who = QStringLiteral("%1, shift %2 to %3")
                      .arg(day.date.toString(Qt::ISODate), clockText(day.shift.from),
                           clockText(day.shift.to));
    if (!day.crew.isEmpty()) {
        who += QStringLiteral(", %1").arg(day.crew);
    }
    lines << who;
    QStringList sums{stopsText(plan.stops.size()), QStringLiteral("%1 of driving over %2")
                                                       .arg(durationText({plan.driveSeconds}),
                                                            lengthText({plan.driveMetres}, units))};
    if (plan.waitSeconds >= 30.0) {
        sums << QStringLiteral("%1 of waiting").arg(durationText({plan.waitSeconds}));
    }
    sums << QStringLiteral("finish at %1").arg(clockText(plan.finish));
    lines << sums.join(QStringLiteral(", "));
    if (plan.travel == TravelKind::Estimate) {
        lines << QStringLiteral("Driving times are an estimate: no streets are loaded.");
    }
    if (plan.overrunsShift) {
        lines << QStringLiteral("This day is longer than the shift.");
    }
    return lines;
}

/// The breaks that are taken after so many stops, each as a row of its own.
void addBreaks(ReportTable &table, const DayPlan &plan, int stopsBefore)
{
    for (const PlannedBreak &pause : plan.breaks) {
        if (pause.afterStop == stopsBefore - 1) {
            QStringList row(table.columns.size(), QString());
            row[1] = clockText(pause.from);
            row[3] = breakWords(pause);
            table.rows.push_back(row);
        }
    }
}

} // namespace

QStringList stopWarnings(const PlannedStop &stop, const Valve &valve, const ValveHistory &history)
{
    QStringList words;
    if (isWaitShown(stop)) {
        words << QStringLiteral("busy hours: no work before %1").arg(clockText(stop.begin));
    }
    words << stop.missesHours;
    if (valve.isCritical()) {
        words << QStringLiteral("cannot go without water: %1").arg(valve.criticalCustomers);
    }
    if (history.leftOtherThanNormal) {
        words << QStringLiteral("last left %1").arg(standingWords(*history.leftOtherThanNormal));
    }
    if (history.condition == Condition::Defect || isOutOfCondition(history.condition)) {
        words << wordFor(history.condition);
        if (!history.visits.empty()) {
            words << problemWords(history.visits.back().visit);
        }
    }
    words << valve.remarks;
    words.removeAll(QString());
    return words;
}

Sheet routeSheet(const Round &day, const DayPlan &plan, const std::vector<Valve> &valves,
                 const Histories &histories, const QString &utility, UnitSystem units,
                 const StopExtrasById &extras)
{
    const ValveIndex index = indexOf(valves);
    Sheet sheet;
    sheet.title = QStringLiteral("Route sheet");
    sheet.headerLines = headerOf(day, plan, utility, units);
    sheet.table.title = sheet.title;
    sheet.table.columns = {QStringLiteral("Stop"),
                           QStringLiteral("Arrive"),
                           QStringLiteral("Valve"),
                           QStringLiteral("Where"),
                           QStringLiteral("What"),
                           QStringLiteral("Baseline"),
                           QStringLiteral("Last visit"),
                           QStringLiteral("Beware"),
                           QStringLiteral("Found"),
                           QStringLiteral("Closing turns"),
                           QStringLiteral("Opening turns"),
                           QStringLiteral("Left"),
                           QStringLiteral("Problems and remarks")};
    sheet.penColumnsFrom = 8;
    static const ValveHistory nothing;
    int number = 0;
    addBreaks(sheet.table, plan, number);
    for (const PlannedStop &stop : plan.stops) {
        const Valve *valve = index.value(stop.valve, nullptr);
        const auto history = histories.constFind(stop.valve);
        if (valve == nullptr) {
            QStringList row(sheet.table.columns.size(), QString());
            row[0] = QString::number(++number);
            row[1] = whenWords(stop);
            row[2] = numberOf(index, stop.valve);
            sheet.table.rows.push_back(row);
        } else {
            sheet.table.rows.push_back(stopRow(++number, stop, *valve,
                                               history == histories.cend() ? nothing : *history,
                                               extras.value(stop.valve), units));
        }
        addBreaks(sheet.table, plan, number);
    }
    sheet.notes = plan.notes;
    for (const LeftOut &left : plan.leftOut) {
        sheet.notes << QStringLiteral("Not in this round: valve %1. %2")
                           .arg(numberOf(index, left.valve), left.reason);
    }
    sheet.cautions = fieldCautions();
    return sheet;
}

} // namespace keyround
