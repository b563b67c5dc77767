// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/schedule/due.h"

#include "core/schedule/due_again.h"

#include <algorithm>
#include <functional>

namespace keyround {

namespace {

constexpr double daysPerMonth = 365.25 / 12.0;
// Below those that wait for repair.
constexpr double exemptPriority = -3.0;

QString intervalWords(int months)
{
    if (months == 1) {
        return QStringLiteral("every month");
    }
    if (months >= 24 && months % 12 == 0) {
        return QStringLiteral("every %1 years").arg(months / 12);
    }
    return QStringLiteral("every %1 months").arg(months);
}

QString daysWords(int days)
{
    return days == 1 ? QStringLiteral("1 day") : QStringLiteral("%1 days").arg(days);
}

QString iso(const QDate &date)
{
    return date.toString(Qt::ISODate);
}

QString capitalised(QString text)
{
    if (!text.isEmpty()) {
        text[0] = text[0].toUpper();
    }
    return text;
}

/// A list that is wrong keeps a sound valve due, or waiting for repair, for ever; only a person can
/// tell which of the two is at fault.
QString doubtOfTheList(const Valve &valve, const ValveHistory &history)
{
    if (!history.suggestedTurns || !valve.listedTurns) {
        return {};
    }
    return QStringLiteral(
               ". Its last two counts agree on %1 turns both ways, and the list says %2: "
               "if the list is wrong, correct it")
        .arg(turnsText(*history.suggestedTurns), turnsText(*valve.listedTurns));
}

double priorityFor(const DueEntry &entry, const Valve &valve, int intervalMonths)
{
    // Without a date it counts as one whole interval overdue.
    double share = 1.0;
    if (entry.dueOn.isValid()) {
        share = std::max(entry.daysOverdue / (intervalMonths * daysPerMonth), -1.0);
    }
    if (valve.isCritical()) {
        share = share > 0.0 ? share * 1.5 : share / 1.5;
    }
    return share + valve.size.inches() / 1000.0;
}

QString reasonFor(const DueEntry &entry, const PolicyRule &rule, const ValveHistory &history)
{
    const QString why = QStringLiteral("%1, %2").arg(rule.name, intervalWords(rule.intervalMonths));
    switch (entry.state) {
    case DueState::NeverVisited:
        return history.wasReplaced()
                   ? QStringLiteral("Replaced on %1 and not visited since, so due at once: %2")
                         .arg(iso(history.lives.back().began), why)
                   : QStringLiteral("Never visited, so due at once: %1").arg(why);
    case DueState::Overdue:
        return QStringLiteral("Overdue by %1: %2").arg(daysWords(entry.daysOverdue), why);
    case DueState::Due:
        if (!entry.dueOn.isValid()) {
            return QStringLiteral(
                       "Visited on %1, but no full cycle is on record, so due at once: %2")
                .arg(iso(history.lastVisit), why);
        }
        return entry.daysOverdue == 0
                   ? QStringLiteral("Due today: %1").arg(why)
                   : QStringLiteral("Due in %1, on %2: %3")
                         .arg(daysWords(-entry.daysOverdue), iso(entry.dueOn), why);
    case DueState::NotDue:
        return QStringLiteral("Not due before %1: %2").arg(iso(entry.dueOn), why);
    default:
        return {};
    }
}

DueState stateFor(const DueEntry &entry, const ValveHistory &history, int dueSoonDays)
{
    if (history.ofThisLife().empty()) {
        return DueState::NeverVisited;
    }
    if (!entry.dueOn.isValid()) {
        return DueState::Due;
    }
    if (entry.daysOverdue > 0) {
        return DueState::Overdue;
    }
    return -entry.daysOverdue <= dueSoonDays ? DueState::Due : DueState::NotDue;
}

DueEntry entryFor(const Valve &valve, const ValveHistory &history, const Policy &policy,
                  const QDate &today)
{
    DueEntry entry;
    entry.valve = valve.id;
    entry.lastCycle = history.lastFullCycle;
    const PolicyRule *rule = policy.ruleFor(valve);
    if (rule != nullptr) {
        entry.rule = rule->name;
    }
    if (rule == nullptr || rule->intervalMonths <= 0) {
        entry.state = DueState::Exempt;
        entry.priority = exemptPriority;
        entry.reason = rule == nullptr
                           ? QStringLiteral("No rule of the policy takes it in")
                           : QStringLiteral("%1: not exercised by this policy").arg(rule->name);
        return entry;
    }
    if (entry.lastCycle.isValid()) {
        entry.dueOn = dueDate(entry.lastCycle, rule->intervalMonths);
        entry.daysOverdue = static_cast<int>(entry.dueOn.daysTo(today));
    }
    if (needsRepair(history)) {
        entry.state = DueState::WaitingForRepair;
        entry.priority = waitingPriority;
        entry.reason = QStringLiteral("%1 since %2: a repair comes before the next exercise")
                           .arg(capitalised(wordFor(history.condition)), iso(history.firstBad));
        if (history.condition == Condition::DoesNotShut) {
            entry.reason += doubtOfTheList(valve, history);
        }
        return entry;
    }
    entry.state = stateFor(entry, history, policy.dueSoonDays);
    entry.priority = priorityFor(entry, valve, rule->intervalMonths);
    entry.reason = reasonFor(entry, *rule, history);
    if (entry.state == DueState::Due && !entry.dueOn.isValid()) {
        entry.reason += doubtOfTheList(valve, history);
    }
    return entry;
}

} // namespace

QString wordFor(DueState state)
{
    switch (state) {
    case DueState::NeverVisited:
        return QStringLiteral("never visited");
    case DueState::Overdue:
        return QStringLiteral("overdue");
    case DueState::Due:
        return QStringLiteral("due");
    case DueState::NotDue:
        return QStringLiteral("not due");
    case DueState::WaitingForRepair:
        return QStringLiteral("waiting for repair");
    case DueState::Exempt:
        break;
    }
    return QStringLiteral("exempt");
}

QString keyFor(DueState state)
{
    return wordFor(state).replace(QLatin1Char(' '), QLatin1Char('_'));
}

QDate dueDate(const QDate &lastCycle, int intervalMonths)
{
    return lastCycle.addMonths(intervalMonths);
}

std::vector<DueEntry> dueList(const std::vector<Valve> &valves, const Histories &histories,
                              const Policy &policy, const QDate &today)
{
    static const ValveHistory nothing;
    struct Ranked
    {
        DueEntry entry;
        const QString *number;
    };
    std::vector<Ranked> ranked;
    ranked.reserve(valves.size());
    for (const Valve &valve : valves) {
        if (!valve.retired) {
            const auto history = histories.constFind(valve.id);
            ranked.push_back(
                {entryFor(valve, history == histories.cend() ? nothing : *history, policy, today),
                 &valve.number});
        }
    }
    std::sort(ranked.begin(), ranked.end(), [](const Ranked &a, const Ranked &b) {
        return a.entry.priority != b.entry.priority ? a.entry.priority > b.entry.priority
                                                    : *a.number < *b.number;
    });
    std::vector<DueEntry> entries;
    entries.reserve(ranked.size());
    for (Ranked &one : ranked) {
        entries.push_back(std::move(one.entry));
    }
    return entries;
}

void workOutAgain(std::vector<DueEntry> &entries, const std::vector<ValveId> &changed,
                  const ValveOfId &valveOf, const Histories &histories, const Policy &policy,
                  const QDate &today)
{
    const auto goesBefore = [&valveOf](const DueEntry &a, const DueEntry &b) {
        return a.priority != b.priority ? a.priority > b.priority
                                        : valveOf(a.valve)->number < valveOf(b.valve)->number;
    };
    for (const ValveId &id : changed) {
        std::erase_if(entries, [&id](const DueEntry &entry) { return entry.valve == id; });
        const Valve *valve = valveOf(id);
        if (valve == nullptr) {
            continue;
        }
        for (DueEntry &entry : dueList({*valve}, histories, policy, today)) {
            entries.insert(std::ranges::lower_bound(entries, entry, goesBefore), std::move(entry));
        }
    }
}

void weighByShuts(std::vector<DueEntry> &entries, const ShutStakes &stakes, double weight)
{
    if (weight <= 0) {
        return;
    }
    for (DueEntry &entry : entries) {
        const auto stake = stakes.constFind(entry.valve);
        if (stake == stakes.cend() || stake->services <= 0 || !wantsVisit(entry.state)) {
            continue;
        }
        // Below 0 a valve is not yet due: its turn comes nearer, but it does not jump the queue.
        const double raised = 1.0 + weight * stake->share;
        entry.priority = entry.priority > 0 ? entry.priority * raised : entry.priority / raised;
        entry.reason +=
            QStringLiteral(". If it sticks, a break beside it leaves %1 services without water")
                .arg(stake->services);
    }
    std::ranges::stable_sort(entries, std::greater<>{}, &DueEntry::priority);
}

bool wantsVisit(DueState state)
{
    return state == DueState::NeverVisited || state == DueState::Overdue || state == DueState::Due;
}

} // namespace keyround
