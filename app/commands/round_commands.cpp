// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/round_commands.h"

#include "core/storage/round_store.h"

#include <algorithm>

namespace keyround {

ChangeRound::ChangeRound(Session &session, std::optional<Round> before, Round after,
                         const QString &text)
    : Command(session, text), m_before(std::move(before)), m_after(std::move(after))
{
}

Status ChangeRound::apply()
{
    return session().project().rounds().put(m_after);
}

Status ChangeRound::revert()
{
    RoundStore &store = session().project().rounds();
    return m_before ? store.put(*m_before) : store.remove(m_after.id);
}

void ChangeRound::announce()
{
    Q_EMIT session().notifier().roundsChanged();
}

StopCandidate candidateFor(Session &session, const Valve &valve)
{
    const DueEntry *due = session.dueEntry(valve.id);
    return {valve.id, valve.number, valve.place,
            minutesFor(valve, session.history(valve.id).baseline, session.settings().stopTimes),
            due != nullptr ? due->priority : 0.0};
}

namespace {

/// The due valves, or the given ones, as candidates.
std::vector<StopCandidate> candidatesFrom(Session &session, const std::vector<ValveId> &only)
{
    std::vector<StopCandidate> candidates;
    const auto take = [&](const ValveId &id) {
        if (const Valve *valve = session.valve(id)) {
            candidates.push_back(candidateFor(session, *valve));
        }
    };
    if (!only.empty()) {
        std::ranges::for_each(only, take);
        return candidates;
    }
    for (const DueEntry &entry : session.dueList()) {
        if (wantsVisit(entry.state)) {
            take(entry.valve);
        }
    }
    return candidates;
}

} // namespace

Result<DrawnUpRound> drawUpRound(Session &session, Round day, const std::vector<ValveId> &only,
                                 const Progress &progress)
{
    const std::vector<StopCandidate> candidates = candidatesFrom(session, only);
    if (candidates.empty()) {
        return fail(ErrorCode::NotFound,
                    QObject::tr("No valve is due, so there is nothing to plan. Choose valves by "
                                "hand, or look at the policy."));
    }
    auto plan = planDay(session.driveGraph(), day, candidates, session.settings().travel, progress);
    if (!plan) {
        return tl::unexpected(plan.error());
    }
    if (day.id.isNull()) {
        day.id = RoundId{newUuid7(session.now().utcMilliseconds)};
    }
    day.stops.clear();
    for (const PlannedStop &stop : plan->stops) {
        day.stops.push_back(stop.valve);
    }
    return DrawnUpRound{std::move(day), std::move(*plan)};
}

Result<DayPlan> timesOf(Session &session, const Round &round, bool reorder)
{
    std::vector<StopCandidate> stops;
    for (const ValveId &id : round.stops) {
        if (const Valve *valve = session.valve(id)) {
            stops.push_back(candidateFor(session, *valve));
        }
    }
    return timeRound(session.driveGraph(), round, stops, reorder, session.settings().travel);
}

} // namespace keyround
