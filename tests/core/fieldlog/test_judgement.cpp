// SPDX-License-Identifier: GPL-3.0-or-later
// The tolerance of 2 turns or 10 %, whichever is more, and the meaning of each finding are common
// practice, no source. 27 turns for 8 in: Kansas Rural Water Association, The Kansas Lifeline,
// November 2011, page 24.
#include "core/fieldlog/judgement.h"

#include <rapidcheck.h>

#include <QtTest>

#include <algorithm>
#include <random>

using namespace keyround;

namespace {

constexpr auto closing = PassDirection::Closing;
constexpr auto opening = PassDirection::Opening;

Baseline listed(int turns)
{
    return {BaselineSource::ListedTurns,
            QuarterTurns::ofTurns(turns),
            QuarterTurns::ofTurns(turns),
            {}};
}

Pass pass(PassDirection direction, double turns)
{
    return {direction, {static_cast<int>(turns * 4)}};
}

std::vector<Pass> cycle(double down, double up)
{
    return {pass(closing, down), pass(opening, up)};
}

Visit visitWith(std::vector<Pass> passes, QList<Problem> problems = {})
{
    Visit visit;
    visit.passes = std::move(passes);
    visit.problems = std::move(problems);
    return visit;
}

} // namespace

Q_DECLARE_METATYPE(std::vector<keyround::Pass>)

