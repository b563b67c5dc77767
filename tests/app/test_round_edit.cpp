// SPDX-License-Identifier: GPL-3.0-or-later
// What a hand does to a round's stops: held stretches, kept ends and marks stay true.
#include "app/yard/round_edit.h"

#include <QTest>

#include <random>

using namespace keyround;

namespace {

ValveId idOf(int number)
{
    return ValveId{uuidFromContent(QByteArray::number(number))};
}

/// Stops 0, 1, 2, ... without marks.
Round roundOf(int count)
{
    Round round;
    for (int i = 0; i < count; ++i) {
        round.stops.push_back(idOf(i));
    }
    return round;
}

QList<int> orderOf(const Round &round, int count)
{
    QList<int> order;
    for (const ValveId &id : round.stops) {
        for (int i = 0; i < count; ++i) {
            if (idOf(i) == id) {
                order << i;
            }
        }
    }
    return order;
}

} // namespace

class TestRoundEdit : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void heldStopsMoveTogetherAndNothingLandsBetween()
    {
        Round round = roundOf(6);
        round.heldToNext = {idOf(2), idOf(3)}; // 2, 3, 4 stay together
        QCOMPARE(heldStretch(round, 3), (HeldStretch{2, 4}));
        QCOMPARE(orderOf(withStopMoved(round, 3, 1), 6), (QList<int>{2, 3, 4, 0, 1, 5}));
        QCOMPARE(orderOf(withStopMoved(round, 0, 2), 6), (QList<int>{1, 2, 3, 4, 0, 5}));
        QCOMPARE(orderOf(withStopMoved(round, 5, 3), 6), (QList<int>{0, 1, 5, 2, 3, 4}));
        QCOMPARE(landingBefore(round, 3, 6), 4);
        QCOMPARE(orderOf(withStopMoved(round, 3, landingBefore(round, 3, 6)), 6),
                 (QList<int>{0, 1, 5, 2, 3, 4}));
        QCOMPARE(landingBefore(round, 3, 4), 3); // onto itself
    }

    void droppingMendsTheMarks()
    {
        Round round = roundOf(5);
        round.heldToNext = {idOf(1), idOf(2)};
        round.mustGo = {idOf(2), idOf(4)};
        round.firstIsPinned = true;
        const Round middle = withStopsDropped(round, {idOf(2)});
        QVERIFY(middle.heldToNext == QSet<ValveId>{idOf(1)}); // 1 and 3 stay together
        QVERIFY(middle.mustGo == QSet<ValveId>{idOf(4)});
        QVERIFY(middle.firstIsPinned);
        const Round end = withStopsDropped(round, {idOf(3)});
        QVERIFY(end.heldToNext == QSet<ValveId>{idOf(1)});
        QVERIFY(!withStopsDropped(round, {idOf(0)}).firstIsPinned);
    }

    void randomHandsNeverBreakAMark()
    {
        std::mt19937 dice(11);
        const auto roll = [&](int sides) { return int(dice() % unsigned(sides)); };
        for (int run = 0; run < 3000; ++run) {
            const int count = 2 + roll(9);
            Round round = roundOf(count);
            for (int i = 0; i + 1 < count; ++i) {
                if (roll(3) == 0) {
                    round.heldToNext.insert(idOf(i));
                }
            }
            round.firstIsPinned = roll(2) == 0;
            round.lastIsPinned = roll(2) == 0;
            const int from = roll(count);
            const Round after = withStopMoved(round, from, roll(count));
            Round without = round; // a kept stop that is itself taken away is let go of
            without.firstIsPinned = round.firstIsPinned && after.firstIsPinned;
            without.lastIsPinned = round.lastIsPinned && after.lastIsPinned;
            QVERIFY(keepsMarks(without, after.stops));
            const HeldStretch taken = heldStretch(round, from);
            QVERIFY(after.firstIsPinned || !round.firstIsPinned || taken.first == 0);
            QVERIFY(after.lastIsPinned || !round.lastIsPinned || taken.last == count - 1);
        }
    }
};

QTEST_GUILESS_MAIN(TestRoundEdit)
#include "test_round_edit.moc"
