// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/stop_form.h"

#include "core/inventory/value_parsers.h"

#include <QObject>

#include <algorithm>

namespace keyround {

QString wordFor(StopStep step)
{
    switch (step) {
    case StopStep::GetThere:
        return QObject::tr("Get there");
    case StopStep::SetUp:
        return QObject::tr("Set up");
    case StopStep::Found:
        return QObject::tr("How found");
    case StopStep::Turn:
        return QObject::tr("Turn");
    case StopStep::Judge:
        return QObject::tr("Judge");
    case StopStep::Problems:
        return QObject::tr("Problems");
    case StopStep::Leave:
        return QObject::tr("Leave it");
    case StopStep::Finish:
        break;
    }
    return QObject::tr("Finish");
}

StopForm formToCorrect(const Visit &visit, const QString &who)
{
    StopForm form;
    form.step = StopStep::Found;
    form.arrived = visit.arrived;
    form.found = visit.found.position;
    form.left = visit.left.position;
    if (visit.found.turnsFromClosed) {
        form.foundTurns = turnsText(*visit.found.turnsFromClosed);
    }
    if (visit.left.turnsFromClosed) {
        form.leftTurns = turnsText(*visit.left.turnsFromClosed);
    }
    for (const Pass &pass : visit.passes) {
        CountedPass &counted = form.passes.emplace_back();
        counted.direction = pass.direction;
        counted.turns = pass.turns;
        counted.torque = pass.torque;
    }
    form.search = visit.search;
    form.lid = visit.lid;
    form.box = visit.box;
    form.lidFix = visit.lidFix;
    form.isSetUp = visit.setUpStood.has_value();
    form.setUpWords = visit.setUpStood.value_or(SetUpStood{}).what;
    form.problems = visit.problems;
    form.otherProblem = visit.otherProblem;
    form.ownProblems = visit.ownProblems;
    form.remarks = visit.remarks;
    form.correction = Correction{visit.id, who, {}, visit.finished, visit.crew};
    return form;
}

void countTurns(StopForm &form, QuarterTurns tapped, const Moment &at)
{
    if (form.passes.empty()) {
        form.passes.emplace_back();
    }
    CountedPass &pass = form.passes.back();
    pass.turns.value += tapped.value;
    if (pass.begun.isNull()) {
        pass.begun = at;
    }
    pass.lastTap = at;
    pass.taps += tapped == QuarterTurns::ofTurns(1) ? QLatin1Char('t') : QLatin1Char('q');
}

void takeOneBack(StopForm &form)
{
    if (form.passes.empty()) {
        return;
    }
    CountedPass &pass = form.passes.back();
    const bool quarter = pass.taps.endsWith(QLatin1Char('q'));
    pass.taps.chop(1);
    const int taken = quarter ? 1 : QuarterTurns::ofTurns(1).value;
    pass.turns.value = std::max(0, pass.turns.value - taken);
}

void setCount(StopForm &form, QuarterTurns counted)
{
    if (form.passes.empty()) {
        form.passes.emplace_back();
    }
    form.passes.back().turns = counted;
    form.passes.back().taps.clear();
    form.passes.back().begun = {};
    form.passes.back().lastTap = {};
}

void beginPass(StopForm &form, PassDirection direction)
{
    if (!form.passes.empty() && form.passes.back().turns.value == 0) {
        form.passes.back().direction = direction;
        return;
    }
    form.passes.emplace_back().direction = direction;
}

void removePass(StopForm &form, std::size_t index)
{
    if (index < form.passes.size()) {
        form.passes.erase(form.passes.begin() + static_cast<std::ptrdiff_t>(index));
    }
}

PassDirection directionUnderCount(const StopForm &form)
{
    return form.passes.empty() ? PassDirection::Closing : form.passes.back().direction;
}

QuarterTurns countUnderWay(const StopForm &form)
{
    return form.passes.empty() ? QuarterTurns{} : form.passes.back().turns;
}

std::vector<Pass> countedPasses(const StopForm &form)
{
    std::vector<Pass> passes;
    for (const CountedPass &pass : form.passes) {
        if (pass.turns.value > 0) {
            passes.push_back({pass.direction, pass.turns, pass.torque});
        }
    }
    return passes;
}

std::optional<Seconds> timeOf(const CountedPass &pass)
{
    if (pass.begun.isNull() || pass.lastTap.isNull()) {
        return std::nullopt;
    }
    const std::int64_t took = pass.lastTap.utcMilliseconds - pass.begun.utcMilliseconds;
    // A clock that was set back in between has nothing to say.
    return took < 0 ? std::nullopt : std::optional(Seconds{static_cast<double>(took) / 1000.0});
}

void setProblem(StopForm &form, Problem problem, bool on)
{
    form.problems.removeAll(problem);
    if (on) {
        form.problems.append(problem);
    }
}

void sayLid(StopForm &form, LidCondition lid)
{
    form.lid = form.lid == lid ? std::nullopt : std::optional(lid);
    setProblem(form, Problem::LidMissing,
               form.lid == LidCondition::Missing || form.lid == LidCondition::Broken);
}

void sayBox(StopForm &form, BoxCondition box)
{
    form.box = form.box == box ? std::nullopt : std::optional(box);
    setProblem(form, Problem::BoxFull, form.box == BoxCondition::Full);
    setProblem(form, Problem::BoxShifted, form.box == BoxCondition::Shifted);
}

void endSearch(StopForm &form, SearchOutcome outcome)
{
    if (!form.search) {
        form.search.emplace();
    }
    form.search->outcome = outcome;
    const bool given = outcome == SearchOutcome::NotFound || outcome == SearchOutcome::PavedOver;
    setProblem(form, Problem::NotFound, outcome == SearchOutcome::NotFound);
    setProblem(form, Problem::PavedOver, outcome == SearchOutcome::PavedOver);
    if (given) {
        form.found = Position::NotSeen;
        form.left = Position::NotSeen;
    } else if (form.found == Position::NotSeen) {
        form.found.reset();
        form.left.reset();
    }
}

namespace {

/// Why the turns beside "part open" cannot be taken; empty when they can, or are not asked for.
QString refusalOfTurns(const std::optional<Position> &position, const QString &turns)
{
    if (position != Position::PartOpen) {
        return {};
    }
    const auto read = parseTurns(turns);
    return read ? QString() : read.error().message;
}

std::optional<Missing> missingInCorrection(const StopForm &form)
{
    if (!form.correction) {
        return std::nullopt;
    }
    if (form.correction->who.trimmed().isEmpty()) {
        return Missing{StopStep::Finish, QObject::tr("Say who corrects the record.")};
    }
    if (form.correction->why.trimmed().isEmpty()) {
        return Missing{StopStep::Finish, QObject::tr("Say why the record is corrected.")};
    }
    return std::nullopt;
}

} // namespace

std::optional<Missing> missingIn(const StopForm &form)
{
    if (!form.found) {
        return Missing{StopStep::Found, QObject::tr("Say how the valve was found.")};
    }
    if (const QString why = refusalOfTurns(form.found, form.foundTurns); !why.isEmpty()) {
        return Missing{StopStep::Found, why};
    }
    if (form.typing && !form.typed.trimmed().isEmpty()) {
        return Missing{StopStep::Turn, QObject::tr("A typed count is not taken over yet: press "
                                                   "Enter in its line, or Escape to drop it.")};
    }
    if (form.typingTorque && !form.typedTorque.trimmed().isEmpty()) {
        return Missing{StopStep::Turn, QObject::tr("A typed torque is not taken over yet: press "
                                                   "Enter in its line, or Escape to drop it.")};
    }
    if (form.problems.contains(Problem::Other) && form.otherProblem.trimmed().isEmpty()) {
        return Missing{StopStep::Problems, QObject::tr("Say in words what the other problem is.")};
    }
    if (!form.left) {
        return Missing{StopStep::Leave, QObject::tr("Say how the valve was left.")};
    }
    if (const QString why = refusalOfTurns(form.left, form.leftTurns); !why.isEmpty()) {
        return Missing{StopStep::Leave, why};
    }
    return missingInCorrection(form);
}

Standing standingFrom(const std::optional<Position> &position, const QString &turns)
{
    Standing standing{position.value_or(Position::NotSeen), std::nullopt};
    if (standing.position == Position::PartOpen) {
        if (const auto read = parseTurns(turns)) {
            standing.turnsFromClosed = *read;
        }
    }
    return standing;
}

bool leavesOtherThanNormal(const StopForm &form, const Valve &valve)
{
    if (!form.left || *form.left == Position::NotSeen) {
        return false;
    }
    const Position normal =
        valve.normally == NormalPosition::Open ? Position::Open : Position::Closed;
    return *form.left != normal;
}

Result<Visit> visitFrom(const StopForm &form, const ValveId &valve, const RoundId &round,
                        const QString &crew, const Moment &now)
{
    if (const auto missing = missingIn(form)) {
        return fail(ErrorCode::BadInput, missing->what);
    }
    Visit visit;
    visit.valve = valve;
    visit.round = round;
    visit.arrived = form.arrived.isNull() ? now : form.arrived;
    visit.finished = now;
    visit.crew = crew;
    visit.found = standingFrom(form.found, form.foundTurns);
    visit.left = standingFrom(form.left, form.leftTurns);
    visit.passes = countedPasses(form);
    visit.problems = form.problems;
    if (form.problems.contains(Problem::Other)) {
        visit.otherProblem = form.otherProblem.trimmed();
    }
    visit.ownProblems = form.ownProblems;
    visit.remarks = form.remarks.trimmed();
    visit.search = form.search;
    visit.lid = form.lid;
    visit.box = form.box;
    visit.lidFix = form.lidFix;
    if (form.isSetUp) {
        visit.setUpStood = SetUpStood{form.setUpWords};
    }
    if (form.correction) {
        visit.supersedes = form.correction->supersedes;
        visit.reason = form.correction->why.trimmed();
        visit.finished = form.correction->finished;
        visit.crew = form.correction->crew;
    }
    return visit;
}

} // namespace keyround
