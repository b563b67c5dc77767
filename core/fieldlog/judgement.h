// SPDX-License-Identifier: GPL-3.0-or-later
// Judging a count of turns: against which baseline, with which tolerance, and what it means.
#pragma once

#include "core/fieldlog/visit.h"
#include "core/inventory/valve.h"

#include <optional>

namespace keyround {

enum class BaselineSource { None, ConfirmedCycle, ListedTurns, RuleOfThumb };

/// The count that a valve is judged against. A rule of thumb is a range; the others are one count.
struct Baseline
{
    BaselineSource source = BaselineSource::None;
    QuarterTurns least;
    QuarterTurns most;
    QDate confirmedOn; ///< the day of the full cycle, for ConfirmedCycle
    friend bool operator==(const Baseline &, const Baseline &) = default;
};
/// "27 turns, counted on 2024-05-03", "26 to 27 turns, rule of thumb", "no baseline yet".
[[nodiscard]] QString wordsFor(const Baseline &baseline);

/// How far a count may be off and still be full: the larger of the two.
/// Default 2 turns and 10 % (common practice, no source).
struct Tolerance
{
    QuarterTurns turns = QuarterTurns::ofTurns(2);
    double share = 0.10;
};
/// The allowance for a baseline count, rounded down to whole quarter-turns.
[[nodiscard]] QuarterTurns allowance(const Tolerance &tolerance, QuarterTurns baseline);

enum class Verdict {
    NotJudged,  ///< nothing was tried, or there is no baseline to judge by
    Full,       ///< within the tolerance
    Short,      ///< turned, but fewer than the baseline: it did not close fully
    Beyond,     ///< more turns than the baseline: the list may be wrong, or the stem slips
    SpinsFree,  ///< turns without end: it does not close
    DoesNotTurn ///< could not be moved: said so, nut broken, or a pass of no turns
};
[[nodiscard]] QString wordFor(Verdict verdict);

struct Judgement
{
    Verdict verdict = Verdict::NotJudged;
    QuarterTurns counted; ///< the longest closing pass, or the longest opening one when none
    Baseline baseline;
    QuarterTurns allowed; ///< off either end of the baseline; worked out from its upper end
    friend bool operator==(const Judgement &, const Judgement &) = default;
};

/// The baseline from what is known before a visit: the last full cycle that was confirmed, else
/// the listed turns, else the rule of thumb (DESIGN.md names the order).
[[nodiscard]] Baseline baselineFor(const Valve &valve, const std::optional<Pass> &confirmed,
                                   const QDate &confirmedOn);

[[nodiscard]] Judgement judge(const std::vector<Pass> &passes, const QList<Problem> &problems,
                              const Baseline &baseline, const Tolerance &tolerance);

/// The turns of a visit that ran the valve from end to end and back: its longest closing pass, when
/// the longest opening one agrees within the allowance and no problem contradicts it (could not be
/// turned, spun, did not close). Whatever any baseline says.
[[nodiscard]] std::optional<QuarterTurns> travelBothWays(const Visit &visit,
                                                         const Tolerance &tolerance);

/// True when the visit ran the valve through its full travel both ways and the count was full
/// (or, without a baseline, when closing and opening passes agree within the allowance and no
/// problem contradicts it).
[[nodiscard]] bool madeFullCycle(const Visit &visit, const Judgement &judgement,
                                 const Tolerance &tolerance);

/// What a judgement asks the crew to do next, in common practice's words, deferring to the
/// utility's own procedure. Empty for a full count.
[[nodiscard]] QString adviceFor(const Judgement &judgement);
/// The same, one thing to try after another, for a screen that is read standing.
[[nodiscard]] QStringList nextStepsFor(const Judgement &judgement);

/// What a visit says of a valve.
enum class Condition {
    NeverVisited,
    Serviceable,
    Defect,      ///< serviceable with a defect
    DoesNotShut, ///< turns but short, or spins free
    DoesNotTurn,
    CannotReach, ///< not found, buried, box full
};
[[nodiscard]] QString wordFor(Condition condition);
[[nodiscard]] QString keyFor(Condition condition); ///< "does_not_shut": files and JSON
[[nodiscard]] std::optional<Condition> conditionFromKey(const QString &key);
/// True for DoesNotShut, DoesNotTurn and CannotReach: it will not hold water back when it counts.
[[nodiscard]] bool isOutOfCondition(Condition condition);

/// From the three questions: was it reached, does it turn, does it shut.
/// - Not turned, and not found, paved over, box full or no access: CannotReach. A parked car counts
///   too (it does not hold water back today); blockedOnlyForNow() tells it apart.
/// - Turned with a full count, or with no baseline to judge by: Serviceable; any problem but
///   a wrong position, a problem of the utility's own, or a count beyond the baseline, makes it
///   Defect. A valve found in the wrong position that made its cycle is Serviceable: the cycle
///   put it right.
/// - Reached, not turned, and a problem noted: Defect, unless it was known not to shut or turn.
/// - Reached, neither turned nor any problem found: says nothing and returns `before`.
[[nodiscard]] Condition conditionAfter(const Visit &visit, const Judgement &judgement,
                                       Condition before);

/// True when the only thing that kept the crew from the valve will go away by itself: no access
/// (a parked car, a locked gate), and no other reach problem.
[[nodiscard]] bool blockedOnlyForNow(const Visit &visit);

} // namespace keyround
