// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/repairs/repair_book.h"

#include <QMap>
#include <QSet>

#include <algorithm>
#include <array>
#include <iterator>

namespace keyround {

namespace {

QString iso(const QDate &date)
{
    return date.toString(Qt::ISODate);
}

/// What stands of one department's findings on one valve.
struct DepartmentFindings
{
    QStringList keys;
    QDate since;
    QDate last;
    std::vector<VisitId> visits;
    std::vector<TickId> ticks;
};

template <typename Id> void addOnce(std::vector<Id> &ids, const Id &id)
{
    if (std::ranges::find(ids, id) == ids.end()) {
        ids.push_back(id);
    }
}

QMap<QString, DepartmentFindings> byDepartment(const std::vector<StandingFinding> &findings,
                                               const RepairHabits &habits)
{
    QMap<QString, DepartmentFindings> departments;
    for (const StandingFinding &finding : findings) {
        const RepairDepartment *department = habits.departmentFor(finding.key);
        if (department == nullptr) {
            continue;
        }
        DepartmentFindings &all = departments[department->key];
        all.keys << finding.key;
        all.since = all.since.isNull() ? finding.since : std::min(all.since, finding.since);
        all.last = std::max(all.last, finding.last);
        for (const VisitId &visit : finding.visits) {
            addOnce(all.visits, visit);
        }
        for (const TickId &tick : finding.ticks) {
            addOnce(all.ticks, tick);
        }
    }
    return departments;
}

/// Reads one valve: its requests, and what its visits and shuts propose.
class ValveProposals
{
public:
    ValveProposals(const RepairBook &book, const Valve &valve, const ValveHistory &history,
                   const std::vector<HoldFailure> &failures, const RepairHabits &habits)
        : m_book(book), m_valve(valve), m_history(history), m_failures(failures),
          m_standing(standingFindings(history, failures)),
          m_departments(byDepartment(m_standing, habits))
    {
    }

    [[nodiscard]] std::vector<RepairProposal> take()
    {
        for (auto found = m_departments.begin(); found != m_departments.end(); ++found) {
            proposeFor(found.key(), found.value());
        }
        for (const RepairRequest *request : m_book.openOf(m_valve.id)) {
            if (!m_departments.contains(request->department)) {
                proposeProof(*request);
            }
        }
        return std::move(m_proposals);
    }

private:
    [[nodiscard]] QDate dayOf(const VisitId &id) const
    {
        const auto read = std::ranges::find(m_history.visits, id,
                                            [](const ReadVisit &each) { return each.visit.id; });
        return read == m_history.visits.end() ? QDate() : read->visit.arrived.localDate();
    }

    [[nodiscard]] QDate dayOf(const TickId &id) const
    {
        const auto failure = std::ranges::find(m_failures, id, &HoldFailure::tick);
        return failure == m_failures.end() ? QDate() : failure->at.localDate();
    }

    [[nodiscard]] const RepairRequest *openRequest(const QString &department) const
    {
        for (const RepairRequest *request : m_book.openOf(m_valve.id)) {
            if (request->department == department) {
                return request;
            }
        }
        return nullptr;
    }

    /// Takes away what requests of this department have already, closed ones too: a person has
    /// decided on it.
    void takeKnown(DepartmentFindings &found, const QString &department) const
    {
        const auto indices = m_book.byValve.constFind(m_valve.id);
        if (indices == m_book.byValve.cend()) {
            return;
        }
        for (const std::size_t index : *indices) {
            const RepairRequest &request = m_book.requests[index];
            if (request.department != department) {
                continue;
            }
            std::erase_if(found.visits, [&](const VisitId &id) {
                const bool isPast =
                    request.state == RepairState::Proved && dayOf(id) <= request.closedOn;
                return isPast || std::ranges::find(request.visits, id) != request.visits.end();
            });
            std::erase_if(found.ticks, [&request](const TickId &id) {
                return std::ranges::find(request.ticks, id) != request.ticks.end();
            });
        }
    }

    void proposeFor(const QString &department, DepartmentFindings found)
    {
        takeKnown(found, department);
        const RepairRequest *open = openRequest(department);
        RepairProposal proposal{.kind = open == nullptr ? ProposalKind::Open : ProposalKind::Join,
                                .valve = m_valve.id,
                                .department = department,
                                .request = open == nullptr ? RequestId{} : open->id,
                                .findings = found.keys,
                                .since = found.since,
                                .on = found.last,
                                .visits = found.visits,
                                .ticks = found.ticks,
                                .words = QString()};
        if (open != nullptr && open->awaitsProof()) {
            proposal.kind = ProposalKind::Reopen;
            // Seen before the work was done: no news.
            const auto wasBefore = [&](const auto &id) { return dayOf(id) <= open->doneOn; };
            std::erase_if(proposal.visits, wasBefore);
            std::erase_if(proposal.ticks, wasBefore);
        }
        if (proposal.visits.empty() && proposal.ticks.empty()) {
            return;
        }
        proposal.words =
            open == nullptr
                ? QStringLiteral("%1 since %2").arg(findingsWords(found.keys), iso(found.since))
                : QStringLiteral("%1: seen again on %2")
                      .arg(findingsWords(found.keys), iso(found.last));
        m_proposals.push_back(std::move(proposal));
    }

