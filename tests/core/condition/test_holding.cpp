// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/holding.h"

#include <QTest>

using namespace keyround;

namespace {

const QDate today(2026, 5, 4);

ShutTick tick(ShutAction action, const ValveId &valve, const QString &words = {})
{
    ShutTick one;
    one.action = action;
    one.valve = valve;
    one.words = words;
    return one;
}

ValveHistory historyOf(Condition condition, const QDate &cycle = {})
{
    ValveHistory history;
    history.condition = condition;
    history.lastFullCycle = cycle;
    history.lastVisit = QDate(2025, 4, 2);
    return history;
}

} // namespace

class HoldingTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void fromCondition_data();
    void fromCondition();
    void closedNow();
    void aShutGoesBeforeVisits();
    void aShutStepByStep();
};

void HoldingTest::fromCondition_data()
{
    QTest::addColumn<int>("condition");
    QTest::addColumn<QDate>("cycle");
    QTest::addColumn<int>("holds");
    const auto row = [](const char *name, Condition condition, const QDate &cycle, Holds holds) {
        QTest::newRow(name) << static_cast<int>(condition) << cycle << static_cast<int>(holds);
    };
    row("cycled last year", Condition::Serviceable, QDate(2025, 4, 2), Holds::Works);
    row("ten years to the day", Condition::Serviceable, QDate(2016, 5, 4), Holds::Works);
    row("longer ago", Condition::Serviceable, QDate(2016, 5, 3), Holds::Doubtful);
    row("no cycle on record", Condition::Serviceable, {}, Holds::Doubtful);
    row("defect", Condition::Defect, QDate(2025, 4, 2), Holds::Doubtful);
    row("does not shut", Condition::DoesNotShut, QDate(2020, 4, 2), Holds::DoesNotShut);
    row("does not turn", Condition::DoesNotTurn, {}, Holds::DoesNotTurn);
    row("cannot reach", Condition::CannotReach, {}, Holds::CannotReach);
    row("never visited", Condition::NeverVisited, {}, Holds::Unknown);
}

void HoldingTest::fromCondition()
{
    QFETCH(int, condition);
    QFETCH(QDate, cycle);
    const ValveState state =
        holdingOf({}, historyOf(static_cast<Condition>(condition), cycle), {}, today);
    QTEST(static_cast<int>(state.holds), "holds");
    QVERIFY(!state.why.isEmpty());
    QVERIFY(!state.closed);
}

void HoldingTest::closedNow()
{
    Valve valve;
    valve.normally = NormalPosition::Closed;
    ValveHistory history = historyOf(Condition::Serviceable, today);
    QVERIFY(holdingOf(valve, history, {}, today).closed);
    history.leftOtherThanNormal = Standing{Position::Open, {}};
    QVERIFY(!holdingOf(valve, history, {}, today).closed);
    valve.normally = NormalPosition::Open;
    history.leftOtherThanNormal = Standing{Position::Closed, {}};
    QVERIFY(holdingOf(valve, history, {}, today).closed);
    history.leftOtherThanNormal = Standing{Position::PartOpen, QuarterTurns{8}};
    QVERIFY(!holdingOf(valve, history, {}, today).closed);
}

void HoldingTest::aShutGoesBeforeVisits()
{
    Valve valve;
    valve.id = ValveId{newUuid7(1)};
    const ValveHistory good = historyOf(Condition::Serviceable, today);
    ShutLog log;
    log.ticks = {tick(ShutAction::DidNotHold, valve.id, QStringLiteral("passes water"))};
    const ValveState failed = holdingOf(valve, good, shutMarks({log}), today);
    QCOMPARE(failed.holds, Holds::DoesNotShut);
    QCOMPARE(failed.why, QStringLiteral("passes water"));
    log.ticks.push_back(tick(ShutAction::Closed, valve.id));
    const ValveState closed = holdingOf(valve, good, shutMarks({log}), today);
    QCOMPARE(closed.holds, Holds::Works);
    QVERIFY(closed.closed);
    // An ended shut says no more of what failed, but what was not opened is still closed.
    log.ticks.push_back(tick(ShutAction::Ended, {}));
    QVERIFY(holdingOf(valve, good, shutMarks({log}), today).closed);
}

void HoldingTest::aShutStepByStep()
{
    const ValveId a{newUuid7(1)};
    const ValveId b{newUuid7(1)};
    const ValveId c{newUuid7(1)};
    ShutLog log;
    log.ticks = {tick(ShutAction::Closed, a), tick(ShutAction::Closed, b),
                 tick(ShutAction::DidNotHold, b), tick(ShutAction::Closed, c),
                 tick(ShutAction::Noted, {}, QStringLiteral("water is down"))};
    const ShutStanding standing = standingOf(log);
    QCOMPARE(standing.closed, (std::vector<ValveId>{a, c}));
    QVERIFY(standing.didNotHold.contains(b));
    QVERIFY(!standing.isEnded);
    QCOMPARE(reopeningOrder(standing), (std::vector<ValveId>{c, a}));
    log.ticks.push_back(tick(ShutAction::Reopened, c));
    QCOMPARE(standingOf(log).closed, (std::vector<ValveId>{a}));
}

QTEST_GUILESS_MAIN(HoldingTest)
#include "test_holding.moc"
