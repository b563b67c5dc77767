// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/condition_tables.h"

#include "core/reports/valve_words.h"

#include <QSet>

#include <algorithm>
#include <array>
#include <iterator>

namespace keyround {

namespace {

// As people read them: the good ones first, the unknown last.
constexpr std::array conditionOrder{Condition::Serviceable, Condition::Defect,
                                    Condition::DoesNotShut, Condition::DoesNotTurn,
                                    Condition::CannotReach, Condition::NeverVisited};

QHash<ValveId, const Valve *> indexOf(const std::vector<Valve> &valves)
{
    QHash<ValveId, const Valve *> index;
    index.reserve(static_cast<qsizetype>(valves.size()));
    for (const Valve &valve : valves) {
        index.insert(valve.id, &valve);
    }
    return index;
}

QString foundBy(const ConditionChange &change, const Histories &histories)
{
    const auto history = histories.constFind(change.valve);
    if (history == histories.cend()) {
        return {};
    }
    for (const ReadVisit &read : history->visits) {
        if (read.visit.id == change.visit) {
            return whatVisitFound(read);
        }
    }
    return {};
}

/// The valves that changed in a period.
struct PeriodFate
{
    QSet<ValveId> wentOut;
    QSet<ValveId> restored;
};

PeriodFate fateIn(const ConditionChanges &figure, const ChangePeriod &period)
{
    PeriodFate fate;
    for (const size_t change : period.wentOut) {
        fate.wentOut.insert(figure.all[change].change.valve);
    }
    for (const size_t change : period.restored) {
        fate.restored.insert(figure.all[change].change.valve);
    }
    return fate;
}

QString degrees(double value)
{
    return QString::number(value, 'f', 6);
}

} // namespace

ReportTable conditionTable(const std::vector<PeriodCounts> &series)
{
    ReportTable table;
    table.title = QStringLiteral("Condition by period");
    table.columns << QStringLiteral("period");
    for (const Condition condition : conditionOrder) {
        table.columns << keyFor(condition);
    }
    for (const PeriodCounts &period : series) {
        QStringList row{period.period};
        for (const Condition condition : conditionOrder) {
            row << QString::number(period.of(condition));
        }
        table.rows.push_back(row);
    }
    return table;
}

ReportTable wentOutTable(const std::vector<ConditionChange> &changes,
                         const std::vector<Valve> &valves, const Histories &histories,
                         UnitSystem units)
{
    const auto index = indexOf(valves);
    ReportTable table;
    table.title = QStringLiteral("Went out of condition");
    table.columns = {QStringLiteral("Valve"),          QStringLiteral("What"),
                     QStringLiteral("Where"),          QStringLiteral("Date"),
                     QStringLiteral("From"),           QStringLiteral("To"),
                     QStringLiteral("The visit found")};
    for (const ConditionChange &change : changes) {
        const Valve *valve = index.value(change.valve, nullptr);
        if (valve != nullptr) {
            table.rows.push_back({valve->number, whatWords(*valve, units),
                                  whereWords(*valve, units), change.date.toString(Qt::ISODate),
                                  wordFor(change.from), wordFor(change.to),
                                  foundBy(change, histories)});
        }
    }
    return table;
}

ReportTable outInPeriodTable(const ConditionChanges &figure, std::size_t period,
                             const std::vector<Valve> &valves, const Histories &histories,
                             UnitSystem units)
{
    static const ValveHistory nothing;
    ReportTable table;
    table.columns = {QStringLiteral("Until"),
                     QStringLiteral("Valve"),
                     QStringLiteral("What"),
                     QStringLiteral("Where"),
                     QStringLiteral("Latitude"),
                     QStringLiteral("Longitude"),
                     QStringLiteral("In the period"),
                     QStringLiteral("Condition"),
                     QStringLiteral("Last visit by then"),
                     QStringLiteral("The visit found")};
    if (period >= figure.periods.size()) {
        return table;
    }
    const ChangePeriod &asked = figure.periods[period];
    const PeriodFate fate = fateIn(figure, asked);
    table.title = QStringLiteral("Out of condition at the end of %1, and what came back in it")
                      .arg(asked.period);
    std::array<std::vector<QStringList>, 3> groups; // went out, out before, came back
    for (const Valve &valve : valves) {
        const auto found = histories.constFind(valve.id);
        const ValveHistory &history = found == histories.cend() ? nothing : *found;
        const Condition condition = conditionOn(history, asked.end);
        const bool isOut = isOutOfCondition(condition);
        if (!isOut && !fate.restored.contains(valve.id)) {
            continue;
        }
        const std::size_t group = !isOut ? 2 : fate.wentOut.contains(valve.id) ? 0 : 1;
        const ReadVisit *read = lastVisitBy(history, asked.end);
        const bool placed = valve.place.isValid();
        groups[group].push_back(
            {asked.end.toString(Qt::ISODate), valve.number, whatWords(valve, units),
             whereWords(valve, units), placed ? degrees(valve.place.latitude) : QString(),
             placed ? degrees(valve.place.longitude) : QString(),
             group == 0   ? QStringLiteral("went out")
             : group == 1 ? QStringLiteral("out before")
                          : QStringLiteral("came back"),
             wordFor(condition),
             read == nullptr ? QString() : read->visit.arrived.localDate().toString(Qt::ISODate),
             read == nullptr ? QString() : whatVisitFound(*read)});
    }
    for (std::vector<QStringList> &rows : groups) {
        std::ranges::move(rows, std::back_inserter(table.rows));
    }
    return table;
}

ReportTable dueTable(const std::vector<DueEntry> &entries, const std::vector<Valve> &valves,
                     UnitSystem units)
{
    const auto index = indexOf(valves);
    ReportTable table;
    table.title = QStringLiteral("Due list");
    table.columns = {QStringLiteral("Valve"),
                     QStringLiteral("What"),
                     QStringLiteral("Where"),
                     QStringLiteral("State"),
                     QStringLiteral("Last full cycle"),
                     QStringLiteral("Due on"),
                     QStringLiteral("Why")};
    for (const DueEntry &entry : entries) {
        const Valve *valve = index.value(entry.valve, nullptr);
        if (valve != nullptr) {
            table.rows.push_back({valve->number, whatWords(*valve, units),
                                  whereWords(*valve, units), wordFor(entry.state),
                                  entry.lastCycle.toString(Qt::ISODate),
                                  entry.dueOn.toString(Qt::ISODate), entry.reason});
        }
    }
    return table;
}

} // namespace keyround
