// SPDX-License-Identifier: GPL-3.0-or-later
// Pace worked by hand, over a leap day.
#include "core/schedule/pace.h"
#include "tests/support/small_fleet.h"

#include <QtTest>

#include <cmath>

using namespace keyround;
using test::day;

namespace {

PolicyRule rule(const char *name, int months, std::optional<int> fromInches = {})
{
    PolicyRule made;
    made.name = QLatin1String(name);
    made.intervalMonths = months;
    if (fromInches) {
        made.sizeFrom = NominalSize::ofInches(*fromInches);
    }
    return made;
}

/// From 16 in yearly, the others every three years.
Policy yearlyAndThirds()
{
    Policy policy;
    policy.rules = {rule("large", 12, 16), rule("small", 36)};
    return policy;
}

bool isNear(double a, double b)
{
    return std::abs(a - b) < 1e-9;
}

test::SmallFleet fiveValves()
{
    test::SmallFleet fleet;
    const ValveId a = fleet.add(QStringLiteral("A"), 8, "low");
    const ValveId b = fleet.add(QStringLiteral("B"), 8, "low");
    const ValveId c = fleet.add(QStringLiteral("C"), 8, "high", 2000);
    const ValveId d = fleet.add(QStringLiteral("D"), 16, "high");
    fleet.add(QStringLiteral("E"), 8, "high", 2025);
    fleet.visit(a, day("2023-02-28"), 20); // the day before the twelve months begin
    fleet.visit(b, day("2023-03-01"), 20);
    fleet.visit(d, day("2024-01-15"), 20);
    fleet.visit(d, day("2024-02-10"), 20); // a second cycle of the year does not count
    fleet.visit(c, day("2024-02-29"), 9, {}, QStringLiteral("Crew 2"));
    return fleet;
}

} // namespace

