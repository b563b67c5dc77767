// SPDX-License-Identifier: GPL-3.0-or-later
// What the session knows of visits: the rows, the histories that are read from them, and what is
// due by these. One visit more is added to what is kept; see tookVisit().
#include "app/shell/session_cache.h"
#include "core/condition/holding.h"
#include "core/condition/one_more_visit.h"
#include "core/repairs/backlog.h"
#include "core/schedule/due_again.h"

#include <algorithm>

namespace keyround {

const std::vector<Visit> &Session::visits()
{
    if (!m_cache->visits) {
        m_cache->visits = isOpen() ? valueOr(m_project->visits().all(), {}) : std::vector<Visit>{};
    }
    return *m_cache->visits;
}

bool Session::keepOneMore(const Visit &visit)
{
    if (!m_cache->visits || m_cache->visits->empty()) {
        return false; // none that are kept may also mean that they could not be read
    }
    std::vector<Visit> &all = *m_cache->visits;
    if (!(all.back().stamp < visit.stamp)) {
        return false; // a new stamp is the highest; where it is not, the store sorts it in
    }
    if (all.size() == all.capacity()) {
        // Doubling would take half a gigabyte more for a day's stops in a million.
        constexpr std::size_t aWeekOfStops = 4096;
        all.reserve(all.size() + std::max(all.size() / 64, aWeekOfStops));
    }
    all.push_back(visit);
    if (!m_cache->histories) {
        m_cache->forgetDue();
        m_cache->forgetStates();
        return true;
    }
    const auto valveOf = [this](const ValveId &id) { return valve(id); };
    const std::vector<ValveId> touched = addToHistories(*m_cache->histories, visit, all, valveOf,
                                                        replacements(), settings().tolerance);
    readStatesAgain(touched);
    m_cache->due.reset();
    if (m_cache->dueByPolicy) {
        workOutAgain(*m_cache->dueByPolicy, touched, valveOf, *m_cache->histories,
                     settings().policy, m_cache->dueFor);
    }
    return true;
}

void Session::tookVisit(const Visit &visit)
{
    m_isVisitKept = keepOneMore(visit);
    Q_EMIT m_notifier.visitsChanged();
}

const Histories &Session::histories()
{
    if (!m_cache->histories) {
        m_cache->histories =
            readHistories(valves(), visits(), replacements(), settings().tolerance);
    }
    return *m_cache->histories;
}

const ValveHistory &Session::history(const ValveId &id)
{
    static const ValveHistory none;
    const Histories &all = histories();
    const auto found = all.constFind(id);
    return found == all.constEnd() ? none : *found;
}

const std::vector<DueEntry> &Session::dueList()
{
    if (m_cache->dueFor != today()) {
        m_cache->forgetDue();
        m_cache->dueFor = today();
    }
    if (!m_cache->due) {
        if (!m_cache->dueByPolicy) {
            m_cache->dueByPolicy =
                keyround::dueList(valves(), histories(), settings().policy, m_cache->dueFor);
        }
        m_cache->due = m_cache->dueByPolicy;
        weighByShuts(*m_cache->due, shutStakes(), settings().shutWeight);
        holdForRepairs(*m_cache->due, repairs(), settings().repairs);
        m_cache->dueIndex.clear();
        for (size_t i = 0; i < m_cache->due->size(); ++i) {
            m_cache->dueIndex.insert((*m_cache->due)[i].valve, i);
        }
    }
    return *m_cache->due;
}

const DueEntry *Session::dueEntry(const ValveId &id)
{
    const std::vector<DueEntry> &all = dueList();
    const auto found = m_cache->dueIndex.constFind(id);
    return found == m_cache->dueIndex.constEnd() ? nullptr : &all[*found];
}

std::vector<ValveId> Session::leftOtherThanNormal()
{
    const ShutMarks marks = shutMarks(shuts());
    std::vector<ValveId> left;
    for (const Valve &each : valves()) {
        const bool isShut = marks.closed.contains(each.id) && each.normally == NormalPosition::Open;
        if (isShut || history(each.id).leftOtherThanNormal) {
            left.push_back(each.id);
        }
    }
    return left;
}

} // namespace keyround
