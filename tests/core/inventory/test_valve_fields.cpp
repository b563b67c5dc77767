// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/inventory/valve_fields.h"

#include <rapidcheck.h>

#include <QtTest>

using namespace keyround;

namespace {

QString someText()
{
    const auto text =
        *rc::gen::container<std::string>(rc::gen::elementOf(std::string("abcXYZ019 ,;'\"/=+.\n")));
    return QString::fromStdString(text).trimmed();
}

Valve someValve()
{
    Valve valve;
    valve.number = QStringLiteral("0") + someText();
    if (*rc::gen::arbitrary<bool>()) {
        valve.place = {*rc::gen::inRange(-900000000, 900000000) / 1e7,
                       *rc::gen::inRange(-1800000000, 1800000000) / 1e7};
    }
    valve.address = someText();
    valve.ties = someText();
    if (*rc::gen::arbitrary<bool>()) {
        valve.depthToNut = Metres{*rc::gen::inRange(0, 30000001) / 1e6};
    }
    valve.size = {*rc::gen::inRange(0, 577)};
    valve.type =
        *rc::gen::element(ValveType::Unknown, ValveType::Gate, ValveType::GearedGate,
                          ValveType::Butterfly, ValveType::Ball, ValveType::Plug, ValveType::Other);
    if (*rc::gen::arbitrary<bool>()) {
        valve.listedTurns = QuarterTurns{*rc::gen::inRange(1, 8001)};
    }
    valve.closes =
        *rc::gen::element(ClosingDirection::Clockwise, ClosingDirection::Counterclockwise);
    valve.normally = *rc::gen::element(NormalPosition::Open, NormalPosition::Closed);
    valve.role = *rc::gen::element(ValveRole::MainLine, ValveRole::HydrantLead, ValveRole::Boundary,
                                   ValveRole::BlowOff, ValveRole::Bypass, ValveRole::FireLine,
                                   ValveRole::Service, ValveRole::Other);
    if (*rc::gen::arbitrary<bool>()) {
        valve.installYear = *rc::gen::inRange(1850, 2101);
    }
    valve.surface = someText();
    valve.zone = someText();
    valve.criticalCustomers = someText();
    valve.remarks = someText();
    valve.retired = *rc::gen::arbitrary<bool>();
    return valve;
}

} // namespace

