// SPDX-License-Identifier: GPL-3.0-or-later
// What went out and came back, of a fleet that is counted by hand.
#include "core/condition/changes.h"
#include "tests/support/small_fleet.h"

#include <QtTest>

using namespace keyround;
using test::day;

class TestChanges : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void byHand()
    {
        test::SmallFleet fleet;
        const ValveId a = fleet.add(QStringLiteral("A"), 8);
        const ValveId b = fleet.add(QStringLiteral("B"), 8);
        const ValveId c = fleet.add(QStringLiteral("C"), 8);
        const ValveId gone = fleet.add(QStringLiteral("D"), 8);
        fleet.valves[3].retired = true;
        fleet.visit(a, day("2023-12-31"), 9); // before the span: out already
        const VisitId back = fleet.visit(a, day("2024-02-29"), 20);
        fleet.visit(b, day("2024-01-10"), 20);
        const VisitId out = fleet.visit(b, day("2024-02-29"), 9);
        fleet.visit(c, day("2024-03-31"), 0, {Problem::CouldNotOperate});
        fleet.replace(c, day("2024-05-05"));
        fleet.visit(c, day("2024-06-01"), 20);
        fleet.visit(gone, day("2024-02-01"), 9);

        const ConditionChanges figure =
            conditionChanges(fleet.valves, fleet.read(), {day("2024-01-01"), day("2024-06-30")},
                             PeriodLength::Quarter);
        QCOMPARE(figure.valves, 3);
        QCOMPARE(figure.all.size(), std::size_t{4});
        QCOMPARE(figure.all[0].kind, ChangeKind::Restored); // A before B on one day
        QCOMPARE(figure.all[0].change.visit, back);
        QCOMPARE(figure.all[1].kind, ChangeKind::WentOut);
        QCOMPARE(figure.all[1].change.visit, out);
        QCOMPARE(figure.all[1].change.from, Condition::Serviceable);
        QCOMPARE(figure.all[2].change.valve, c);
        QCOMPARE(figure.all[3].kind, ChangeKind::Restored);
        QVERIFY(figure.all[3].byReplacement && figure.all[3].change.visit.isNull());
        QCOMPARE(figure.all[3].change.date, day("2024-05-05"));

        QCOMPARE(figure.periods.size(), std::size_t{2});
        QCOMPARE(figure.periods[0].restored, std::vector<std::size_t>{0});
        QCOMPARE(figure.periods[0].wentOut, (std::vector<std::size_t>{1, 2}));
        QCOMPARE(figure.periods[0].outAtEnd, 2);
        QCOMPARE(figure.periods[1].restored, std::vector<std::size_t>{3});
        QCOMPARE(figure.periods[1].outAtEnd, 1);
        QVERIFY(figure.sentence.contains(
            QStringLiteral("2 times (1 found so at the first visit), restored 2 times")));
        QVERIFY(figure.sentence.contains(QStringLiteral("1 by replacement")));
    }

    static void nothing()
    {
        test::SmallFleet fleet;
        fleet.add(QStringLiteral("A"), 8);
        const ConditionChanges figure = conditionChanges(
            fleet.valves, {}, {day("2024-01-01"), day("2024-01-31")}, PeriodLength::Month);
        QVERIFY(figure.all.empty());
        QCOMPARE(figure.periods.size(), std::size_t{1});
        const ConditionChanges backwards = conditionChanges(
            fleet.valves, {}, {day("2024-02-01"), day("2024-01-31")}, PeriodLength::Month);
        QVERIFY(backwards.periods.empty() && !backwards.sentence.isEmpty());
    }
};

QTEST_GUILESS_MAIN(TestChanges)
#include "test_changes.moc"
