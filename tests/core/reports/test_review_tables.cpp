// SPDX-License-Identifier: GPL-3.0-or-later
// The Office's figures as tables: every row as long as its headings, and what cells say.
#include "core/reports/review_tables.h"

#include "core/reports/condition_tables.h"
#include "tests/support/small_fleet.h"

#include <QtTest>

using namespace keyround;
using test::day;

namespace {

const Span span{QDate(2023, 1, 1), QDate(2024, 12, 31)};
const QDate today(2024, 12, 31);

/// Thirty valves, ten of which go short in 2024; one of these is replaced, and the last one's count
/// creeps off within its tolerance.
test::SmallFleet fleetOfThirty()
{
    test::SmallFleet fleet;
    for (int i = 0; i < 30; ++i) {
        const ValveId valve = fleet.add(QString::number(i), 8, "low", 1990);
        fleet.visit(valve, QDate(2023, 3, 1), 20);
        fleet.visit(valve, QDate(2023, 9, 1), 20.5);
        fleet.visit(valve, QDate(2024, 3, 1), i < 10 ? 9 : i == 29 ? 22.25 : 20);
    }
    fleet.replace(fleet.valves[0].id, day("2024-06-01"));
    return fleet;
}

void checkShape(const ReportTable &table, std::size_t rows)
{
    QVERIFY(!table.title.isEmpty());
    QCOMPARE(table.rows.size(), rows);
    for (const QStringList &row : table.rows) {
        QCOMPARE(row.size(), table.columns.size());
    }
}

} // namespace

