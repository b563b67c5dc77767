// SPDX-License-Identifier: GPL-3.0-or-later
// Shares, intervals and limits of a fleet that is counted by hand, and filters on it.
#include "core/condition/condition_bands.h"
#include "tests/support/small_fleet.h"

#include <QtTest>

using namespace keyround;
using test::day;

namespace {

bool isNear(double a, double b, double tolerance = 5e-5)
{
    return std::abs(a - b) <= tolerance;
}

/// Twenty valves. 2023: all visited, 18 serviceable. 2024: ten visited (every other one), 8
/// serviceable, one of them twice: short in spring, mended and full in autumn. 2025: nobody.
test::SmallFleet twentyValves()
{
    test::SmallFleet fleet;
    for (int i = 0; i < 20; ++i) {
        fleet.add(QStringLiteral("V%1").arg(i, 2, 10, QLatin1Char('0')), 8);
    }
    for (std::size_t i = 0; i < 20; ++i) {
        fleet.visit(fleet.valves[i].id, day("2023-05-02"), i < 2 ? 9 : 20);
    }
    for (std::size_t i = 0; i < 20; i += 2) {
        fleet.visit(fleet.valves[i].id, day("2024-04-03"), i < 6 ? 9 : 20);
    }
    fleet.visit(fleet.valves[4].id, day("2024-10-01"), 20);
    return fleet;
}

} // namespace

