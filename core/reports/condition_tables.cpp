// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/condition_tables.h"

#include "core/reports/valve_words.h"

#include <array>

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
        if (read.visit.id != change.visit) {
            continue;
        }
        QStringList words;
        if (read.judgement.counted.value > 0) {
            words << QStringLiteral("%1 turns against %2")
                         .arg(turnsText(read.judgement.counted), wordsFor(read.judgement.baseline));
        }
        words << problemWords(read.visit) << read.visit.remarks;
        words.removeAll(QString());
        return words.join(QStringLiteral("; "));
    }
    return {};
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
