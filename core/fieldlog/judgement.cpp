// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/judgement.h"

#include "core/inventory/turns.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

namespace keyround {

namespace {

QuarterTurns longest(const std::vector<Pass> &passes, PassDirection direction)
{
    QuarterTurns most;
    for (const Pass &pass : passes) {
        if (pass.direction == direction) {
            most = std::max(most, pass.turns);
        }
    }
    return most;
}

bool hasAny(const QList<Problem> &problems, std::initializer_list<Problem> wanted)
{
    return std::any_of(wanted.begin(), wanted.end(),
                       [&problems](Problem problem) { return problems.contains(problem); });
}

QString countText(QuarterTurns turns)
{
    return turns == QuarterTurns::ofTurns(1) ? QStringLiteral("1 turn")
                                             : QStringLiteral("%1 turns").arg(turnsText(turns));
}

} // namespace

QString wordsFor(const Baseline &baseline)
{
    switch (baseline.source) {
    case BaselineSource::ConfirmedCycle:
        return QStringLiteral("%1, counted on %2")
            .arg(countText(baseline.most), baseline.confirmedOn.toString(Qt::ISODate));
    case BaselineSource::ListedTurns:
        return QStringLiteral("%1, as listed").arg(countText(baseline.most));
    case BaselineSource::RuleOfThumb:
        return QStringLiteral("%1 to %2, rule of thumb")
            .arg(turnsText(baseline.least), countText(baseline.most));
    case BaselineSource::None:
        break;
    }
    return QStringLiteral("no baseline yet");
}

QuarterTurns allowance(const Tolerance &tolerance, QuarterTurns baseline)
{
    // The hair keeps 0.1 * 30 at 3 whatever the binary fraction makes of it.
    const auto share = static_cast<int>(std::floor(tolerance.share * baseline.value + 1e-9));
    return {std::max({tolerance.turns.value, share, 0})};
}

QString wordFor(Verdict verdict)
{
    switch (verdict) {
    case Verdict::Full:
        return QStringLiteral("full");
    case Verdict::Short:
        return QStringLiteral("short");
    case Verdict::Beyond:
        return QStringLiteral("beyond the baseline");
    case Verdict::SpinsFree:
        return QStringLiteral("spins free");
    case Verdict::DoesNotTurn:
        return QStringLiteral("does not turn");
    case Verdict::NotJudged:
        break;
    }
    return QStringLiteral("not judged");
}

Baseline baselineFor(const Valve &valve, const std::optional<Pass> &confirmed,
                     const QDate &confirmedOn)
{
    if (confirmed && confirmed->turns.value > 0) {
        return {BaselineSource::ConfirmedCycle, confirmed->turns, confirmed->turns, confirmedOn};
    }
    if (valve.listedTurns && valve.listedTurns->value > 0) {
        return {BaselineSource::ListedTurns, *valve.listedTurns, *valve.listedTurns, {}};
    }
    if (const std::optional<TurnRange> rule = ruleOfThumbTurns(valve)) {
        return {BaselineSource::RuleOfThumb, rule->least, rule->most, {}};
    }
    return {};
}

Judgement judge(const std::vector<Pass> &passes, const QList<Problem> &problems,
                const Baseline &baseline, const Tolerance &tolerance)
{
    Judgement judgement;
    judgement.baseline = baseline;
    judgement.allowed = allowance(tolerance, baseline.most);
    judgement.counted = longest(passes, PassDirection::Closing);
    if (judgement.counted.value == 0) {
        judgement.counted = longest(passes, PassDirection::Opening);
    }
    if (problems.contains(Problem::SpunContinuously)) {
        judgement.verdict = Verdict::SpinsFree;
    } else if (judgement.counted.value == 0) {
        // A pass of no turns is the key on the nut and nothing moving.
        const bool tried =
            !passes.empty() || hasAny(problems, {Problem::CouldNotOperate, Problem::NutBroken});
        judgement.verdict = tried ? Verdict::DoesNotTurn : Verdict::NotJudged;
    } else if (baseline.source == BaselineSource::None) {
        judgement.verdict = Verdict::NotJudged;
    } else if (judgement.counted.value < baseline.least.value - judgement.allowed.value) {
        judgement.verdict = Verdict::Short;
    } else if (judgement.counted.value > baseline.most.value + judgement.allowed.value) {
        judgement.verdict = Verdict::Beyond;
    } else {
        judgement.verdict = Verdict::Full;
    }
    return judgement;
}

std::optional<QuarterTurns> travelBothWays(const Visit &visit, const Tolerance &tolerance)
{
    const QuarterTurns closing = longest(visit.passes, PassDirection::Closing);
    const QuarterTurns opening = longest(visit.passes, PassDirection::Opening);
    if (closing.value == 0 || opening.value == 0 ||
        hasAny(visit.problems,
               {Problem::CouldNotOperate, Problem::SpunContinuously, Problem::DidNotClose})) {
        return std::nullopt;
    }
    const QuarterTurns allowed = allowance(tolerance, std::max(closing, opening));
    if (std::abs(closing.value - opening.value) > allowed.value) {
        return std::nullopt;
    }
    return closing;
}

bool madeFullCycle(const Visit &visit, const Judgement &judgement, const Tolerance &tolerance)
{
    if (!travelBothWays(visit, tolerance)) {
        return false;
    }
    return judgement.verdict == Verdict::Full ||
           (judgement.verdict == Verdict::NotJudged &&
            judgement.baseline.source == BaselineSource::None);
}

QStringList nextStepsFor(const Judgement &judgement)
{
    // Common practice (no source for the wording). The figures of the utility's own procedure come
    // first, so none are named here.
    const QString own = QStringLiteral("The utility's own procedure comes first.");
    switch (judgement.verdict) {
    case Verdict::Short:
        return {
            QStringLiteral("It stopped short of the baseline. Work it: go back a few turns, then "
                           "forward again, a little farther each time."),
            QStringLiteral("Use the least force that moves it, and never a longer bar."),
            QStringLiteral("Where your procedure allows, leave it slightly open for a while so "
                           "that the flow rinses the seat, then try again."),
            QStringLiteral("If it will not go farther, stop, count it back to where it was, and "
                           "report it."),
            own};
    case Verdict::Beyond:
        return {
            QStringLiteral("It went past the baseline. Check the size and the count, and "
                           "whether the flow really stopped: either the listed turns are wrong, "
                           "or the stem slips."),
            QStringLiteral("Note what you found."), own};
    case Verdict::SpinsFree:
        return {QStringLiteral("It turns without coming to an end, so the stem or its nut has "
                               "probably let go and the gate stays where it was."),
                QStringLiteral("Stop turning, note where the gate may stand, and report it before "
                               "you leave."),
                own};
    case Verdict::DoesNotTurn:
        return {
            QStringLiteral("It does not move. Check that the key sits squarely on the nut and "
                           "that the direction is right."),
            QStringLiteral("Try gently both ways with the least force; never use a longer bar."),
            QStringLiteral("If it stays put, stop and report it: a broken stem is worse than a "
                           "stuck one."),
            own};
    case Verdict::NotJudged:
        if (judgement.counted.value > 0) {
            return {QStringLiteral("There is no baseline to judge this count by. Count the turns "
                                   "both ways: when the two agree, this cycle becomes the "
                                   "baseline.")};
        }
        break;
    case Verdict::Full:
        break;
    }
    return {};
}

QString adviceFor(const Judgement &judgement)
{
    return nextStepsFor(judgement).join(QLatin1Char(' '));
}

} // namespace keyround