class TestJudgement : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void allowances()
    {
        const Tolerance usual;
        QCOMPARE(allowance(usual, QuarterTurns::ofTurns(14)), QuarterTurns::ofTurns(2));
        QCOMPARE(allowance(usual, QuarterTurns::ofTurns(20)), QuarterTurns::ofTurns(2));
        QCOMPARE(allowance(usual, QuarterTurns::ofTurns(27)), QuarterTurns{10}); // 2.7 -> 2 1/2
        QCOMPARE(allowance(usual, QuarterTurns::ofTurns(30)), QuarterTurns{12}); // exactly 3
        QCOMPARE(allowance(usual, QuarterTurns::ofTurns(100)), QuarterTurns::ofTurns(10));
    }

    static void aProblemOfTheUtilitysOwnIsADefect()
    {
        Visit turned = visitWith(cycle(27, 27));
        turned.ownProblems = {QStringLiteral("Ants (invented)")};
        const Judgement full = judge(turned.passes, {}, listed(27), Tolerance());
        QVERIFY(conditionAfter(turned, full, Condition::NeverVisited) == Condition::Defect);
        Visit looked = visitWith({});
        looked.ownProblems = turned.ownProblems;
        const Judgement none = judge({}, {}, listed(27), Tolerance());
        QVERIFY(conditionAfter(looked, none, Condition::Serviceable) == Condition::Defect);
        QVERIFY(conditionAfter(looked, none, Condition::DoesNotShut) == Condition::DoesNotShut);
    }

    static void baselineOrder()
    {
        Valve valve;
        valve.type = ValveType::Gate;
        valve.size = NominalSize::ofInches(8);
        const QDate day(2024, 5, 3);
        QCOMPARE(wordsFor(baselineFor(valve, {}, {})),
                 QStringLiteral("26 to 27 turns, rule of thumb"));
        valve.listedTurns = QuarterTurns{110};
        QCOMPARE(wordsFor(baselineFor(valve, {}, {})), QStringLiteral("27 1/2 turns, as listed"));
        QCOMPARE(wordsFor(baselineFor(valve, pass(closing, 27), day)),
                 QStringLiteral("27 turns, counted on 2024-05-03"));
        valve.listedTurns.reset();
        valve.type = ValveType::GearedGate;
        QCOMPARE(wordsFor(baselineFor(valve, {}, {})), QStringLiteral("no baseline yet"));
    }

    static void verdicts_data()
    {
        QTest::addColumn<int>("baseline"); // turns as listed; 0: none
        QTest::addColumn<std::vector<Pass>>("passes");
        QTest::addColumn<QList<Problem>>("problems");
        QTest::addColumn<QString>("verdict");
        QTest::addColumn<QString>("condition");
        QTest::addColumn<bool>("full");
        const QList<Problem> none;
        const auto row = [](const char *name, int baseline, const std::vector<Pass> &passes,
                            const QList<Problem> &problems, const char *verdict,
                            const char *condition, bool full) {
            QTest::newRow(name) << baseline << passes << problems << QString::fromLatin1(verdict)
                                << QString::fromLatin1(condition) << full;
        };
        row("full", 27, cycle(27, 27), none, "full", "serviceable", true);
        row("full at the edge", 27, cycle(24.5, 24.5), none, "full", "serviceable", true);
        row("a quarter below", 27, cycle(24.25, 24.25), none, "short", "does_not_shut", false);
        row("upper edge", 27, cycle(29.5, 29.5), none, "full", "serviceable", true);
        row("a quarter above", 27, cycle(29.75, 29.75), none, "beyond the baseline", "defect",
            false);
        row("closed only", 27, {pass(closing, 27)}, none, "full", "serviceable", false);
        row("opened only", 27, {pass(opening, 27)}, none, "full", "serviceable", false);
        row("normally closed: open, then close", 27, {pass(opening, 27), pass(closing, 27)}, none,
            "full", "serviceable", true);
        row("back and forth counts the longest", 27,
            {pass(closing, 10), pass(opening, 3), pass(closing, 27), pass(opening, 27)}, none,
            "full", "serviceable", true);
        row("opened less than closed", 27, cycle(27, 20), none, "full", "serviceable", false);
        row("short", 27, cycle(12, 12), none, "short", "does_not_shut", false);
        row("stuck on the way", 27, cycle(5, 5), {Problem::CouldNotOperate}, "short",
            "does_not_shut", false);
        row("did not close at a full count", 27, cycle(27, 27), {Problem::DidNotClose}, "full",
            "does_not_shut", false);
        row("did not close, no count", 27, {}, {Problem::DidNotClose}, "not judged",
            "does_not_shut", false);
        row("spins", 27, cycle(60, 0), {Problem::SpunContinuously}, "spins free", "does_not_shut",
            false);
        row("could not be turned", 27, {}, {Problem::CouldNotOperate}, "does not turn",
            "does_not_turn", false);
        row("nut broken", 27, {}, {Problem::NutBroken}, "does not turn", "does_not_turn", false);
        row("nut broken after the cycle", 27, cycle(27, 27), {Problem::NutBroken}, "full", "defect",
            true);
        row("a pass of no turns", 27, {pass(closing, 0)}, none, "does not turn", "does_not_turn",
            false);
        row("not found", 27, {}, {Problem::NotFound}, "not judged", "cannot_reach", false);
        row("paved over", 27, {}, {Problem::PavedOver}, "not judged", "cannot_reach", false);
        row("box full", 27, {}, {Problem::BoxFull}, "not judged", "cannot_reach", false);
        row("parked car", 27, {}, {Problem::NoAccess}, "not judged", "cannot_reach", false);
        row("box full, zero typed", 27, {pass(closing, 0)}, {Problem::BoxFull}, "does not turn",
            "cannot_reach", false);
        row("box full but turned", 27, cycle(27, 27), {Problem::BoxFull}, "full", "defect", true);
        row("packing leak", 27, cycle(27, 27), {Problem::PackingLeak}, "full", "defect", true);
        row("hard to turn", 27, cycle(27, 26), {Problem::HardToTurn}, "full", "defect", true);
        row("stem bent", 27, cycle(27, 27), {Problem::StemBent}, "full", "defect", true);
        row("lid missing", 27, cycle(27, 27), {Problem::LidMissing}, "full", "defect", true);
        row("other way", 27, cycle(27, 27), {Problem::TurnsOtherWay}, "full", "defect", true);
        row("found closed, cycled", 27, cycle(27, 27), {Problem::FoundClosed}, "full",
            "serviceable", true);
        row("found closed, not turned", 27, {}, {Problem::FoundClosed}, "not judged", "defect",
            false);
        row("no baseline, agrees", 0, cycle(40, 39), none, "not judged", "serviceable", true);
        row("no baseline, disagrees", 0, cycle(40, 20), none, "not judged", "serviceable", false);
        row("no baseline, stuck", 0, cycle(4, 4), {Problem::CouldNotOperate}, "not judged",
            "defect", false);
        row("nothing done", 27, {}, none, "not judged", "never_visited", false);
    }
    static void verdicts()
    {
        QFETCH(int, baseline);
        QFETCH(std::vector<Pass>, passes);
        QFETCH(QList<Problem>, problems);
        QFETCH(QString, verdict);
        QFETCH(QString, condition);
        QFETCH(bool, full);
        // Which way the nut turns must not matter: passes are told as closing and opening.
        for (const auto closes :
             {ClosingDirection::Clockwise, ClosingDirection::Counterclockwise}) {
            Valve valve;
            valve.closes = closes;
            if (baseline > 0) {
                valve.listedTurns = QuarterTurns::ofTurns(baseline);
            }
            const Visit visit = visitWith(passes, problems);
            const Judgement judgement =
                judge(passes, problems, baselineFor(valve, {}, {}), Tolerance());
            QCOMPARE(wordFor(judgement.verdict), verdict);
            QCOMPARE(keyFor(conditionAfter(visit, judgement, Condition::NeverVisited)), condition);
            QCOMPARE(madeFullCycle(visit, judgement, Tolerance()), full);
        }
    }

    static void ruleOfThumbIsARange()
    {
        // 8 in: 26 to 27; the allowance of the upper end, 2 1/2, on both sides.
        const Baseline rule{
            BaselineSource::RuleOfThumb, QuarterTurns::ofTurns(26), QuarterTurns::ofTurns(27), {}};
        const auto at = [&rule](double turns) {
            return judge({pass(closing, turns)}, {}, rule, Tolerance()).verdict;
        };
        QCOMPARE(at(23.25), Verdict::Short);
        QCOMPARE(at(23.5), Verdict::Full);
        QCOMPARE(at(29.5), Verdict::Full);
        QCOMPARE(at(29.75), Verdict::Beyond);
    }

    static void aLookAloneRepairsNothing()
    {
        const Judgement nothing = judge({}, {}, listed(27), Tolerance());
        for (const Condition before :
             {Condition::NeverVisited, Condition::Serviceable, Condition::Defect,
              Condition::DoesNotShut, Condition::DoesNotTurn, Condition::CannotReach}) {
            QCOMPARE(conditionAfter(visitWith({}), nothing, before), before);
        }
        const Visit lid = visitWith({}, {Problem::LidMissing});
        QCOMPARE(conditionAfter(lid, nothing, Condition::Serviceable), Condition::Defect);
        QCOMPARE(conditionAfter(lid, nothing, Condition::CannotReach), Condition::Defect);
        QCOMPARE(conditionAfter(lid, nothing, Condition::DoesNotShut), Condition::DoesNotShut);
        QCOMPARE(conditionAfter(lid, nothing, Condition::DoesNotTurn), Condition::DoesNotTurn);
        const Visit mended = visitWith(cycle(27, 27));
        QCOMPARE(conditionAfter(mended, judge(mended.passes, {}, listed(27), Tolerance()),
                                Condition::DoesNotTurn),
                 Condition::Serviceable);
    }

    static void blockedForNow()
    {
        QVERIFY(blockedOnlyForNow(visitWith({}, {Problem::NoAccess})));
        QVERIFY(!blockedOnlyForNow(visitWith({}, {Problem::NoAccess, Problem::PavedOver})));
        QVERIFY(!blockedOnlyForNow(visitWith({}, {Problem::NotFound})));
        QVERIFY(!blockedOnlyForNow(visitWith(cycle(2, 2), {Problem::NoAccess})));
    }

    static void adviceDefersToTheUtility()
    {
        for (const Verdict verdict :
             {Verdict::Short, Verdict::Beyond, Verdict::SpinsFree, Verdict::DoesNotTurn}) {
            Judgement judgement;
            judgement.verdict = verdict;
            QVERIFY(adviceFor(judgement).contains(QLatin1String("own procedure")));
        }
        Judgement full;
        full.verdict = Verdict::Full;
        QVERIFY(adviceFor(full).isEmpty());
        QVERIFY(adviceFor(Judgement()).isEmpty());
        Judgement unknown;
        unknown.counted = QuarterTurns{40};
        QVERIFY(adviceFor(unknown).contains(QLatin1String("baseline")));
    }

    static void keysComeBack()
    {
        for (const Condition condition :
             {Condition::NeverVisited, Condition::Serviceable, Condition::Defect,
              Condition::DoesNotShut, Condition::DoesNotTurn, Condition::CannotReach}) {
            QCOMPARE(conditionFromKey(keyFor(condition)), std::optional(condition));
        }
        QVERIFY(!conditionFromKey(QStringLiteral("rusty")));
    }

    static void moreTurnsNeverTurnFullIntoShort()
    {
        QVERIFY(
            rc::check("verdicts rise with the count; the order of passes does not matter", []() {
                const Baseline baseline = listed(*rc::gen::inRange(1, 200));
                std::vector<Pass> passes;
                const int count = *rc::gen::inRange(1, 6);
                for (int i = 0; i < count; ++i) {
                    passes.push_back(
                        {*rc::gen::element(closing, opening), {*rc::gen::inRange(0, 900)}});
                }
                const Judgement judgement = judge(passes, {}, baseline, Tolerance());
                std::vector<Pass> mixed = passes;
                std::mt19937 random(static_cast<unsigned>(*rc::gen::inRange(0, 1000000)));
                std::shuffle(mixed.begin(), mixed.end(), random);
                RC_ASSERT(judge(mixed, {}, baseline, Tolerance()).verdict == judgement.verdict);
                const Judgement more =
                    judge({{closing, {judgement.counted.value + 1}}}, {}, baseline, Tolerance());
                const auto rank = [](Verdict v) {
                    return v == Verdict::DoesNotTurn ? 0
                           : v == Verdict::Short     ? 1
                           : v == Verdict::Full      ? 2
                                                     : 3;
                };
                RC_ASSERT(rank(more.verdict) >= rank(judgement.verdict));
            }));
    }
};

QTEST_GUILESS_MAIN(TestJudgement)
#include "test_judgement.moc"
