// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/coming_days.h"

#include "app/commands/push_command.h"

#include <QSet>

#include <algorithm>
#include <tuple>
#include <utility>

namespace keyround {

namespace {

/// The crew's round of the day that is not finished; null when there is none.
const Round *openRound(Session &session, const QString &crew, const QDate &date)
{
    const auto &rounds = session.rounds();
    const auto found = std::ranges::find_if(rounds, [&](const Round &round) {
        return round.state != RoundState::Finished && round.date == date &&
               round.crew.compare(crew, Qt::CaseInsensitive) == 0;
    });
    return found == rounds.end() ? nullptr : &*found;
}

bool isFinished(Session &session, const QString &crew, const QDate &date)
{
    return std::ranges::any_of(session.rounds(), [&](const Round &round) {
        return round.state == RoundState::Finished && round.date == date &&
               round.crew.compare(crew, Qt::CaseInsensitive) == 0;
    });
}

Result<std::vector<CrewDayRequest>> crewDays(Session &session, const DaysWanted &wanted)
{
    const ProjectSettings &settings = session.settings();
    const QStringList names = wanted.crews.isEmpty() ? crewNames(settings) : wanted.crews;
    std::vector<CrewDayRequest> days;
    for (const QString &name : names) {
        Crew crew = crewNamed(settings, name);
        crew.daysOff += settings.holidays;
        for (const QDate &date : workingDays(crew, wanted.first, wanted.days)) {
            const Round *present = openRound(session, crew.name, date);
            if (present == nullptr && isFinished(session, crew.name, date)) {
                continue;
            }
            CrewDayRequest day;
            day.round = present != nullptr ? *present : emptyRound(settings, crew.name, date);
            day.skills = crew.skills;
            day.isFixed = day.round.isTold || day.round.state == RoundState::UnderWay;
            if (!day.round.start.isValid() || !day.round.finish.isValid()) {
                return fail(ErrorCode::BadInput,
                            QObject::tr("%1 has no yard to start from. Give the project a yard, or "
                                        "the crew one of its own.")
                                .arg(crew.name));
            }
            days.push_back(std::move(day));
        }
    }
    std::ranges::stable_sort(days, {}, [](const CrewDayRequest &day) {
        return std::tuple(day.round.date, day.round.crew);
    });
    return days;
}

/// What is due or already a stop of these days, but for what waits on rounds of other days.
std::vector<BacklogCandidate> backlogFor(Session &session, const std::vector<CrewDayRequest> &days)
{
    QSet<RoundId> own;
    QSet<ValveId> seen;
    std::vector<ValveId> wanted;
    const auto want = [&](const ValveId &id) {
        if (!seen.contains(id)) {
            seen.insert(id);
            wanted.push_back(id);
        }
    };
    for (const CrewDayRequest &day : days) {
        own.insert(day.round.id);
        std::ranges::for_each(day.round.stops, want);
    }
    for (const Round &round : session.rounds()) {
        if (round.state != RoundState::Finished && !own.contains(round.id)) {
            for (const ValveId &id : round.stops) {
                seen.insert(id);
            }
        }
    }
    for (const DueEntry &entry : session.dueList()) {
        if (wantsVisit(entry.state)) {
            want(entry.valve);
        }
    }
    std::vector<BacklogCandidate> backlog;
    for (const ValveId &id : wanted) {
        if (const Valve *valve = session.valve(id)) {
            const StreetAt street = session.streetAt(id);
            backlog.push_back({candidateFor(session, *valve, Round{}), street.name, street.kind});
        }
    }
    return backlog;
}

} // namespace

Result<ComingDays> drawUpComingDays(Session &session, const DaysWanted &wanted,
                                    const Progress &progress)
{
    auto days = crewDays(session, wanted);
    if (!days) {
        return tl::unexpected(days.error());
    }
    if (days->empty()) {
        return fail(ErrorCode::NotFound,
                    QObject::tr("No crew works on these days. Look at the crews' weekdays and days "
                                "off."));
    }
    ComingDaysRequest request;
    request.backlog = backlogFor(session, *days);
    if (request.backlog.empty()) {
        return fail(ErrorCode::NotFound,
                    QObject::tr("No valve is due, so there is nothing to plan. Choose valves by "
                                "hand, or look at the policy."));
    }
    request.days = std::move(*days);
    request.busyHours = session.settings().busyHours;
    return planComingDays(session.driveGraph(), request, session.settings().travel, progress);
}

std::vector<ChangeRounds::Change> changesFor(Session &session, const ComingDays &days)
{
    std::vector<ChangeRounds::Change> changes;
    for (const ComingDay &day : days.days) {
        const Round *present = session.round(day.round.id);
        if (present == nullptr) {
            if (!day.round.stops.empty()) {
                Round made = day.round;
                made.id = RoundId{newUuid7(session.now().utcMilliseconds)};
                changes.push_back({std::nullopt, std::move(made)});
            }
        } else if (day.round.stops.empty() && present->state == RoundState::Planned &&
                   !present->isTold) {
            changes.push_back({*present, std::nullopt});
        } else if (!(*present == day.round)) {
            changes.push_back({*present, day.round});
        }
    }
    return changes;
}

Status keepComingDays(Session &session, const ComingDays &days)
{
    std::vector<ChangeRounds::Change> changes = changesFor(session, days);
    if (changes.empty()) {
        return {};
    }
    return pushCommand(session,
                       std::make_unique<ChangeRounds>(session, std::move(changes),
                                                      QObject::tr("Draw up the coming days")));
}

} // namespace keyround