    /// The newest visit that would have shown what the request is about, and did not.
    void proposeProof(const RepairRequest &request)
    {
        const QDate after = request.awaitsProof() ? request.doneOn : request.since;
        const auto visits = m_history.ofThisLife();
        const auto proof = std::find_if(visits.rbegin(), visits.rend(), [&](const ReadVisit &read) {
            return read.visit.arrived.localDate() >= after &&
                   std::ranges::find(request.visits, read.visit.id) == request.visits.end() &&
                   std::ranges::all_of(request.findings, [&read](const QString &finding) {
                       return couldHaveSeen(read, finding);
                   });
        });
        if (proof == visits.rend()) {
            return;
        }
        const QDate on = proof->visit.arrived.localDate();
        m_proposals.push_back(
            {.kind = ProposalKind::Prove,
             .valve = m_valve.id,
             .department = request.department,
             .request = request.id,
             .findings = {},
             .since = on,
             .on = on,
             .visits = {proof->visit.id},
             .ticks = {},
             .words = QStringLiteral("the visit of %1 no longer shows it").arg(iso(on))});
    }

    std::vector<RepairProposal> m_proposals;
    const RepairBook &m_book;
    const Valve &m_valve;
    const ValveHistory &m_history;
    const std::vector<HoldFailure> &m_failures;
    std::vector<StandingFinding> m_standing;
    QMap<QString, DepartmentFindings> m_departments;
};

void index(RepairBook &book)
{
    QSet<QString> shared;
    for (std::size_t i = 0; i < book.requests.size(); ++i) {
        const RepairRequest &request = book.requests[i];
        book.byId.insert(request.id, i);
        book.byValve[request.valve].push_back(i);
        if (book.byNumber.contains(request.number)) {
            shared.insert(request.number);
        }
        book.byNumber.insert(request.number, i);
    }
    for (const QString &number : shared) {
        book.byNumber.remove(number);
        book.sharedNumbers << number;
    }
    book.sharedNumbers.sort();
}

} // namespace

const RepairRequest *RepairBook::request(const RequestId &id) const
{
    const auto found = byId.constFind(id);
    return found == byId.cend() ? nullptr : &requests[*found];
}

const RepairRequest *RepairBook::byTypedNumber(const QString &typed) const
{
    const auto found = byNumber.constFind(requestNumberFrom(typed));
    return found == byNumber.cend() ? nullptr : &requests[*found];
}

std::vector<const RepairRequest *> RepairBook::openOf(const ValveId &valve) const
{
    std::vector<const RepairRequest *> open;
    const auto found = byValve.constFind(valve);
    if (found != byValve.cend()) {
        for (const std::size_t each : *found) {
            if (requests[each].isOpen()) {
                open.push_back(&requests[each]);
            }
        }
    }
    return open;
}

RepairBook makeRepairBook(std::vector<RepairEvent> events)
{
    RepairBook book;
    book.requests = foldRequests(std::move(events));
    index(book);
    return book;
}

std::vector<RepairProposal> repairProposals(const RepairBook &book,
                                            const std::vector<Valve> &valves,
                                            const Histories &histories,
                                            const std::vector<ShutLog> &shuts,
                                            const RepairHabits &habits)
{
    static const ValveHistory nothing;
    QHash<ValveId, std::vector<HoldFailure>> failures;
    for (const HoldFailure &failure : holdFailures(shuts)) {
        failures[failure.valve].push_back(failure);
    }
    std::vector<RepairProposal> proposals;
    for (const Valve &valve : valves) {
        const auto history = histories.constFind(valve.id);
        const ValveHistory &read = history == histories.cend() ? nothing : *history;
        const std::vector<HoldFailure> failed = failures.value(valve.id);
        if (valve.retired || (read.visits.empty() && failed.empty())) {
            continue; // without a sight of it nothing can be proposed
        }
        std::ranges::move(ValveProposals(book, valve, read, failed, habits).take(),
                          std::back_inserter(proposals));
    }
    return proposals;
}

std::vector<RepairEvent> eventsFor(const RepairProposal &proposal)
{
    static constexpr std::array steps{RepairStep::Opened, RepairStep::Evidence, RepairStep::Proved,
                                      RepairStep::Reopened};
    RepairEvent first;
    first.step = steps[static_cast<std::size_t>(proposal.kind)];
    first.request = proposal.request;
    first.findings = proposal.findings;
    first.on = proposal.kind == ProposalKind::Open ? proposal.since : proposal.on;
    if (proposal.kind == ProposalKind::Open) {
        const QUuid evidence =
            proposal.visits.empty() ? proposal.ticks.front().uuid : proposal.visits.front().uuid;
        first.request = requestIdFor(proposal.valve, proposal.department, evidence);
        first.number = requestNumber(first.request, proposal.since.year());
        first.valve = proposal.valve;
        first.department = proposal.department;
    }
    std::vector<RepairEvent> events;
    const auto add = [&](const VisitId &visit, const TickId &tick) {
        RepairEvent event = first;
        if (!events.empty()) {
            event = RepairEvent{};
            event.step = RepairStep::Evidence;
            event.request = first.request;
            event.findings = proposal.findings;
            event.on = proposal.on;
        }
        event.visit = visit;
        event.tick = tick;
        events.push_back(std::move(event));
    };
    for (const VisitId &visit : proposal.visits) {
        add(visit, {});
    }
    for (const TickId &tick : proposal.ticks) {
        add({}, tick);
    }
    return events;
}

} // namespace keyround
