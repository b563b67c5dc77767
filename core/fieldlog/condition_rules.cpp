// SPDX-License-Identifier: GPL-3.0-or-later
// What a visit says of a valve's condition (declared in judgement.h).
#include "core/fieldlog/judgement.h"

#include <algorithm>
#include <array>

namespace keyround {

namespace {

struct ConditionInfo
{
    Condition condition;
    const char *key;
    const char *word;
};

constexpr std::array conditionList{
    ConditionInfo{Condition::NeverVisited, "never_visited", "never visited"},
    ConditionInfo{Condition::Serviceable, "serviceable", "serviceable"},
    ConditionInfo{Condition::Defect, "defect", "serviceable with a defect"},
    ConditionInfo{Condition::DoesNotShut, "does_not_shut", "does not shut"},
    ConditionInfo{Condition::DoesNotTurn, "does_not_turn", "does not turn"},
    ConditionInfo{Condition::CannotReach, "cannot_reach", "cannot reach"},
};

bool wasTurned(const Visit &visit)
{
    return std::any_of(visit.passes.begin(), visit.passes.end(),
                       [](const Pass &pass) { return pass.turns.value > 0; });
}

bool keepsAway(Problem problem)
{
    return infoOf(problem).group == ProblemGroup::Reach || problem == Problem::BoxFull;
}

/// A wrong position alone is put right by the cycle itself.
bool isDefect(Problem problem)
{
    return infoOf(problem).group != ProblemGroup::Position;
}

} // namespace

QString wordFor(Condition condition)
{
    return QLatin1String(conditionList[static_cast<size_t>(condition)].word);
}

QString keyFor(Condition condition)
{
    return QLatin1String(conditionList[static_cast<size_t>(condition)].key);
}

std::optional<Condition> conditionFromKey(const QString &key)
{
    for (const ConditionInfo &info : conditionList) {
        if (key == QLatin1String(info.key)) {
            return info.condition;
        }
    }
    return std::nullopt;
}

bool isOutOfCondition(Condition condition)
{
    return condition == Condition::DoesNotShut || condition == Condition::DoesNotTurn ||
           condition == Condition::CannotReach;
}

bool blockedOnlyForNow(const Visit &visit)
{
    return !wasTurned(visit) && visit.problems.contains(Problem::NoAccess) &&
           std::none_of(visit.problems.begin(), visit.problems.end(), [](Problem problem) {
               return keepsAway(problem) && problem != Problem::NoAccess;
           });
}

Condition conditionAfter(const Visit &visit, const Judgement &judgement, Condition before)
{
    const QList<Problem> &problems = visit.problems;
    const bool turned = wasTurned(visit);
    // Was it reached?
    if (!turned && std::any_of(problems.begin(), problems.end(), keepsAway)) {
        return Condition::CannotReach;
    }
    // Does it turn?
    if (judgement.verdict == Verdict::DoesNotTurn) {
        return Condition::DoesNotTurn;
    }
    // Does it shut?
    if (judgement.verdict == Verdict::SpinsFree || judgement.verdict == Verdict::Short ||
        problems.contains(Problem::DidNotClose)) {
        return Condition::DoesNotShut;
    }
    if (turned) {
        // What the utility calls a problem of its own is a defect, as "other" is.
        const bool defect = judgement.verdict == Verdict::Beyond || !visit.ownProblems.isEmpty() ||
                            std::any_of(problems.begin(), problems.end(), isDefect);
        return defect ? Condition::Defect : Condition::Serviceable;
    }
    // Reached, not turned: a finding adds a defect, but a look alone repairs nothing.
    if (!hasProblems(visit) || before == Condition::DoesNotShut ||
        before == Condition::DoesNotTurn) {
        return before;
    }
    return Condition::Defect;
}

} // namespace keyround
