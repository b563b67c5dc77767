// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/round_commands.h"

#include "core/storage/round_store.h"

#include <QHash>

#include <algorithm>
#include <iterator>

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

struct Candidates
{
    std::vector<StopCandidate> free;
    std::vector<LeftOut> taken; ///< due, but a stop of another round that is not finished
};

/// Which round each valve waits on, of all that are not finished, but for the round itself.
QHash<ValveId, QString> stopsOfOtherRounds(Session &session, const RoundId &own)
{
    QHash<ValveId, QString> taken;
    for (const Round &round : session.rounds()) {
        if (round.id == own || round.state == RoundState::Finished) {
            continue;
        }
        const QString words = QObject::tr("Already a stop of the round of %1 (%2).")
                                  .arg(round.date.toString(Qt::ISODate), round.crew);
        for (const ValveId &id : round.stops) {
            taken.insert(id, words);
        }
    }
    return taken;
}

/// The due valves, or the given ones, as candidates. Two crews are not sent to one valve, unless
/// it was given.
Candidates candidatesFrom(Session &session, const RoundId &own, const std::vector<ValveId> &only)
{
    Candidates candidates;
    const auto take = [&](const ValveId &id) {
        if (const Valve *valve = session.valve(id)) {
            candidates.free.push_back(candidateFor(session, *valve));
        }
    };
    if (!only.empty()) {
        std::ranges::for_each(only, take);
        return candidates;
    }
    const QHash<ValveId, QString> others = stopsOfOtherRounds(session, own);
    for (const DueEntry &entry : session.dueList()) {
        if (!wantsVisit(entry.state)) {
            continue;
        }
        if (const auto other = others.constFind(entry.valve); other != others.cend()) {
            candidates.taken.push_back({entry.valve, *other});
        } else {
            take(entry.valve);
        }
    }
    return candidates;
}

} // namespace

Result<DrawnUpRound> drawUpRound(Session &session, Round day, const std::vector<ValveId> &only,
                                 const Progress &progress)
{
    Candidates candidates = candidatesFrom(session, day.id, only);
    if (candidates.free.empty() && !candidates.taken.empty()) {
        return fail(
            ErrorCode::NotFound,
            QObject::tr("Every valve that is due is already a stop of another round. Finish "
                        "or change that one, or choose valves by hand."));
    }
    if (candidates.free.empty()) {
        return fail(ErrorCode::NotFound,
                    QObject::tr("No valve is due, so there is nothing to plan. Choose valves by "
                                "hand, or look at the policy."));
    }
    auto plan =
        planDay(session.driveGraph(), day, candidates.free, session.settings().travel, progress);
    if (!plan) {
        return tl::unexpected(plan.error());
    }
    std::ranges::move(candidates.taken, std::back_inserter(plan->leftOut));
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
