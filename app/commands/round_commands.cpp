// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/round_commands.h"

#include "app/commands/push_command.h"
#include "app/commands/work_zone.h"
#include "app/models/notice_words.h"
#include "core/dayplan/crew.h"
#include "core/dayplan/held_stops.h"
#include "core/storage/round_store.h"

#include <QHash>
#include <QSet>

#include <algorithm>
#include <iterator>
#include <utility>

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

namespace {

Status replace(RoundStore &store, const std::optional<Round> &from, const std::optional<Round> &to)
{
    if (to) {
        return store.put(*to);
    }
    return from ? store.remove(from->id) : Status{};
}

} // namespace

ChangeRounds::ChangeRounds(Session &session, std::vector<Change> changes, const QString &text)
    : Command(session, text), m_changes(std::move(changes))
{
}

Status ChangeRounds::apply()
{
    return session().project().transaction([this] {
        Status status;
        for (const Change &change : m_changes) {
            status = status.and_then(
                [&] { return replace(session().project().rounds(), change.before, change.after); });
        }
        return status;
    });
}

Status ChangeRounds::revert()
{
    return session().project().transaction([this] {
        Status status;
        for (const Change &change : m_changes) {
            status = status.and_then(
                [&] { return replace(session().project().rounds(), change.after, change.before); });
        }
        return status;
    });
}

void ChangeRounds::announce()
{
    Q_EMIT session().notifier().roundsChanged();
}

Status setTold(Session &session, const RoundId &id, bool isTold)
{
    const Round *round = session.round(id);
    if (round == nullptr) {
        return fail(ErrorCode::NotFound,
                    QObject::tr("There is no such round in this project. Choose another."));
    }
    if (round->isTold == isTold) {
        return {};
    }
    Round after = *round;
    after.isTold = isTold;
    const QString text = isTold ? QObject::tr("Mark the round of %1 as told")
                                : QObject::tr("Mark the round of %1 as not told");
    return pushCommand(session,
                       std::make_unique<ChangeRound>(session, *round, std::move(after),
                                                     text.arg(round->date.toString(Qt::ISODate))));
}

StopCandidate candidateFor(Session &session, const Valve &valve, const Round &round)
{
    const ProjectSettings &settings = session.settings();
    const DueEntry *due = session.dueEntry(valve.id);
    const StreetAt street = session.streetAt(valve.id);
    const Result<SetUp> zone = setUpFor(session, valve);
    StopCandidate stop;
    stop.valve = valve.id;
    stop.number = valve.number;
    stop.place = valve.place;
    stop.minutes = minutesFor(valve, session.history(valve.id).baseline, street.kind,
                              settings.stopTimes, settings.learned, zone ? &*zone : nullptr)
                       .minutes;
    if (due != nullptr) {
        stop.priority = due->priority;
        stop.dueOn = due->dueOn;
    }
    stop.mustGo = round.mustGo.contains(valve.id);
    stop.hours = workHours(settings.busyHours, street.name, street.kind, round.date);
    stop.skills = skillsFor(settings.skillNeeds, valve);
    if (!round.date.isValid()) {
        stop.notBefore = firstDayWithNotice(session, valve.id); // for whatever day it fits
    } else if (const NoticeStanding notice =
                   noticeStanding(session, valve.id, QDateTime(round.date, round.shift.from));
               notice.state == NoticeState::Needed) {
        stop.heldBy = notice.words;
    }
    if (!stop.skills.isEmpty()) {
        stop.lacking = missingSkills(crewNamed(settings, round.crew), stop.skills);
    }
    return stop;
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
Candidates candidatesFrom(Session &session, const Round &day, const std::vector<ValveId> &only)
{
    Candidates candidates;
    QSet<ValveId> seen;
    const auto take = [&](const ValveId &id) {
        const Valve *valve = session.valve(id);
        if (valve != nullptr && !seen.contains(id)) {
            seen.insert(id);
            candidates.free.push_back(candidateFor(session, *valve, day));
        }
    };
    // What was decided by hand stays, due or not.
    const QSet<ValveId> held = heldValves(day);
    for (const ValveId &id : day.stops) {
        if (held.contains(id)) {
            take(id);
        }
    }
    for (const ValveId &id : day.mustGo) {
        take(id);
    }
    if (!only.empty()) {
        std::ranges::for_each(only, take);
        return candidates;
    }
    const QHash<ValveId, QString> others = stopsOfOtherRounds(session, day.id);
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
    Candidates candidates = candidatesFrom(session, day, only);
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

std::vector<StopCandidate> stopsOf(Session &session, const Round &round)
{
    std::vector<StopCandidate> stops;
    for (const ValveId &id : round.stops) {
        if (const Valve *valve = session.valve(id)) {
            stops.push_back(candidateFor(session, *valve, round));
        }
    }
    return stops;
}

Result<DayPlan> timesOf(Session &session, const Round &round, bool reorder)
{
    return timeRound(session.driveGraph(), round, stopsOf(session, round), reorder,
                     session.settings().travel);
}

} // namespace keyround
