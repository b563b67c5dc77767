// SPDX-License-Identifier: GPL-3.0-or-later
// Counts against baselines, by hand, and how often a fleet that does not drift is said to.
#include "core/condition/fleet_turns.h"
#include "tests/support/small_fleet.h"

#include <QtTest>

#include <cmath>
#include <random>

using namespace keyround;
using test::day;

namespace {

const Span always{QDate(1990, 1, 1), QDate(2100, 1, 1)};

bool isNear(double a, double b, double tolerance = 1e-9)
{
    return std::abs(a - b) <= tolerance;
}

/// Valves whose counts wander about 20 by a spread of half a turn, in quarters; some creep up.
test::SmallFleet countingFleet(int valves, int creeping, int visits, double creepATime)
{
    std::mt19937_64 random(7);
    std::normal_distribution<double> noise(0, 0.5);
    test::SmallFleet fleet;
    for (int i = 0; i < valves; ++i) {
        const ValveId valve = fleet.add(QString::number(i), 8);
        for (int k = 0; k < visits; ++k) {
            const double creep = i < creeping ? creepATime * k : 0;
            const double turns = std::round(4 * (20 + creep + noise(random))) / 4;
            fleet.visit(valve, QDate(2010 + k, 5, 1), turns);
        }
    }
    return fleet;
}

} // namespace

class TestFleetTurns : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void oneValveByHand()
    {
        test::SmallFleet fleet;
        const ValveId valve = fleet.add(QStringLiteral("A"), 8);
        fleet.visit(valve, day("2020-05-01"), 21);
        fleet.visit(valve, day("2021-05-01"), 0, {Problem::NotFound});
        fleet.visit(valve, day("2022-05-01"), 12);
        const Histories histories = fleet.read();
        const ValveTurns figure = valveTurns(histories[valve], valve, Tolerance());
        QCOMPARE(figure.counts.size(), std::size_t{2});
        QCOMPARE(figure.counts[0].baseline.source, BaselineSource::ListedTurns);
        QCOMPARE(figure.counts[0].allowed, 2.0);
        QVERIFY(figure.counts[0].fullCycle);
        QCOMPARE(figure.counts[1].baseline.source, BaselineSource::ConfirmedCycle);
        QCOMPARE(figure.counts[1].verdict, Verdict::Short);
        QCOMPARE(figure.next.most, QuarterTurns::ofTurns(21));
        QVERIFY(figure.sentence.startsWith(QStringLiteral("2 counts; the last, 12 turns")));
        QVERIFY(valveTurns(ValveHistory(), valve, Tolerance()).counts.empty());
    }

    static void fleetByHand()
    {
        // A: 20, 21, 20.5 from its first cycle of 20; B: 22, 22, and 11, which is a failure.
        test::SmallFleet fleet;
        const ValveId a = fleet.add(QStringLiteral("A"), 8);
        const ValveId b = fleet.add(QStringLiteral("B"), 6);
        fleet.visit(a, day("2020-05-01"), 20);
        fleet.visit(a, day("2021-05-01"), 21);
        fleet.visit(a, day("2022-05-01"), 20.5);
        fleet.visit(b, day("2020-05-02"), 22);
        fleet.visit(b, day("2021-05-02"), 22);
        fleet.visit(b, day("2022-05-02"), 11);
        const FleetTurns figure = fleetTurns(fleet.valves, fleet.read(), always);
        QCOMPARE(figure.groups.size(), std::size_t{1}); // both are gates up to 8 in
        const TurnsGroup &group = figure.groups[0];
        QCOMPARE(group.valves, 2);
        QCOMPARE(group.points.size(), std::size_t{6});
        QCOMPARE(group.points[2].fromFirst, 1.0);
        QCOMPARE(group.points[4].fromJudged, -0.5); // judged against 21, the cycle before
        QVERIFY(group.points[5].isFailure);
        // Moving ranges within each: 1, 0.5 and 0; the failure makes none. Values 0, 1, .5, 0, 0.
        QVERIFY(isNear(group.chart->meanRange, 0.5));
        QVERIFY(isNear(group.chart->centre, 0.3));
        // A's third count against the mean of two, 20.5: no difference.
        QVERIFY(isNear(group.points[4].standardised, 0));
        const double sigma = 0.5 / 1.128;
        QVERIFY(isNear(group.points[2].standardised, 1 / (sigma * std::sqrt(2.0))));
        QVERIFY(figure.drifting.empty());
    }

    /// Half a turn a year never leaves the tolerance against the year before, and is seen here.
    static void findsSlowDrift()
    {
        const test::SmallFleet fleet = countingFleet(200, 20, 8, 0.5);
        const Histories histories = fleet.read();
        const FleetTurns figure = fleetTurns(fleet.valves, histories, always);
        int creeping = 0;
        int others = 0;
        for (const DriftingValve &drift : figure.drifting) {
            const auto index = static_cast<std::size_t>(
                std::ranges::find(fleet.valves, drift.valve, &Valve::id) - fleet.valves.begin());
            (index < 20 ? creeping : others) += 1;
            QVERIFY(!drift.words.isEmpty());
        }
        int failed = 0;
        for (std::size_t i = 0; i < 20; ++i) {
            failed += isOutOfCondition(histories[fleet.valves[i].id].condition) ? 1 : 0;
        }
        qInfo("of 20 that creep by half a turn a year %d are flagged, %d are out of condition; of "
              "180 that do not creep %d are flagged",
              creeping, failed, others);
        QVERIFY(creeping >= 15);
        QCOMPARE(failed, 0); // each count agrees with the one before
        QVERIFY(others <= 9);
    }

    /// Nelson's rules on independent standard values: a newest count ends a run of rules 1, 2, 3,
    /// 5 or 6 in about 1 to 2 of 100. A drift against one noisy baseline would be said of far more.
    static void seldomCriesWolf()
    {
        const test::SmallFleet fleet = countingFleet(600, 0, 12, 0);
        const FleetTurns figure = fleetTurns(fleet.valves, fleet.read(), always);
        const double share = static_cast<double>(figure.drifting.size()) / 600;
        qInfo("flagged without any drift: %.1f %%", 100 * share);
        QVERIFY(share < 0.035);
    }

    static void spanChoosesPoints()
    {
        const test::SmallFleet fleet = countingFleet(10, 0, 4, 0);
        const FleetTurns figure =
            fleetTurns(fleet.valves, fleet.read(), {day("2011-01-01"), day("2012-12-31")});
        QCOMPARE(figure.counts, 20);
        const FleetTurns all = fleetTurns(fleet.valves, fleet.read(), always);
        QCOMPARE(figure.groups[0].chart->meanRange, all.groups[0].chart->meanRange);
        QVERIFY(fleetTurns(fleet.valves, {}, always).groups.empty());
    }
};

QTEST_GUILESS_MAIN(TestFleetTurns)
#include "test_fleet_turns.moc"
