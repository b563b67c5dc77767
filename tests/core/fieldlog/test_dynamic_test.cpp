// SPDX-License-Identifier: GPL-3.0-or-later
// 15 % of all turns: N.J.S.A. 58:31-3 (statute text at lawserver.com), inspection item 3. The
// figures are that share of the counts of the rule of thumb and of Kansas Rural Water Association's
// 27 turns for 8 in (The Kansas Lifeline, November 2011, page 24): 27 turns give 4.05, 38 give 5.7,
// 20 give 3.0.
#include "core/fieldlog/dynamic_test.h"

#include <QTest>

#include <cmath>

using namespace keyround;

class TestDynamicTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    static void fifteenPerCent_data()
    {
        QTest::addColumn<int>("turns");
        QTest::addColumn<double>("share");
        QTest::addColumn<int>("quarters");
        QTest::newRow("8 in") << 27 << 4.05 << 17;
        QTest::newRow("12 in") << 38 << 5.7 << 23;
        QTest::newRow("6 in") << 20 << 3.0 << 12;
    }
    static void fifteenPerCent()
    {
        QFETCH(int, turns);
        QFETCH(double, share);
        QFETCH(int, quarters);
        QVERIFY(std::abs(turns * newJerseyTestShare - share) < 1e-9);
        const QuarterTurns needed =
            dynamicTestTurns(QuarterTurns::ofTurns(turns), newJerseyTestShare);
        QCOMPARE(needed.value, quarters);
        QVERIFY(needed.turns() >= share && needed.turns() - share < 0.25);
    }

    static void bothWaysAreAskedFor()
    {
        const QuarterTurns total = QuarterTurns::ofTurns(27);
        const Pass opening{PassDirection::Opening, {17}};
        const Pass closing{PassDirection::Closing, {17}};
        const Pass little{PassDirection::Closing, {16}};
        QVERIFY(madeDynamicTest({opening, closing}, total, newJerseyTestShare));
        QVERIFY(!madeDynamicTest({opening, little}, total, newJerseyTestShare));
        QVERIFY(!madeDynamicTest({opening}, total, newJerseyTestShare));
        QVERIFY(!madeDynamicTest({opening, closing}, {}, newJerseyTestShare));
    }
};

QTEST_GUILESS_MAIN(TestDynamicTest)
#include "test_dynamic_test.moc"
