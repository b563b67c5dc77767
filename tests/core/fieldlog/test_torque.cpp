// SPDX-License-Identifier: GPL-3.0-or-later
// One foot-pound is 1.3558179483314004 N·m: 0.3048 m (international foot, exact) times
// 4.4482216152605 N (pound-force, exact: 0.45359237 kg times 9.80665 m/s²; NIST SP 811, B.8).
// 450 ft-lb at the stops of butterfly operators, 100 ft-lb as the most for a hydrant's main valve:
// makers' and towns' papers as TRADE.md's section 3 has them.
#include "core/fieldlog/torque.h"
#include "core/fieldlog/truck_habits.h"

#include <QTest>

#include <cmath>

using namespace keyround;

class TestTorque : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    static void theFactorIsTheProductOfExactFigures()
    {
        const double pound = 0.45359237 * 9.80665;
        QVERIFY(std::abs(newtonMetresPerFootPound - 0.3048 * pound) < 1e-15);
    }

    static void readsWhatCrewsType_data()
    {
        QTest::addColumn<QString>("text");
        QTest::addColumn<bool>("feet");
        QTest::addColumn<double>("newtonMetres");
        QTest::newRow("bare feet") << "100" << true << 135.58179483314004;
        QTest::newRow("bare metric") << "100" << false << 100.0;
        QTest::newRow("own unit") << "100 ft-lb" << false << 135.58179483314004;
        QTest::newRow("turned round") << "100 lb-ft" << false << 135.58179483314004;
        QTest::newRow("metric in feet") << "135.5 N\u00B7m" << true << 135.5;
        QTest::newRow("Nm") << " 80 Nm " << true << 80.0;
    }

    static void readsWhatCrewsType()
    {
        QFETCH(QString, text);
        QFETCH(bool, feet);
        QFETCH(double, newtonMetres);
        const auto read =
            parseTorque(text, feet ? TorqueUnit::FootPounds : TorqueUnit::NewtonMetres);
        QVERIFY2(read.has_value(), read ? "" : qPrintable(read.error().message));
        QVERIFY(read->has_value());
        QVERIFY(std::abs((*read)->newtonMetres - newtonMetres) < 1e-9);
    }

    static void refusesWhatIsNoTorque()
    {
        for (const char *text : {"lots", "-5", "0", "1001", "12 stone", "1,000", "100 kg"}) {
            const auto read = parseTorque(QString::fromUtf8(text), TorqueUnit::FootPounds);
            QVERIFY2(!read.has_value(), text);
            QVERIFY(!read.error().message.isEmpty());
        }
        QVERIFY(!parseTorque(QStringLiteral("1500"), TorqueUnit::NewtonMetres));
        const auto none = parseTorque(QStringLiteral("  "), TorqueUnit::FootPounds);
        QVERIFY(none.has_value() && !none->has_value());
    }

    static void whatWasTypedIsShownAgain()
    {
        for (int feet = 1; feet <= 1000; ++feet) {
            const auto read = parseTorque(QString::number(feet), TorqueUnit::FootPounds);
            QVERIFY(read.has_value() && read->has_value());
            QCOMPARE(torqueText(**read, TorqueUnit::FootPounds),
                     QStringLiteral("%1 ft-lb").arg(feet));
        }
        QCOMPARE(torqueText(Torque{80.5}, TorqueUnit::NewtonMetres),
                 QStringLiteral("80.5 N\u00B7m"));
    }

    static void warnsAboveWhatStopsBear()
    {
        QVERIFY(!isMoreThanStopsBear(Torque{450 * newtonMetresPerFootPound}));
        QVERIFY(isMoreThanStopsBear(Torque{451 * newtonMetresPerFootPound}));
    }

    // UFC 3-230-02 (10 July 2001): one quarter in 8.3.1.1, about one turn in 8.3.3.2;
    // Hurricane WV, Code 941.08: one half.
    static void backOffsArePublishedOnes()
    {
        QCOMPARE(publishedBackOffs[0].turns.turns(), 0.25);
        QCOMPARE(publishedBackOffs[1].turns.turns(), 0.5);
        QCOMPARE(publishedBackOffs[2].turns.turns(), 1.0);
        QVERIFY(faultIn(TruckHabits{}).isEmpty());
    }
};

QTEST_GUILESS_MAIN(TestTorque)
#include "test_torque.moc"
