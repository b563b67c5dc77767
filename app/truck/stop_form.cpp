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
        form.passes.push_back({pass.direction, pass.turns, {}});
    }
    form.problems = visit.problems;
    form.otherProblem = visit.otherProblem;
    form.remarks = visit.remarks;
    form.correction = Correction{visit.id, who, {}, visit.finished, visit.crew};
    return form;
}

void countTurns(StopForm &form, QuarterTurns tapped)
{
    if (form.passes.empty()) {
        form.passes.emplace_back();
    }
    CountedPass &pass = form.passes.back();
    pass.turns.value += tapped.value;
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
}

void beginPass(StopForm &form, PassDirection direction)
{
    if (!form.passes.empty() && form.passes.back().turns.value == 0) {
        form.passes.back().direction = direction;
        return;
    }
    form.passes.push_back({direction, {}, {}});
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
            passes.push_back({pass.direction, pass.turns});
        }
    }
    return passes;
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
    visit.remarks = form.remarks.trimmed();
    if (form.correction) {
        visit.supersedes = form.correction->supersedes;
        visit.reason = form.correction->why.trimmed();
        visit.finished = form.correction->finished;
        visit.crew = form.correction->crew;
    }
    return visit;
}

} // namespace keyround