class TestValveFields : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void storedTextRestoresEveryField()
    {
        QVERIFY(rc::check("setValveField(valveFieldStored()) restores the valve", []() {
            const Valve valve = someValve();
            for (const UnitSystem units : {UnitSystem::Us, UnitSystem::Metric}) {
                Valve copy = someValve();
                copy.id = valve.id;
                for (const ValveFieldInfo &info : valveFields()) {
                    const Status set =
                        setValveField(copy, info.field, valveFieldStored(valve, info.field), units);
                    RC_ASSERT(set.has_value());
                }
                RC_ASSERT(copy == valve);
                RC_ASSERT(differingFields(copy, valve).isEmpty());
            }
        }));
    }
    static void shownTextChangesNothing()
    {
        QVERIFY(rc::check("typing what is shown leaves the valve as it is", []() {
            const Valve valve = someValve();
            for (const UnitSystem units : {UnitSystem::Us, UnitSystem::Metric}) {
                Valve copy = valve;
                for (const ValveFieldInfo &info : valveFields()) {
                    RC_ASSERT(setValveField(copy, info.field,
                                            valveFieldText(valve, info.field, units), units));
                }
                RC_ASSERT(copy == valve);
            }
        }));
    }
    static void oneListInOrder()
    {
        for (const ValveFieldInfo &info : valveFields()) {
            QCOMPARE(infoOf(info.field).key, info.key);
            QCOMPARE(valveFieldFromKey(QLatin1String(info.key)), std::optional(info.field));
        }
        QVERIFY(!valveFieldFromKey(QStringLiteral("colour")));
    }
    static void depths_data()
    {
        QTest::addColumn<QString>("text");
        QTest::addColumn<double>("us");
        QTest::addColumn<double>("metric");
        QTest::newRow("feet and inches") << QStringLiteral("3 ft 6 in") << 1.0668 << 1.0668;
        QTest::newRow("marks") << QStringLiteral("3' 6\"") << 1.0668 << 1.0668;
        QTest::newRow("inches") << QStringLiteral("42 in") << 1.0668 << 1.0668;
        QTest::newRow("feet") << QStringLiteral("3 1/2 feet") << 1.0668 << 1.0668;
        QTest::newRow("bare") << QStringLiteral("3.5") << 1.0668 << 3.5;
        QTest::newRow("metres") << QStringLiteral("1.1 m") << 1.1 << 1.1;
        QTest::newRow("centimetres") << QStringLiteral("110cm") << 1.1 << 1.1;
        QTest::newRow("millimetres") << QStringLiteral("1100 mm") << 1.1 << 1.1;
    }
    static void depths()
    {
        QFETCH(QString, text);
        QFETCH(double, us);
        QFETCH(double, metric);
        Valve valve;
        QVERIFY(setValveField(valve, ValveField::DepthToNut, text, UnitSystem::Us));
        QVERIFY(std::abs(valve.depthToNut->value - us) < 1e-9);
        QVERIFY(setValveField(valve, ValveField::DepthToNut, text, UnitSystem::Metric));
        QVERIFY(std::abs(valve.depthToNut->value - metric) < 1e-9);
    }
    static void badTextLeavesTheValve_data()
    {
        QTest::addColumn<QString>("key");
        QTest::addColumn<QString>("text");
        const auto row = [](const char *key, const char *text) {
            QTest::newRow(
                qPrintable(QStringLiteral("%1=%2").arg(QLatin1String(key), QLatin1String(text))))
                << QString::fromLatin1(key) << QString::fromLatin1(text);
        };
        row("number", "");
        row("number", "N/A");
        row("place", "91, 0");
        row("place", "-88.5, 41");
        row("place", "-120.5, 41");
        row("place", "41.5");
        row("place", "0, 0");
        row("place", "41,5, 88,2");
        row("depth_to_nut", "deep");
        row("depth_to_nut", "-1");
        row("depth_to_nut", "200 ft");
        row("depth_to_nut", "3 ft 14 in");
        row("size", "big");
        row("type", "??x");
        row("listed_turns", "-2");
        row("closes", "up");
        row("normally", "1");
        row("role", "hat");
        row("install_year", "87");
        row("retired", "perhaps");
    }
    static void badTextLeavesTheValve()
    {
        QFETCH(QString, key);
        QFETCH(QString, text);
        Valve valve;
        valve.number = QStringLiteral("007");
        valve.place = {41.0, -88.0};
        valve.depthToNut = Metres{1};
        const Valve before = valve;
        if (key == QLatin1String("place") && text == QLatin1String("-88.5, 41")) {
            // Both orders lie on the map: nothing to refuse here; imports compare with the streets.
            QVERIFY(setValveField(valve, ValveField::Place, text, UnitSystem::Us));
            return;
        }
        const Status set = setValveField(valve, *valveFieldFromKey(key), text, UnitSystem::Us);
        QVERIFY(!set);
        QVERIFY(set.error().message.size() > 20);
        QCOMPARE(valve, before);
    }
    static void leadingZerosStay()
    {
        Valve valve;
        QVERIFY(
            setValveField(valve, ValveField::Number, QStringLiteral(" 00041 "), UnitSystem::Us));
        QCOMPARE(valve.number, QStringLiteral("00041"));
    }
    static void blanksEmpty()
    {
        Valve valve;
        valve.zone = QStringLiteral("high");
        valve.listedTurns = QuarterTurns{5};
        QVERIFY(setValveField(valve, ValveField::Zone, QStringLiteral("NULL"), UnitSystem::Us));
        QVERIFY(setValveField(valve, ValveField::ListedTurns, QStringLiteral("0"), UnitSystem::Us));
        QVERIFY(valve.zone.isEmpty());
        QVERIFY(!valve.listedTurns);
    }
};

QTEST_GUILESS_MAIN(TestValveFields)
#include "test_valve_fields.moc"
