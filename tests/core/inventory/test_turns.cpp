// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/inventory/turns.h"

#include <QtTest>

using namespace keyround;

class TestTurns : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    // Source: three turns an inch plus 2 to 3, as a page on valve operation tabulates it
    // (ora.it.com/valve-operation: 4 in 14-15, 6 in 20-21, 8 in 26-27); the other sizes are the
    // same arithmetic, 3D+2 and 3D+3.
    static void threeTurnsAnInch_data()
    {
        QTest::addColumn<int>("inches");
        QTest::addColumn<int>("least");
        QTest::addColumn<int>("most");
        constexpr int table[][3] = {{3, 11, 12},    {4, 14, 15},    {6, 20, 21},   {8, 26, 27},
                                    {10, 32, 33},   {12, 38, 39},   {14, 44, 45},  {16, 50, 51},
                                    {18, 56, 57},   {20, 62, 63},   {24, 74, 75},  {30, 92, 93},
                                    {36, 110, 111}, {42, 128, 129}, {48, 146, 147}};
        for (const auto &row : table) {
            QTest::addRow("%d in", row[0]) << row[0] << row[1] << row[2];
        }
    }
    static void threeTurnsAnInch()
    {
        QFETCH(int, inches);
        QFETCH(int, least);
        QFETCH(int, most);
        Valve valve;
        valve.type = ValveType::Gate;
        valve.size = NominalSize::ofInches(inches);
        const auto range = ruleOfThumbTurns(valve);
        QVERIFY(range);
        QCOMPARE(range->least, QuarterTurns::ofTurns(least));
        QCOMPARE(range->most, QuarterTurns::ofTurns(most));
    }
    static void anEightInchValveTakes27()
    {
        // Source: Kansas Rural Water Association, The Kansas Lifeline, November 2011, page 24.
        Valve valve;
        valve.type = ValveType::Gate;
        valve.size = NominalSize::ofInches(8);
        QVERIFY(ruleOfThumbTurns(valve)->least <= QuarterTurns::ofTurns(27));
        QVERIFY(ruleOfThumbTurns(valve)->most >= QuarterTurns::ofTurns(27));
    }
    static void onlyGatesWithADirectNut()
    {
        Valve valve;
        valve.size = NominalSize::ofInches(16);
        for (const ValveType type :
             {ValveType::Unknown, ValveType::GearedGate, ValveType::Butterfly, ValveType::Ball,
              ValveType::Plug, ValveType::Other}) {
            valve.type = type;
            QVERIFY(!ruleOfThumbTurns(valve));
        }
        valve.type = ValveType::Gate;
        valve.size = {};
        QVERIFY(!ruleOfThumbTurns(valve));
    }
};

QTEST_GUILESS_MAIN(TestTurns)
#include "test_turns.moc"
