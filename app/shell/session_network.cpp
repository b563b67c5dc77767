// SPDX-License-Identifier: GPL-3.0-or-later
// The session's half that knows of the pipe network: shuts, notices, and what a valve is worth.
#include "app/shell/session_cache.h"
#include "core/condition/holding.h"
#include "core/storage/network_fix_store.h"
#include "core/storage/shut_store.h"

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

ValveState stateOf(Session &session, const ValveId &id, const ShutMarks &marks, const QDate &day)
{
    const Valve *known = session.valve(id);
    return known == nullptr ? ValveState{} : holdingOf(*known, session.history(id), marks, day);
}

} // namespace

const NetworkFixes &Session::networkFixes()
{
    if (!m_cache->networkFixes) {
        m_cache->networkFixes =
            isOpen() ? valueOr(m_project->networkFixes().load(), {}) : NetworkFixes{};
    }
    return *m_cache->networkFixes;
}

const BuiltNetwork &Session::network()
{
    if (!m_cache->network) {
        NetworkOptions options;
        options.units = units();
        m_cache->network =
            valueOr(buildNetwork({mains(), valves(), hydrants(), services(), sources()}, options,
                                 networkFixes()),
                    {});
        m_cache->networkIndex.clear();
        const std::vector<NetValve> &placed = m_cache->network->network.valves;
        for (NetIndex i = 0; i < placed.size(); ++i) {
            m_cache->networkIndex.insert(placed[i].id, i);
        }
    }
    return *m_cache->network;
}

const ValveStates &Session::valveStates()
{
    if (!m_cache->valveStates || m_cache->valveStatesFor != today()) {
        m_cache->forgetStates();
        m_cache->valveStatesFor = today();
        const ShutMarks marks = shutMarks(shuts());
        m_cache->valveStates = statesFrom(network().network, [&](const NetValve &placed) {
            return stateOf(*this, placed.id, marks, m_cache->valveStatesFor);
        });
    }
    return *m_cache->valveStates;
}

void Session::readStatesAgain(const std::vector<ValveId> &valves)
{
    if (!m_cache->valveStates) {
        return;
    }
    const ShutMarks marks = shutMarks(shuts());
    for (const ValveId &id : valves) {
        const NetIndex index = networkIndex(id);
        if (index == noIndex) {
            continue;
        }
        ValveState &kept = (*m_cache->valveStates)[index];
        ValveState now = stateOf(*this, id, marks, m_cache->valveStatesFor);
        if (kept.holds != now.holds || kept.closed != now.closed) {
            // Most visits find a valve as it was known to be.
            m_cache->singleShuts.reset();
            m_cache->importances.reset();
        }
        kept = std::move(now);
    }
}

const SingleShuts &Session::singleShuts()
{
    const ValveStates &states = valveStates();
    if (!m_cache->singleShuts) {
        m_cache->singleShuts = SingleShuts(network().network, states);
    }
    return *m_cache->singleShuts;
}

const std::vector<ValveImportance> &Session::importances()
{
    const ValveStates &states = valveStates();
    if (!m_cache->importances) {
        m_cache->importances = valveImportance(network().network, states);
    }
    return *m_cache->importances;
}

NetIndex Session::networkIndex(const ValveId &valve)
{
    (void)network();
    return m_cache->networkIndex.value(valve, noIndex);
}

Load Session::shutLoad(const ValveId &valve)
{
    const NetIndex index = networkIndex(valve);
    return index == noIndex ? Load{} : singleShuts().of(index);
}

ShutStakes Session::shutStakes()
{
    ShutStakes stakes;
    if (mains().empty() || settings().shutWeight <= 0) {
        return stakes; // the network need not be built for this
    }
    const std::vector<ValveImportance> &all = importances();
    int most = 1;
    for (const ValveImportance &one : all) {
        most = std::max(most, one.outIfStuck.services);
    }
    for (NetIndex i = 0; i < all.size(); ++i) {
        const int services = all[i].outIfStuck.services;
        stakes.insert(network().network.valves[i].id,
                      {services, static_cast<double>(services) / most});
    }
    return stakes;
}

const std::vector<ShutLog> &Session::shuts()
{
    if (!m_cache->shuts) {
        m_cache->shuts = isOpen() ? valueOr(m_project->shuts().all(), {}) : std::vector<ShutLog>{};
    }
    return *m_cache->shuts;
}

const ShutLog *Session::shut(const ShutId &id)
{
    const std::vector<ShutLog> &all = shuts();
    const auto found = std::ranges::find(all, id, [](const ShutLog &log) { return log.begun.id; });
    return found == all.end() ? nullptr : &*found;
}

const std::vector<Notice> &Session::notices()
{
    if (!m_cache->notices) {
        m_cache->notices =
            isOpen() ? valueOr(m_project->shuts().notices(), {}) : std::vector<Notice>{};
    }
    return *m_cache->notices;
}

} // namespace keyround
