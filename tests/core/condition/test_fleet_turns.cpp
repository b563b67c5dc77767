// SPDX-License-Identifier: GPL-3.0-or-later
// Counts against baselines, by hand, and how often a fleet that does not drift is said to.
#include "core/condition/fleet_turns.h"
#include "tests/support/small_fleet.h"

#include <QtTest>

#include <array>
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
        QVERIFY(isNear(group.chart->medianRange, 0.5));
        QVERIFY(isNear(group.chart->centre, 0.0));
        // A's third count against the mean of two, 20.5: no difference.
        QVERIFY(isNear(group.points[4].standardised, 0));
        const double sigma = 0.5 / 0.954;
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

    /// 277 written for 27, once: a slip, and no drift of a valve that counts 27 again.
    static void oneWildCountIsASlip()
    {
        test::SmallFleet fleet = countingFleet(60, 0, 6, 0);
        const ValveId wild = fleet.add(QStringLiteral("wild"), 8);
        const ValveId first = fleet.add(QStringLiteral("first"), 8);
        const ValveId last = fleet.add(QStringLiteral("last"), 8);
        const std::array counts{20.25, 20.0, 203.0, 20.0, 20.5, 20.25};
        for (std::size_t k = 0; k < counts.size(); ++k) {
            const QDate on(2010 + static_cast<int>(k), 6, 1);
            fleet.visit(wild, on, counts[k]);
            fleet.visit(first, on, k == 0 ? 203.0 : 20.25);
            fleet.visit(last, on, k == 5 ? 25.0 : 20.0);
        }
        const FleetTurns figure = fleetTurns(fleet.valves, fleet.read(), always);
        const TurnsGroup &group = figure.groups[0];
        int slips = 0;
        for (const TurnPoint &point : group.points) {
            slips += point.isSlip && point.turns > 200 ? 1 : 0;
            QVERIFY(!point.isSlip || point.rules.isEmpty());
            if (point.valve == first && point.turns < 200) {
                QCOMPARE(point.fromFirst, 0.0); // not 183 fewer than its slip
            }
        }
        QVERIFY(slips >= 1); // those not judged a failure anyhow
        for (const DriftingValve &drift : figure.drifting) {
            QVERIFY(drift.valve != wild && drift.valve != first);
        }
        // A newest count far off may be one too: nothing tells yet, so it is shown.
        const auto newest = std::ranges::find(figure.drifting, last, &DriftingValve::valve);
        QVERIFY(newest != figure.drifting.end());
        QCOMPARE(newest->words, QStringLiteral("one count far off those before: now 25 turns, 5 "
                                               "more than its first baseline of 20; a slip of "
                                               "counting or a change: the next count tells"));
        // Neither centre nor limits moved.
        QVERIFY(std::abs(group.chart->centre) < 0.5);
        QVERIFY(group.chart->upper < 3 && group.chart->lower > -3);
    }

    /// Few counts, one of them wild and the newest: limits keep to the others.
    static void limitsAreRobust()
    {
        test::SmallFleet fleet;
        for (int i = 0; i < 4; ++i) {
            const ValveId valve = fleet.add(QString::number(i), 8);
            for (int k = 0; k < 3; ++k) {
                const bool isWild = i == 3 && k == 2;
                fleet.visit(valve, QDate(2010 + k, 5, 1), isWild ? 277 : 20 + 0.25 * (k % 2));
            }
        }
        const FleetTurns figure = fleetTurns(fleet.valves, fleet.read(), always);
        const RobustChart &chart = *figure.groups[0].chart;
        QVERIFY2(chart.centre >= 0 && chart.centre <= 0.25,
                 qPrintable(QString::number(chart.centre)));
        QVERIFY(chart.lower < 0 && chart.upper > 0.25 && chart.upper < 2);
    }

    /// A list that is wrong by the gear tells of the list: the valve's own counts agree.
    static void wrongListIsNoDeviation()
    {
        test::SmallFleet fleet;
        const ValveId valve = fleet.add(QStringLiteral("geared"), 16);
        fleet.valves.back().type = ValveType::GearedGate;
        for (int k = 0; k < 4; ++k) {
            fleet.visit(valve, QDate(2010 + k, 5, 1), 123 + 0.25 * (k % 2));
        }
        Histories histories = fleet.read();
        for (ReadVisit &read : histories[valve].visits) {
            read.fullCycle = false; // none was confirmed
        }
        const FleetTurns figure = fleetTurns(fleet.valves, histories, always);
        int sound = 0;
        for (const TurnPoint &point : figure.groups[0].points) {
            sound += point.isFailure ? 0 : 1;
            QVERIFY2(std::abs(point.fromFirst) <= 0.25,
                     qPrintable(QString::number(point.fromFirst)));
        }
        QVERIFY(sound > 0);
    }

    /// A run that ended on a count back at the first baseline is no drift now; no words say "0
    /// more", and what is marked is what is listed.
    static void whatIsMarkedIsListed()
    {
        test::SmallFleet fleet = countingFleet(300, 30, 9, 0.4);
        for (int i = 0; i < 5; ++i) {
            const ValveId back = fleet.add(QStringLiteral("back %1").arg(i), 8);
            for (int k = 0; k < 9; ++k) {
                fleet.visit(back, QDate(2010 + k, 5, 2), k == 0 || k > 6 ? 20 : 18.25);
            }
        }
        const FleetTurns figure = fleetTurns(fleet.valves, fleet.read(), always);
        QVERIFY(figure.drifting.size() > 20);
        for (const DriftingValve &drift : figure.drifting) {
            QVERIFY(std::abs(drift.fromFirst) >= 0.25);
            QVERIFY2(!drift.words.contains(QStringLiteral(" 0 ")), qPrintable(drift.words));
            QVERIFY(!fleet
                         .valves[static_cast<std::size_t>(
                             std::ranges::find(fleet.valves, drift.valve, &Valve::id) -
                             fleet.valves.begin())]
                         .number.startsWith(QStringLiteral("back")));
        }
        std::size_t marked = 0;
        for (const TurnPoint &point : figure.groups[0].points) {
            marked += point.drifts ? 1 : 0;
        }
        QCOMPARE(marked, figure.drifting.size());
        QCOMPARE(static_cast<std::size_t>(figure.groups[0].drifting), marked);
        QVERIFY(figure.groups[0].sentence.contains(QStringLiteral("%1 drift now").arg(marked)));
    }

    static void spanChoosesPoints()
    {
        const test::SmallFleet fleet = countingFleet(10, 0, 4, 0);
        const FleetTurns figure =
            fleetTurns(fleet.valves, fleet.read(), {day("2011-01-01"), day("2012-12-31")});
        QCOMPARE(figure.counts, 20);
        const FleetTurns all = fleetTurns(fleet.valves, fleet.read(), always);
        QCOMPARE(figure.groups[0].chart->medianRange, all.groups[0].chart->medianRange);
        QVERIFY(fleetTurns(fleet.valves, {}, always).groups.empty());
    }
};

QTEST_GUILESS_MAIN(TestFleetTurns)
#include "test_fleet_turns.moc"