class TestReviewTables : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void shapes()
    {
        const test::SmallFleet fleet = fleetOfThirty();
        const Histories histories = fleet.read();
        Policy policy = startingPolicy();
        const Pace pace = paceOf(fleet.valves, histories, policy, span, today);
        checkShape(paceTable(pace), 6); // two years: all, a size class, a zone
        checkShape(crewDayTable(pace), 2);
        checkShape(minutesTable(pace), 1);
        const auto bands = conditionOverTime(fleet.valves, histories, span, PeriodLength::Quarter);
        checkShape(conditionOverTimeTable(bands), 8);
        const auto changes = conditionChanges(fleet.valves, histories, span, PeriodLength::Year);
        checkShape(changePeriodTable(changes), 2);
        checkShape(changeTable(changes, fleet.valves, histories, UnitSystem::Us), 11);
        const FleetTurns turns = fleetTurns(fleet.valves, histories, span);
        checkShape(turnsGroupTable(turns), 1);
        const ReportTable drift = driftTable(turns, fleet.valves, UnitSystem::Us);
        checkShape(drift, 1);
        QCOMPARE(drift.rows[0][0], QStringLiteral("29"));
        QCOMPARE(drift.rows[0][3], QStringLiteral("2024-03-01"));
        QCOMPARE(drift.rows[0][4], QStringLiteral("2.25"));
        checkShape(valveTurnsTable(
                       valveTurns(histories[fleet.valves[1].id], fleet.valves[1].id, Tolerance())),
                   3);
        const LifeLaws laws = fitLifeLaws(fleet.valves, histories);
        const auto due = dueList(fleet.valves, histories, policy, today);
        const auto next = whatNext(due, fleet.valves, histories, laws, {}, today);
        const ReportTable nextRows = whatNextTable(next, fleet.valves, UnitSystem::Us);
        checkShape(nextRows, 10); // nine that wait for repair, and the new one
        QCOMPARE(nextRows.rows[0][3], QStringLiteral("waiting for repair"));
        QCOMPARE(nextRows.rows.back()[0], QStringLiteral("0"));
        QCOMPARE(nextRows.rows.back()[3], QStringLiteral("never visited"));
        const Outlook ahead = outlook(fleet.valves, histories, policy, laws,
                                      usualPlans(fleet.valves, histories, today), today);
        checkShape(outlookTable(ahead), 4 * 6);
    }

    /// The ten that went short are out at the end of the period in which they did; the one that
    /// was replaced came back in the next.
    static void theMapsValvesByPeriod()
    {
        const test::SmallFleet fleet = fleetOfThirty();
        const Histories histories = fleet.read();
        const auto changes = conditionChanges(fleet.valves, histories, span, PeriodLength::Quarter);
        const auto at = [&](std::size_t period) {
            return outInPeriodTable(changes, period, fleet.valves, histories, UnitSystem::Us);
        };
        checkShape(at(3), 0); // the last quarter of 2023
        const ReportTable first = at(4);
        checkShape(first, 10);
        for (const QStringList &row : first.rows) {
            QCOMPARE(row[0], QStringLiteral("2024-03-31"));
            QCOMPARE(row[6], QStringLiteral("went out"));
            QCOMPARE(row[7], QStringLiteral("does not shut"));
            QCOMPARE(row[8], QStringLiteral("2024-03-01"));
            QVERIFY(row[9].startsWith(QStringLiteral("9 turns against")));
            QVERIFY(row[4].isEmpty()); // these have no place
        }
        const ReportTable second = at(5);
        checkShape(second, changes.periods[5].restored.empty() ? 9 : 10);
        QCOMPARE(second.rows[0][6], QStringLiteral("out before"));
        QCOMPARE(second.rows.size(), 9 + changes.periods[5].restored.size());
        if (!changes.periods[5].restored.empty()) {
            QCOMPARE(second.rows.back()[1], QStringLiteral("0"));
            QCOMPARE(second.rows.back()[6], QStringLiteral("came back"));
        }
    }

    static void ageingSaysWhereItCannotTell()
    {
        const test::SmallFleet fleet = fleetOfThirty();
        const Ageing all = ageingOf(fleet.valves, fleet.read(), AgeingBy::All, UnitSystem::Us);
        const ReportTable curve = ageingTable(all);
        checkShape(curve, all.groups[0].curve->steps.size());
        // All but the replaced one, whose install year is not known; those that fail in the step
        // too.
        QCOMPARE(curve.rows[0][6], QStringLiteral("29"));
        QCOMPARE(curve.rows[0][0], QStringLiteral("all valves"));
        checkShape(ageingReadings(all), 1);
        const Ageing decades = ageingOf(fleet.valves, fleet.read(), AgeingBy::InstallDecade,
                                        UnitSystem::Us, {.fewestLives = 1000, .fewestFailures = 5});
        const ReportTable none = ageingTable(decades);
        QVERIFY(none.rows[0].last().contains(QStringLiteral("too few to say")));
        QVERIFY(none.rows[0][1].isEmpty());
    }

    static void cells()
    {
        const test::SmallFleet fleet = fleetOfThirty();
        const Histories histories = fleet.read();
        const ReportTable bands = conditionOverTimeTable(
            conditionOverTime(fleet.valves, histories, span, PeriodLength::Year));
        QCOMPARE(bands.rows[0][0], QStringLiteral("2023"));
        QCOMPARE(bands.rows[0][8], QStringLiteral("30")); // visited
        QCOMPARE(bands.rows[0][10], QStringLiteral("100.0"));
        QCOMPARE(bands.rows[0][13], QStringLiteral("all visited"));
        QVERIFY(bands.rows[0][11].isEmpty()); // nothing was estimated
        const ReportTable changes =
            changeTable(conditionChanges(fleet.valves, histories, span, PeriodLength::Year),
                        fleet.valves, histories, UnitSystem::Us);
        QCOMPARE(changes.rows[0][4], QStringLiteral("went out of condition"));
        QVERIFY2(changes.rows[0][7].startsWith(QStringLiteral("9 turns against 20 1/2 turns")),
                 qPrintable(changes.rows[0][7]));
        QCOMPARE(changes.rows.back()[7], QStringLiteral("replaced by a new valve"));
    }

    static void whatWasCountedStandsInEveryRow()
    {
        ReportTable table{QStringLiteral("T"), {QStringLiteral("a")}, {{QStringLiteral("1")}}};
        QCOMPARE(counted(table, QString()).columns.size(), qsizetype{1});
        const ReportTable told = counted(table, QStringLiteral("zone High"));
        QCOMPARE(told.title, QStringLiteral("T; counted: zone High"));
        QCOMPARE(told.rows[0].last(), QStringLiteral("zone High"));
        checkShape(told, 1);
    }
};

QTEST_GUILESS_MAIN(TestReviewTables)
#include "test_review_tables.moc"
