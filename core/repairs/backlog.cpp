// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/repairs/backlog.h"

#include <algorithm>
#include <functional>

namespace keyround {

namespace {

// Above the highest priority that dates give a valve (an overdue share of some whole intervals).
constexpr double provingPriority = 1000.0;

QString iso(const QDate &date)
{
    return date.toString(Qt::ISODate);
}

/// A shut that it did not hold in says so of its condition, whatever the last visit said.
Condition conditionFor(const QStringList &findings, const ValveHistory &history)
{
    return findings.contains(QLatin1String(didNotHoldKey)) ? Condition::DoesNotShut
                                                           : history.condition;
}

QString departmentName(const RepairHabits &habits, const QString &key)
{
    const RepairDepartment *department = habits.department(key);
    return department == nullptr ? key : department->name;
}

BacklogRow rowFor(const RepairRequest &request, const Valve *valve, const ValveHistory &history,
                  int services, const RepairHabits &habits, const QDate &today)
{
    BacklogRow row;
    row.request = &request;
    row.valve = valve;
    row.department = departmentName(habits, request.department);
    row.services = services;
    row.urgency = habits.urgencyOf(conditionFor(request.findings, history), request.findings,
                                   services, valve != nullptr && valve->isCritical());
    const QDate opened = request.opened.localDate();
    const QDate until = request.isOpen() ? today : request.closedOn;
    row.ageDays = std::max(0, static_cast<int>(opened.daysTo(until)));
    const RepairDepartment *department = habits.department(request.department);
    const int days =
        department == nullptr ? 0 : department->days[static_cast<std::size_t>(row.urgency)];
    if (request.isOpen() && !request.awaitsProof() && days > 0) {
        row.dueOn = opened.addDays(days);
        row.daysOverdue = static_cast<int>(row.dueOn.daysTo(today));
    }
    row.bucket = ageBucket(row.dueOn, today);
    return row;
}

QString stateWords(const RepairRequest &request)
{
    switch (request.state) {
    case RepairState::Sent:
        if (const RepairEvent *sent = request.lastOf(RepairStep::Sent)) {
            return QStringLiteral("sent %1").arg(iso(sent->on));
        }
        break;
    case RepairState::Scheduled:
        return request.scheduledFor.isNull()
                   ? QStringLiteral("scheduled")
                   : QStringLiteral("scheduled for %1").arg(iso(request.scheduledFor));
    case RepairState::Done:
        return QStringLiteral("done %1").arg(iso(request.doneOn));
    default:
        break;
    }
    return request.state == RepairState::Open ? QStringLiteral("not sent yet")
                                              : wordFor(request.state);
}

} // namespace

AgeBucket ageBucket(const QDate &due, const QDate &today)
{
    if (!due.isValid()) {
        return AgeBucket::NoDate;
    }
    const qint64 over = due.daysTo(today);
    if (over <= 0) {
        return AgeBucket::NotDue;
    }
    if (over <= 90) {
        return AgeBucket::UpTo90Days;
    }
    return over <= 365 ? AgeBucket::UpTo365Days : AgeBucket::Over365Days;
}

QString wordFor(AgeBucket bucket)
{
    switch (bucket) {
    case AgeBucket::NotDue:
        return QStringLiteral("not overdue");
    case AgeBucket::UpTo90Days:
        return QStringLiteral("1 to 90 days over");
    case AgeBucket::UpTo365Days:
        return QStringLiteral("91 to 365 days over");
    case AgeBucket::Over365Days:
        return QStringLiteral("more than 365 days over");
    case AgeBucket::NoDate:
        break;
    }
    return QStringLiteral("no date");
}

QString keyFor(AgeBucket bucket)
{
    static constexpr std::array keys{"not due", "1-90", "91-365", ">365", "no date"};
    return QLatin1String(keys[static_cast<std::size_t>(bucket)]);
}

std::vector<BacklogRow> backlogRows(const RepairBook &book, const std::vector<Valve> &valves,
                                    const Histories &histories, const ShutStakes &stakes,
                                    const RepairHabits &habits, const QDate &today, bool withClosed)
{
    static const ValveHistory nothing;
    QHash<ValveId, const Valve *> known;
    for (const Valve &valve : valves) {
        if (book.byValve.contains(valve.id)) {
            known.insert(valve.id, &valve);
        }
    }
    std::vector<BacklogRow> rows;
    for (const RepairRequest &request : book.requests) {
        if (request.isOpen() || withClosed) {
            const auto history = histories.constFind(request.valve);
            rows.push_back(rowFor(request, known.value(request.valve),
                                  history == histories.cend() ? nothing : *history,
                                  stakes.value(request.valve).services, habits, today));
        }
    }
    std::ranges::stable_sort(rows, [](const BacklogRow &a, const BacklogRow &b) {
        const auto key = [](const BacklogRow &row) {
            return std::tuple(!row.request->isOpen(), -static_cast<int>(row.urgency),
                              row.dueOn.isNull() ? 1 : -row.daysOverdue, -row.ageDays);
        };
        return key(a) != key(b) ? key(a) < key(b) : a.request->number < b.request->number;
    });
    return rows;
}

Urgency urgencyOf(const RepairProposal &proposal, const Valve &valve, const ValveHistory &history,
                  int services, const RepairHabits &habits)
{
    return habits.urgencyOf(conditionFor(proposal.findings, history), proposal.findings, services,
                            valve.isCritical());
}

BacklogCounts countsOf(const std::vector<BacklogRow> &rows)
{
    BacklogCounts counts;
    for (const BacklogRow &row : rows) {
        if (!row.request->isOpen()) {
            continue;
        }
        ++counts.open;
        counts.overdue += row.daysOverdue > 0 ? 1 : 0;
        counts.toProve += row.request->awaitsProof() ? 1 : 0;
        ++counts.byBucket[static_cast<std::size_t>(row.bucket)];
    }
    return counts;
}

QString wordsFor(const BacklogCounts &counts)
{
    return QStringLiteral("%1 open, %2 overdue, %3 done and to be proved")
        .arg(counts.open)
        .arg(counts.overdue)
        .arg(counts.toProve);
}

void holdForRepairs(std::vector<DueEntry> &entries, const RepairBook &book,
                    const RepairHabits &habits)
{
    bool isChanged = false;
    for (DueEntry &entry : entries) {
        const std::vector<const RepairRequest *> open = book.openOf(entry.valve);
        const auto holds = [&habits](const RepairRequest *request) {
            const RepairDepartment *department = habits.department(request->department);
            return !request->awaitsProof() && (department == nullptr || department->holdsRounds);
        };
        const auto holding = std::ranges::find_if(open, holds);
        const auto done = std::ranges::find_if(
            open, [](const RepairRequest *request) { return request->awaitsProof(); });
        if (holding != open.end()) {
            entry.state = DueState::WaitingForRepair;
            entry.priority = waitingPriority;
            entry.reason =
                QStringLiteral("Repair %1 (%2): %3, %4; the repair comes before the "
                               "next exercise")
                    .arg((*holding)->number, departmentName(habits, (*holding)->department),
                         findingsWords((*holding)->findings), stateWords(**holding));
            isChanged = true;
        } else if (done != open.end()) {
            if (!wantsVisit(entry.state)) {
                entry.state = DueState::Due;
            }
            entry.priority = std::max(entry.priority, 0.0) + provingPriority;
            entry.reason = QStringLiteral("Repair %1 was done on %2: a visit must prove it")
                               .arg((*done)->number, iso((*done)->doneOn));
            isChanged = true;
        }
    }
    if (isChanged) {
        std::ranges::stable_sort(entries, std::greater<>{}, &DueEntry::priority);
    }
}

QString repairLine(const RepairBook &book, const ValveId &valve)
{
    QStringList lines;
    for (const RepairRequest *request : book.openOf(valve)) {
        lines << (request->awaitsProof()
                      ? QStringLiteral("Repair %1 is done (%2, %3): this visit can prove it")
                            .arg(request->number, findingsWords(request->findings),
                                 iso(request->doneOn))
                      : QStringLiteral("Repair %1 is open: %2, %3")
                            .arg(request->number, findingsWords(request->findings),
                                 stateWords(*request)));
    }
    return lines.join(QStringLiteral("; "));
}

} // namespace keyround