class TestPace : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void byHand()
    {
        const test::SmallFleet fleet = fiveValves();
        const Pace pace = paceOf(fleet.valves, fleet.read(), yearlyAndThirds(),
                                 {day("2023-01-01"), day("2024-02-29")}, day("2024-02-29"));
        QCOMPARE(pace.years.size(), std::size_t{2});
        const PaceYear &now = pace.years[1];
        QCOMPARE(now.year, 2024);
        QVERIFY(!now.isWhole && pace.years[0].isWhole);
        QCOMPARE(now.all.valves, 4);          // E comes in 2025
        QVERIFY(isNear(now.all.target, 2.0)); // three thirds and one
        QCOMPARE(now.all.inspected, 2);       // C and D
        QCOMPARE(now.all.cycles, 1);          // D, once
        QCOMPARE(now.crewDays, 3);
        QCOMPARE(now.visits, 3);
        QCOMPARE(now.valvesADay, 1.0);
        QCOMPARE(now.bySize.size(), std::size_t{2});
        QCOMPARE(now.bySize[0].name, QStringLiteral("up to 8 in"));
        QVERIFY(isNear(now.bySize[0].target, 1.0));
        QCOMPARE(now.bySize[1].cycles, 1);
        QCOMPARE(now.byZone[0].name, QStringLiteral("high"));
        QCOMPARE(now.byZone[0].inspected, 2);
        QCOMPARE(now.months.size(), std::size_t{2});
        QCOMPARE(now.months[0].cycles, 1);
        QCOMPARE(now.months[1].inspected, 2);
        QCOMPARE(now.months[1].end, day("2024-02-29"));
        QCOMPARE(pace.years[0].all.cycles, 2);
        // Twelve months with a leap day in them: 2023-03-01 to 2024-02-29, 366 days, B and D.
        QCOMPARE(pace.paceOver.from, day("2023-03-01"));
        QVERIFY(isNear(pace.cyclesADay, 2.0 / 366));
        // One is missing: 183 days, to 30 August.
        QCOMPARE(pace.metOn, day("2024-08-30"));
        QVERIFY(!pace.isMet);
        QVERIFY2(pace.sentence.contains(QStringLiteral("1 of 2 full cycles")),
                 qPrintable(pace.sentence));
        QVERIFY(pace.sentence.contains(QStringLiteral("2024-08-30, in time")));
    }

    /// A year that is over is looked at as on its last day, whatever day it is now.
    static void aSpanThatIsPast()
    {
        const test::SmallFleet fleet = fiveValves();
        const Span span{day("2023-01-01"), day("2023-06-30")};
        const Pace past =
            paceOf(fleet.valves, fleet.read(), yearlyAndThirds(), span, day("2024-02-29"));
        const Pace then =
            paceOf(fleet.valves, fleet.read(), yearlyAndThirds(), span, day("2023-12-31"));
        QCOMPARE(past.years.size(), std::size_t{1});
        QCOMPARE(past.years.back().year, 2023);
        QVERIFY(past.years.back().isWhole);
        QCOMPARE(past.sentence, then.sentence);
        QVERIFY(past.sentence.startsWith(QStringLiteral("In 2023:")));
        QCOMPARE(past.cyclesADay, then.cyclesADay);
    }

    /// Three small valves, of which one is asked a year, and one large one that is asked every
    /// year.
    static void smallValvesDoNotMakeUpForLargeOnes()
    {
        test::SmallFleet fleet;
        for (int i = 0; i < 3; ++i) {
            fleet.visit(fleet.add(QString::number(i), 8), QDate(2023, 5, 1 + i), 20);
        }
        fleet.add(QStringLiteral("large"), 16);
        const Pace pace = paceOf(fleet.valves, fleet.read(), yearlyAndThirds(),
                                 {day("2023-01-01"), day("2023-12-31")}, day("2023-12-31"));
        QVERIFY(pace.isMet);
        QVERIFY2(pace.sentence.endsWith(QStringLiteral("Short of theirs: from 16 in (0 of 1).")),
                 qPrintable(pace.sentence));
    }

    static void minutesAndDays()
    {
        test::SmallFleet fleet = fiveValves();
        fleet.visits[2].finished.utcMilliseconds += 10 * 60000; // 30 minutes
        fleet.visits[3].finished = fleet.visits[3].arrived;     // no time was written
        const Pace pace = paceOf(fleet.valves, fleet.read(), yearlyAndThirds(),
                                 {day("2023-03-01"), day("2024-02-29")}, day("2024-02-29"));
        QCOMPARE(pace.minutes.size(), std::size_t{2});
        QCOMPARE(pace.minutes[0].visits, 2); // B and C
        QCOMPARE(pace.minutes[0].median, 20.0);
        QCOMPARE(pace.minutes[1].name, QStringLiteral("gate, from 16 in"));
        QCOMPARE(pace.minutes[1].visits, 1);
        QCOMPARE(pace.minutes[1].upperQuartile, 30.0);
    }

    static void metAndNever()
    {
        test::SmallFleet fleet = fiveValves();
        fleet.visit(fleet.valves[2].id, day("2024-03-10"), 20);
        const Pace met = paceOf(fleet.valves, fleet.read(), yearlyAndThirds(),
                                {day("2024-01-01"), day("2024-12-31")}, day("2024-12-31"));
        QVERIFY(met.isMet);
        QCOMPARE(met.metOn, day("2024-03-10"));
        QVERIFY(met.years.back().isWhole);
        const Pace never = paceOf(fleet.valves, {}, yearlyAndThirds(),
                                  {day("2024-01-01"), day("2024-12-31")}, day("2024-06-30"));
        QVERIFY(!never.isMet && never.metOn.isNull());
        QVERIFY(never.sentence.contains(QStringLiteral("never met")));
        const Pace exempt = paceOf(fleet.valves, fleet.read(), Policy(),
                                   {day("2024-01-01"), day("2024-12-31")}, day("2024-06-30"));
        QVERIFY(exempt.sentence.contains(QStringLiteral("asks for no exercise")));
    }

    static void twiceAYear()
    {
        test::SmallFleet fleet;
        const ValveId valve = fleet.add(QStringLiteral("A"), 8);
        for (const char *date : {"2025-02-01", "2025-02-01", "2025-06-01", "2025-10-01"}) {
            fleet.visit(valve, day(date), 20);
        }
        Policy policy;
        policy.rules = {rule("all", 6)};
        const Pace pace = paceOf(fleet.valves, fleet.read(), policy,
                                 {day("2025-01-01"), day("2025-12-31")}, day("2025-12-31"));
        QCOMPARE(pace.years[0].all.target, 2.0);
        QCOMPARE(pace.years[0].all.cycles, 2); // on two days, and no more than asked for
        QCOMPARE(pace.years[0].all.inspected, 1);
        QCOMPARE(pace.metOn, day("2025-06-01"));
    }

    /// The install year becomes the new valve's; the place and its cycles were there before.
    static void replacingLeavesPastYears()
    {
        test::SmallFleet fleet = fiveValves();
        const Span span{day("2023-01-01"), day("2024-02-29")};
        const auto pastYear = [&] {
            return paceOf(fleet.valves, fleet.read(), yearlyAndThirds(), span, day("2024-02-29"))
                .years[0];
        };
        const auto rowsOf = [&](int year) {
            return paceRows(fleet.valves, fleet.read(), yearlyAndThirds(), year, day("2024-02-29"))
                .size();
        };
        const PaceYear before = pastYear();
        fleet.replace(fleet.valves[0].id, day("2024-02-20"));
        fleet.valves[0].installYear = 2024;
        const PaceYear after = pastYear();
        QCOMPARE(before.all.valves, 4);
        QCOMPARE(after.all.valves, before.all.valves);
        QVERIFY(isNear(after.all.target, before.all.target));
        QCOMPARE(after.all.inspected, before.all.inspected);
        QCOMPARE(after.all.cycles, before.all.cycles);
        QCOMPARE(rowsOf(2023), std::size_t{4});
        // A first valve of 2010 was not there in 2009.
        fleet.replacements[0].oldInstallYear = 2010;
        QCOMPARE(rowsOf(2009), std::size_t{3}); // B, C and D
        QCOMPARE(rowsOf(2010), std::size_t{4});
    }

    static void rowsBehind()
    {
        const test::SmallFleet fleet = fiveValves();
        const auto rows =
            paceRows(fleet.valves, fleet.read(), yearlyAndThirds(), 2024, day("2024-02-29"));
        QCOMPARE(rows.size(), std::size_t{4});
        QVERIFY(rows[0].visit.isNull() && rows[0].cycledBy.isNull());
        QCOMPARE(rows[2].visit, fleet.visits[4].id);
        QVERIFY(rows[2].cycledBy.isNull());
        QCOMPARE(rows[3].cycles, 1);
        QCOMPARE(rows[3].visit, fleet.visits[3].id);
        QCOMPARE(rows[3].cycledBy, fleet.visits[2].id);
    }
};

QTEST_GUILESS_MAIN(TestPace)
#include "test_pace.moc"
