// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/history.h"

#include <algorithm>
#include <cstdlib>

namespace keyround {

namespace {

bool wasTurned(const Visit &visit)
{
    return std::any_of(visit.passes.begin(), visit.passes.end(),
                       [](const Pass &pass) { return pass.turns.value > 0; });
}

/// How the visit says the valve stands now: as left, or as found where nothing was turned.
Standing standingAfter(const Visit &visit)
{
    const bool asFound = visit.left.position == Position::NotSeen && !wasTurned(visit);
    return asFound ? visit.found : visit.left;
}

bool isNormal(const Standing &standing, NormalPosition normally)
{
    return standing.position ==
           (normally == NormalPosition::Open ? Position::Open : Position::Closed);
}

/// The valve as it was in the life that this replacement ended.
Valve asItWas(Valve valve, const Replacement &ending)
{
    valve.installYear = ending.oldInstallYear;
    valve.listedTurns = ending.oldListedTurns;
    valve.size = ending.oldSize;
    valve.type = ending.oldType;
    return valve;
}

bool isAfter(const Visit &visit, const Replacement &replacement)
{
    const QDateTime arrived = visit.arrived.local();
    return arrived.date() != replacement.on
               ? arrived.date() > replacement.on
               : replacement.time.isValid() && arrived.time() >= replacement.time;
}

/// What is said of the valve in the ground, before anybody has been there.
void beginLife(ValveHistory &history, const Valve &valve, const QDate &began)
{
    history.condition = Condition::NeverVisited;
    history.baseline = baselineFor(valve, std::nullopt, QDate());
    history.lastVisit = QDate();
    history.lastFullCycle = QDate();
    history.firstBad = QDate();
    history.leftOtherThanNormal.reset();
    ValveLife life;
    life.began = began;
    life.installed = began;
    if (began.isNull() && valve.installYear) {
        life.installed = QDate(*valve.installYear, 1, 1);
    }
    life.firstVisit = history.visits.size();
    life.endVisit = life.firstVisit;
    history.lives.push_back(life);
}

void readVisit(ValveHistory &history, const Valve &valve, Visit visit, const Tolerance &tolerance)
{
    const QDate date = visit.arrived.localDate();
    ReadVisit read;
    read.judgement = judge(visit.passes, visit.problems, history.baseline, tolerance);
    read.before = history.condition;
    read.after = conditionAfter(visit, read.judgement, read.before);
    read.fullCycle = madeFullCycle(visit, read.judgement, tolerance);
    if (read.fullCycle) {
        history.lastFullCycle = date;
        history.baseline =
            baselineFor(valve, Pass{PassDirection::Closing, read.judgement.counted}, date);
    }
    if (!isOutOfCondition(read.after)) {
        history.firstBad = QDate();
    } else if (!isOutOfCondition(read.before)) {
        history.firstBad = date;
    }
    const Standing standing = standingAfter(visit);
    if (standing.position != Position::NotSeen) {
        history.leftOtherThanNormal.reset();
        if (!isNormal(standing, valve.normally)) {
            history.leftOtherThanNormal = standing;
        }
    }
    history.condition = read.after;
    history.lastVisit = date;
    read.visit = std::move(visit);
    history.visits.push_back(std::move(read));
    history.lives.back().endVisit = history.visits.size();
}

/// Visits that stand, oldest first, and replacements that stand, all of this valve.
ValveHistory readInOrder(const Valve &valve, std::vector<Visit> visits,
                         const std::vector<Replacement> &replacements, const Tolerance &tolerance)
{
    ValveHistory history;
    history.lives.clear();
    history.visits.reserve(visits.size());
    auto next = visits.begin();
    QDate began;
    for (const Replacement &ending : replacements) {
        const Valve was = asItWas(valve, ending);
        beginLife(history, was, began);
        for (; next != visits.end() && !isAfter(*next, ending); ++next) {
            readVisit(history, was, std::move(*next), tolerance);
        }
        history.lives.back().ended = ending.on;
        began = ending.on;
    }
    beginLife(history, valve, began);
    for (; next != visits.end(); ++next) {
        readVisit(history, valve, std::move(*next), tolerance);
    }
    history.suggestedTurns = suggestListedTurns(valve, history, tolerance);
    return history;
}

} // namespace

ValveHistory readHistory(const Valve &valve, std::vector<Visit> visits, const Tolerance &tolerance,
                         const std::vector<Replacement> &replacements)
{
    std::vector<Visit> standing = standingVisits(std::move(visits)).visits;
    std::erase_if(standing, [&valve](const Visit &visit) { return visit.valve != valve.id; });
    std::vector<Replacement> ends = standingReplacements(replacements);
    std::erase_if(ends, [&valve](const Replacement &one) { return one.valve != valve.id; });
    return readInOrder(valve, std::move(standing), ends, tolerance);
}

Histories readHistories(const std::vector<Valve> &valves, const std::vector<Visit> &visits,
                        const std::vector<Replacement> &replacements, const Tolerance &tolerance)
{
    // Settled over all visits at once, so that a correction may move a visit to another valve.
    StandingVisits standing = standingVisits(visits);
    QHash<ValveId, std::vector<Visit>> byValve;
    byValve.reserve(static_cast<qsizetype>(valves.size()));
    for (Visit &visit : standing.visits) {
        byValve[visit.valve].push_back(std::move(visit));
    }
    QHash<ValveId, std::vector<Replacement>> ends;
    for (Replacement &one : standingReplacements(replacements)) {
        ends[one.valve].push_back(std::move(one));
    }
    Histories histories;
    histories.reserve(static_cast<qsizetype>(valves.size()));
    for (const Valve &valve : valves) {
        histories.insert(
            valve.id, readInOrder(valve, byValve.take(valve.id), ends.value(valve.id), tolerance));
    }
    return histories;
}

std::optional<QuarterTurns> suggestListedTurns(const Valve &valve, const ValveHistory &history,
                                               const Tolerance &tolerance)
{
    if (!valve.listedTurns || valve.listedTurns->value <= 0) {
        return std::nullopt;
    }
    std::vector<QuarterTurns> counts; // newest first
    const std::span<const ReadVisit> visits = history.ofThisLife();
    for (auto it = visits.rbegin(); it != visits.rend() && counts.size() < 2; ++it) {
        if (!wasTurned(it->visit)) {
            continue;
        }
        const std::optional<QuarterTurns> travel = travelBothWays(it->visit, tolerance);
        if (!travel) {
            return std::nullopt;
        }
        counts.push_back(*travel);
    }
    if (counts.size() < 2) {
        return std::nullopt;
    }
    const auto differ = [&tolerance](QuarterTurns a, QuarterTurns b) {
        return std::abs(a.value - b.value) > allowance(tolerance, b).value;
    };
    const QuarterTurns listed = *valve.listedTurns;
    if (differ(counts[0], counts[1]) || !differ(counts[0], listed) || !differ(counts[1], listed)) {
        return std::nullopt;
    }
    return counts[0];
}

bool needsRepair(const ValveHistory &history)
{
    const std::span<const ReadVisit> visits = history.ofThisLife();
    for (auto it = visits.rbegin(); it != visits.rend(); ++it) {
        if (it->after != Condition::CannotReach) {
            return isOutOfCondition(it->after);
        }
        // A visit that says nothing carries the condition on; look at the one that made it.
        const bool carried = it->before == it->after && it->visit.problems.isEmpty();
        if (!carried && !blockedOnlyForNow(it->visit)) {
            return true;
        }
    }
    return false;
}

} // namespace keyround