class TestConditionBands : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void sharesByHand()
    {
        const test::SmallFleet fleet = twentyValves();
        const ConditionOverTime figure = conditionOverTime(
            fleet.valves, fleet.read(), {day("2023-01-01"), day("2025-06-30")}, PeriodLength::Year);
        QCOMPARE(figure.periods.size(), std::size_t{3});
        const BandPeriod &all = figure.periods[0];
        QCOMPARE(all.kind, ShareKind::All);
        QCOMPARE(all.visited, 20);
        QCOMPARE(all.serviceable, 18);
        QCOMPARE(*all.share, 0.9);
        QVERIFY(!all.interval); // counted, not estimated
        const BandPeriod &some = figure.periods[1];
        QCOMPARE(some.kind, ShareKind::Sample);
        QCOMPARE(some.visited, 10);
        QCOMPARE(some.serviceable, 8); // the one that was mended counts by its last visit
        // Wilson 1927 by hand for 8 of 10: centre (0.8 + z2/20) / (1 + z2/10), z2 = 3.841459.
        QVERIFY(isNear(some.interval->from, 0.4902));
        QVERIFY(isNear(some.interval->to, 0.9433));
        const BandPeriod &none = figure.periods[2];
        QCOMPARE(none.kind, ShareKind::Nothing);
        QVERIFY(!none.share && !none.interval && !none.limits);
        QCOMPARE(none.counts.end, day("2025-06-30"));
        QCOMPARE(none.counts.of(Condition::DoesNotShut), 3); // nobody came, so nothing changed
        QCOMPARE(none.counts.of(Condition::Serviceable), 17);
    }

    static void limitsByHand()
    {
        // Pooled 26 of 30 = 0.866667; three standard errors at 20: 0.228035, at 10: 0.322490.
        const test::SmallFleet fleet = twentyValves();
        const ConditionOverTime figure = conditionOverTime(
            fleet.valves, fleet.read(), {day("2023-01-01"), day("2024-12-31")}, PeriodLength::Year);
        QVERIFY(isNear(figure.centre, 26.0 / 30.0));
        QVERIFY(isNear(figure.periods[0].limits->from, 0.866667 - 0.228035));
        QCOMPARE(figure.periods[0].limits->to, 1.0);
        QVERIFY(isNear(figure.periods[1].limits->from, 0.866667 - 0.322490));
        QVERIFY(!figure.periods[0].standsOut && !figure.periods[1].standsOut);
        QVERIFY(
            figure.sentence.contains(QStringLiteral("no difference that the numbers can show")));
        QVERIFY(figure.sentence.contains(QStringLiteral("No period stands out")));
    }

    static void marksWhatStandsOut()
    {
        // Month by month 100 of 100, then once 80: pooled 0.98, three standard errors 0.042.
        test::SmallFleet fleet;
        for (int i = 0; i < 101; ++i) {
            fleet.add(QString::number(i), 8);
        }
        for (int month = 1; month <= 10; ++month) {
            for (std::size_t i = 0; i < 100; ++i) {
                fleet.visit(fleet.valves[i].id, QDate(2024, month, 7),
                            month == 10 && i < 20 ? 9 : 20);
            }
        }
        const ConditionOverTime figure =
            conditionOverTime(fleet.valves, fleet.read(), {day("2024-01-01"), day("2024-10-31")},
                              PeriodLength::Month);
        for (const BandPeriod &period : figure.periods) {
            QCOMPARE(period.standsOut, period.counts.period == QStringLiteral("2024-10"));
            QCOMPARE(period.kind, ShareKind::Sample); // 100 of 101
        }
        QVERIFY(figure.sentence.contains(QStringLiteral("worse")));
        QVERIFY(figure.sentence.contains(QStringLiteral("2024-10")));
    }

    static void comparesWithAYearBefore()
    {
        // Every month of two years but February 2024; 40 of 100 fail and are mended in summer.
        test::SmallFleet fleet;
        for (int i = 0; i < 100; ++i) {
            fleet.add(QString::number(i), 8);
        }
        for (int month = 0; month < 23; ++month) {
            const QDate date = QDate(2023, 3, 7).addMonths(month);
            for (std::size_t i = 0; i < 100 && date != QDate(2024, 2, 7); ++i) {
                fleet.visit(fleet.valves[i].id, date, date.month() == 7 && i < 40 ? 9 : 20);
            }
        }
        const auto sentence = [&](const char *until) {
            return conditionOverTime(fleet.valves, fleet.read(), {day("2023-03-01"), day(until)},
                                     PeriodLength::Month)
                .sentence;
        };
        QVERIFY(sentence("2025-01-31").contains(QStringLiteral("Against 2024-01 ")));
        QVERIFY(sentence("2024-07-20").contains(QStringLiteral("Against 2023-07 ")));
        QVERIFY(sentence("2024-07-20").contains(QStringLiteral("no difference")));
        QVERIFY(sentence("2023-09-30").contains(QStringLiteral("Against 2023-03 "))); // too short
        fleet.visit(fleet.valves[0].id, day("2025-02-07"), 20);
        // Nobody came in February 2024: the month before it.
        QVERIFY(sentence("2025-02-28").contains(QStringLiteral("Against 2024-01 ")));
    }

    static void replacedValvesAreNotKnown()
    {
        test::SmallFleet fleet;
        const ValveId valve = fleet.add(QStringLiteral("A"), 8);
        fleet.visit(valve, day("2024-03-01"), 9);
        fleet.replace(valve, day("2024-06-15"));
        fleet.visit(valve, day("2024-09-01"), 20);
        const Histories histories = fleet.read();
        QCOMPARE(conditionOn(histories[valve], day("2024-02-29")), Condition::NeverVisited);
        QCOMPARE(conditionOn(histories[valve], day("2024-06-14")), Condition::DoesNotShut);
        QCOMPARE(conditionOn(histories[valve], day("2024-06-15")), Condition::NeverVisited);
        QCOMPARE(conditionOn(histories[valve], day("2024-09-01")), Condition::Serviceable);
        const ConditionOverTime figure = conditionOverTime(
            fleet.valves, histories, {day("2024-01-01"), day("2024-12-31")}, PeriodLength::Quarter);
        QCOMPARE(figure.periods[1].counts.of(Condition::NeverVisited), 1);
        QCOMPARE(figure.periods[1].visited, 0);
    }

    static void filters()
    {
        test::SmallFleet fleet;
        fleet.add(QStringLiteral("A"), 8, "low", 1961);
        fleet.add(QStringLiteral("B"), 8, "low", 1979);
        fleet.add(QStringLiteral("C"), 8, "low");
        fleet.valves[0].surface = QStringLiteral("Asphalt");
        fleet.valves[1].role = ValveRole::BlowOff;
        const auto taken = [&fleet](const ValveFilter &filter) {
            QString numbers;
            for (const Valve &valve : filtered(fleet.valves, filter)) {
                numbers += valve.number;
            }
            return numbers;
        };
        ValveFilter filter;
        filter.installedFrom = 1961;
        QCOMPARE(taken(filter), QStringLiteral("AB"));
        QCOMPARE(filter.words(UnitSystem::Us), QStringLiteral("installed 1961 or later"));
        filter.installedTo = 1978;
        QCOMPARE(taken(filter), QStringLiteral("A"));
        filter.surfaces = {QStringLiteral("asphalt")};
        filter.roles = {ValveRole::MainLine};
        QCOMPARE(taken(filter), QStringLiteral("A"));
        QCOMPARE(filter.words(UnitSystem::Us), QStringLiteral("asphalt; %1; installed 1961 to 1978")
                                                   .arg(wordFor(ValveRole::MainLine)));
        filter.roles = {ValveRole::BlowOff};
        QVERIFY(taken(filter).isEmpty());
        filter = {};
        filter.surfaces = {QString()};
        QCOMPARE(taken(filter), QStringLiteral("BC"));
        QCOMPARE(filter.words(UnitSystem::Us), QStringLiteral("surface not known"));
        QVERIFY(!filter.takesAll() && ValveFilter{}.takesAll());
    }
};

QTEST_GUILESS_MAIN(TestConditionBands)
#include "test_condition_bands.moc"
