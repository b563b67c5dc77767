// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/learn_times.h"

#include "app/commands/push_command.h"
#include "core/dayplan/timed_visits.h"

#include <algorithm>
#include <utility>

namespace keyround {

Result<LearnedTimes> timesFromRounds(Session &session, const Progress &progress)
{
    if (std::ranges::none_of(session.rounds(), [](const Round &round) {
            return round.state == RoundState::Finished;
        })) {
        return fail(ErrorCode::NotFound,
                    QObject::tr("No round is finished yet, so there is nothing to learn from. The "
                                "default times hold."));
    }
    const ProjectSettings &settings = session.settings();
    DriveGraphOptions options = driveOptions(settings);
    options.factors = noClassFactors;
    const DriveGraph ownSpeeds = DriveGraph::build(session.streets(), options);
    bool cancelled = false;
    const Progress watched = [&](double done, const QString &what) {
        cancelled = !report(progress, done, what);
        return !cancelled;
    };
    const std::vector<TimedVisit> visits =
        timedVisitsOf(session.rounds(), session.visits(), session.valves(), session.streets(),
                      ownSpeeds, settings.travel, watched);
    if (cancelled) {
        return fail(ErrorCode::Cancelled, QObject::tr("Stopped; no time was learned."));
    }
    return learnTimes(visits, settings.learned, settings.stopTimes.secondsPerTurn);
}

Status keepLearnedTimes(Session &session, LearnedTimes times)
{
    ProjectSettings after = session.settings();
    after.learned = std::move(times);
    return pushCommand(session,
                       std::make_unique<ChangeSettings>(session, std::move(after),
                                                        QObject::tr("Learn times from rounds")));
}

Status learnTimesFromRounds(Session &session, const Progress &progress)
{
    return timesFromRounds(session, progress).and_then([&session](LearnedTimes &&times) {
        return keepLearnedTimes(session, std::move(times));
    });
}

} // namespace keyround
