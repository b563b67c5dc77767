// SPDX-License-Identifier: GPL-3.0-or-later
// One valve's whole life in words, as a table and as a sheet.
#include "core/reports/valve_life.h"

#include "tests/support/small_fleet.h"

#include <QtTest>

using namespace keyround;
using test::day;

namespace {

QStringList linesOf(const std::vector<LifeFact> &facts, const QString &heading)
{
    for (const LifeFact &fact : facts) {
        if (fact.heading == heading) {
            return fact.lines;
        }
    }
    return {};
}

QString cell(const ReportTable &table, std::size_t row, const char *column)
{
    return table.rows[row].value(table.columns.indexOf(QLatin1String(column)));
}

/// Two visits, a replacement, and one visit of the new valve.
test::SmallFleet fleetOfTwoLives()
{
    test::SmallFleet fleet;
    const ValveId valve = fleet.add(QStringLiteral("7"), 8, "low", 1990);
    fleet.visit(valve, day("2023-03-01"), 20);
    fleet.visit(valve, day("2024-03-01"), 9, {Problem::LidMissing});
    fleet.replace(valve, day("2024-06-01"));
    fleet.visit(valve, day("2025-03-01"), 24);
    return fleet;
}

} // namespace

class TestValveLife : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void visitsNewestFirstWithTheirLives()
    {
        const test::SmallFleet fleet = fleetOfTwoLives();
        const Histories histories = fleet.read();
        const ReportTable table = visitsTable(fleet.valves[0], histories[fleet.valves[0].id]);
        QCOMPARE(table.rows.size(), std::size_t{3});
        for (const QStringList &row : table.rows) {
            QCOMPARE(row.size(), table.columns.size());
            QCOMPARE(row[0], QStringLiteral("7"));
        }
        QCOMPARE(cell(table, 0, "Date"), QStringLiteral("2025-03-01"));
        QCOMPARE(cell(table, 0, "Life"), QStringLiteral("2"));
        QCOMPARE(cell(table, 1, "Life"), QStringLiteral("1"));
        QCOMPARE(cell(table, 1, "Turns"), QStringLiteral("9"));
        QCOMPARE(cell(table, 1, "Judged"), wordFor(Verdict::Short));
        QVERIFY(!cell(table, 1, "Problems").isEmpty());
        QCOMPARE(cell(table, 2, "Full cycle"), QStringLiteral("yes"));
        QCOMPARE(cell(table, 2, "Crew"), QStringLiteral("Crew 1"));
    }

    static void factsSayWhatIsKnown()
    {
        const test::SmallFleet fleet = fleetOfTwoLives();
        const Histories histories = fleet.read();
        Valve valve = fleet.valves[0];
        valve.criticalCustomers = QStringLiteral("An invented clinic");
        const auto facts = valveLifeFacts(valve, histories[valve.id], nullptr, {});
        const QStringList lives = linesOf(facts, QStringLiteral("Its lives, newest first"));
        QCOMPARE(lives.size(), 2);
        QVERIFY2(lives[0].contains(QStringLiteral("in the ground; 1 visit")), qPrintable(lives[0]));
        QVERIFY2(lives[1].contains(QStringLiteral("replaced on 2024-06-01; 2 visits")),
                 qPrintable(lives[1]));
        QCOMPARE(linesOf(facts, QStringLiteral("Repair requests, newest first")),
                 QStringList{QStringLiteral("none")});
        QCOMPARE(linesOf(facts, QStringLiteral("Cannot go without water")),
                 QStringList{QStringLiteral("An invented clinic")});
        QVERIFY(linesOf(facts, QStringLiteral("What next")).isEmpty());
    }

    static void theSheetLeavesOutWhatIsTheSameInEveryRow()
    {
        const test::SmallFleet fleet = fleetOfTwoLives();
        const Histories histories = fleet.read();
        const Valve &valve = fleet.valves[0];
        const ValveHistory &history = histories[valve.id];
        const auto facts = valveLifeFacts(valve, history, nullptr, {});
        const Sheet sheet =
            valveLifeSheet(valve, history, facts, day("2026-03-16"), UnitSystem::Us);
        QVERIFY(sheet.title.startsWith(QStringLiteral("Valve 7: 8 in gate")));
        QVERIFY(sheet.headerLines.join(QLatin1Char('\n')).contains(QStringLiteral("2026-03-16")));
        QVERIFY(sheet.table.columns.contains(QStringLiteral("Life")));
        QVERIFY(!sheet.table.columns.contains(QStringLiteral("Valve")));
        QCOMPARE(sheet.table.rows.size(), std::size_t{3});
        for (const QStringList &row : sheet.table.rows) {
            QCOMPARE(row.size(), sheet.table.columns.size());
        }

        test::SmallFleet unvisited;
        unvisited.add(QStringLiteral("8"), 8);
        const Valve &other = unvisited.valves[0];
        const ValveHistory nothing = unvisited.read()[other.id];
        const Sheet empty =
            valveLifeSheet(other, nothing, valveLifeFacts(other, nothing, nullptr, {}),
                           day("2026-03-16"), UnitSystem::Us);
        QVERIFY(empty.table.columns.isEmpty());
        QVERIFY(empty.notes.join(QLatin1Char(' ')).contains(QStringLiteral("No visit")));
    }
};

QTEST_GUILESS_MAIN(TestValveLife)
#include "test_valve_life.moc"
