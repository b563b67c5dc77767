// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/repairs/standing_findings.h"

#include "core/repairs/repair_habits.h"

#include <algorithm>

namespace keyround {

namespace {

const ProblemInfo *problemOf(const QString &finding)
{
    const auto found = std::ranges::find_if(problemList(), [&finding](const ProblemInfo &info) {
        return finding == QLatin1String(info.key);
    });
    return found == problemList().end() ? nullptr : &*found;
}

bool wasTurned(const Visit &visit)
{
    return std::ranges::any_of(visit.passes, [](const Pass &pass) { return pass.turns.value > 0; });
}

/// The crew stood at the nut, or said something that only shows there.
bool wasReached(const Visit &visit)
{
    return wasTurned(visit) || visit.found.position != Position::NotSeen ||
           visit.left.position != Position::NotSeen ||
           std::ranges::any_of(visit.problems, [](Problem problem) {
               const ProblemGroup group = infoOf(problem).group;
               return group == ProblemGroup::Turn || group == ProblemGroup::Shut ||
                      group == ProblemGroup::Leak;
           });
}

void add(QStringList &keys, const char *key)
{
    if (!keys.contains(QLatin1String(key))) {
        keys << QLatin1String(key);
    }
}

void see(std::vector<StandingFinding> &standing, const QString &key, const QDate &on,
         const VisitId &visit)
{
    auto found = std::ranges::find(standing, key, &StandingFinding::key);
    if (found == standing.end()) {
        standing.push_back({key, on, on, {}, {}, {}});
        found = std::prev(standing.end());
    }
    found->last = std::max(found->last, on);
    found->visits.push_back(visit);
}

void readOne(std::vector<StandingFinding> &standing, const ReadVisit &read)
{
    const QStringList shown = findingsOf(read);
    std::erase_if(standing, [&](const StandingFinding &finding) {
        return !shown.contains(finding.key) && couldHaveSeen(read, finding.key);
    });
    for (const QString &key : shown) {
        see(standing, key, read.visit.arrived.localDate(), read.visit.id);
    }
}

void readFailure(std::vector<StandingFinding> &standing, const HoldFailure &failure)
{
    const QDate on = failure.at.localDate();
    auto found = std::ranges::find(standing, QLatin1String(didNotHoldKey), &StandingFinding::key);
    if (found == standing.end()) {
        standing.push_back({QLatin1String(didNotHoldKey), on, on, {}, {}, {}});
        found = std::prev(standing.end());
    }
    found->last = on;
    found->ticks.push_back(failure.tick);
    found->words = failure.words;
}

} // namespace

std::vector<HoldFailure> holdFailures(const std::vector<ShutLog> &shuts)
{
    std::vector<HoldFailure> failures;
    for (const ShutLog &shut : shuts) {
        const ShutStanding standing = standingOf(shut);
        for (auto failed = standing.didNotHold.begin(); failed != standing.didNotHold.end();
             ++failed) {
            const auto tick =
                std::find_if(shut.ticks.rbegin(), shut.ticks.rend(), [&](const ShutTick &each) {
                    return each.action == ShutAction::DidNotHold && each.valve == failed.key();
                });
            if (tick != shut.ticks.rend()) {
                failures.push_back({failed.key(), tick->id, tick->at, failed.value()});
            }
        }
    }
    std::ranges::sort(failures, [](const HoldFailure &a, const HoldFailure &b) {
        return std::tie(a.at, a.tick) < std::tie(b.at, b.tick);
    });
    return failures;
}

std::vector<StandingFinding> standingFindings(const ValveHistory &history,
                                              const std::vector<HoldFailure> &failures)
{
    std::vector<StandingFinding> standing;
    const QDate began = history.lives.back().began;
    auto failure = std::ranges::find_if(failures, [&began](const HoldFailure &each) {
        return began.isNull() || each.at.localDate() > began;
    });
    for (const ReadVisit &read : history.ofThisLife()) {
        for (; failure != failures.end() && failure->at <= read.visit.arrived; ++failure) {
            readFailure(standing, *failure);
        }
        readOne(standing, read);
    }
    for (; failure != failures.end(); ++failure) {
        readFailure(standing, *failure);
    }
    return standing;
}

QStringList findingsOf(const ReadVisit &read)
{
    QStringList keys;
    for (const Problem problem : read.visit.problems) {
        if (infoOf(problem).group != ProblemGroup::Position) {
            add(keys, infoOf(problem).key);
        }
    }
    for (const QString &own : read.visit.ownProblems) {
        if (!keys.contains(own)) {
            keys << own;
        }
    }
    switch (read.judgement.verdict) {
    case Verdict::Short:
        if (!read.visit.problems.contains(Problem::DidNotClose)) {
            add(keys, shortCountKey);
        }
        break;
    case Verdict::Beyond:
        add(keys, longCountKey);
        break;
    case Verdict::SpinsFree:
        add(keys, infoOf(Problem::SpunContinuously).key);
        break;
    case Verdict::DoesNotTurn:
        if (!read.visit.problems.contains(Problem::NutBroken)) {
            add(keys, infoOf(Problem::CouldNotOperate).key);
        }
        break;
    case Verdict::NotJudged:
    case Verdict::Full:
        break;
    }
    return keys;
}

bool couldHaveSeen(const ReadVisit &read, const QString &finding)
{
    if (finding == QLatin1String(didNotHoldKey)) {
        return read.fullCycle && read.after == Condition::Serviceable;
    }
    const ProblemInfo *problem = problemOf(finding);
    const bool isCount =
        finding == QLatin1String(shortCountKey) || finding == QLatin1String(longCountKey);
    if (problem == nullptr && !isCount) {
        return wasReached(read.visit); // the utility's own
    }
    if (isCount) {
        return wasTurned(read.visit) && read.judgement.verdict != Verdict::NotJudged;
    }
    switch (problem->group) {
    case ProblemGroup::Turn:
    case ProblemGroup::Shut:
    case ProblemGroup::Leak:
        return wasTurned(read.visit);
    default:
        return wasReached(read.visit);
    }
}

} // namespace keyround
