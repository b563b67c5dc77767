// SPDX-License-Identifier: GPL-3.0-or-later
// The load list of small rounds, counted by hand, and how a set-up enters a stop's minutes.
#include "core/dayplan/load_list.h"
#include "core/dayplan/stop_minutes.h"
#include "core/reports/load_sheet.h"

#include <QTest>

#include <algorithm>

using namespace keyround;

namespace {

LoadStop stopAt(int number, ValveType type, std::optional<double> depth)
{
    LoadStop stop;
    stop.valve.id = ValveId{newUuid7(1000 + number)};
    stop.valve.number = QStringLiteral("V%1").arg(number);
    stop.valve.type = type;
    if (depth) {
        stop.valve.depthToNut = Metres{*depth};
    }
    return stop;
}

SetUp setUpAt(LidPlace lid, bool isLow)
{
    Site site;
    site.street = {35, 2, Feet{12}, Feet{8}, false, false, RoadSetting::UrbanLowSpeed, isLow};
    site.lid = lid;
    site.minutes = 25;
    const auto setUp = workOutSetUp(site);
    if (!setUp) {
        qFatal("no set-up: %s", qPrintable(setUp.error().message));
    }
    return *setUp;
}

/// Three stops and one that is not worked out:
///   1 one of two lanes with flaggers (application 10): 35 mph
///       taper 50 ft at 20 ft: 3 more cones; buffer 250 at 70: 4; work space 40 at 70: 1;
///       downstream 50 at 35: 2; and the first: 11 cones. Signs: flagger, one lane road, road work
///       on two approaches: 6. Two flaggers, four people.
///   2 the verge (application 1): no cones, one sign ROAD WORK AHEAD, two people.
///   3 a geared valve in a minor street (application 18): the same lengths: 11 cones; two legends
///       on two approaches; no flaggers, two people.
struct Bench
{
    Bench()
    {
        stops.push_back(stopAt(1, ValveType::Gate, 1.2192)); // 4 ft
        stops[0].setUp = setUpAt(LidPlace::Lane, false);
        stops[0].valve.nut = QStringLiteral("2 in square");
        stops[0].openProblems = {Problem::LidMissing};
        stops[0].valve.lid = QStringLiteral("5 1/4 in");
        stops[0].notices = 7;
        stops.push_back(stopAt(2, ValveType::Gate, 1.8288)); // 6 ft
        stops[1].setUp = setUpAt(LidPlace::OutsideRoad, false);
        stops[1].valve.nut = QStringLiteral("2 in square");
        stops[1].openProblems = {Problem::LidMissing, Problem::BoxFull};
        stops.push_back(stopAt(3, ValveType::GearedGate, {}));
        stops[2].setUp = setUpAt(LidPlace::Lane, true);
        stops[2].valve.nut = QStringLiteral("1 1/4 in pentagon");
        stops[2].openProblems = {Problem::LidMissing};
        stops[2].valve.lid = QStringLiteral("5 1/4 in");
        stops[2].notices = 5;
        stops.push_back(stopAt(4, ValveType::Butterfly, {}));
    }
    std::vector<LoadStop> stops;

    [[nodiscard]] QString numbers(const std::vector<ValveId> &ids) const
    {
        QStringList found;
        for (const ValveId &id : ids) {
            found << std::ranges::find(stops, id, [](const LoadStop &stop) {
                         return stop.valve.id;
                     })->valve.number;
        }
        return found.join(QLatin1Char(' '));
    }
};

} // namespace

class LoadListTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void countedByHand();
    void anEmptyRoundNeedsNothing();
    void sheetNamesStopsByTheirPlace();
    void setUpIsPartOfTheMinutes();
};

void LoadListTest::countedByHand()
{
    const Bench bench;
    const std::vector<LoadLine> lines = loadList(bench.stops, UnitSystem::Us);
    QStringList read;
    for (const LoadLine &line : lines) {
        read << QStringLiteral("%1 | %2 | %3 | %4")
                    .arg(line.what, line.amount, bench.numbers(line.stops),
                         bench.numbers(line.deciding));
    }
    const QStringList counted{
        QStringLiteral("Cones (2 spare among them) | 13 | V1 V3 | V1 V3"),
        QStringLiteral("Sign: Flagger (symbol) | 2 | V1 | V1"),
        QStringLiteral("Sign: ONE LANE ROAD AHEAD | 2 | V1 V3 | V1 V3"),
        QStringLiteral("Sign: ROAD WORK AHEAD | 2 | V1 V2 V3 | V1 V3"),
        QStringLiteral("Flagger paddles | 2 | V1 | V1"),
        QStringLiteral("People | 4 | V1 V2 V3 | V1"),
        // 6 ft and 0.9 m (2.95 ft) above the lid.
        QStringLiteral("Key for a nut 6.0 ft deep (of 2 stops no depth is on record) | 9.0 ft | "
                       "V1 V2 V3 V4 | V2"),
        QStringLiteral("Socket or adapter for a nut of 1 1/4 in pentagon |  | V3 | "),
        QStringLiteral("Socket or adapter for a nut of 2 in square |  | V1 V2 | "),
        QStringLiteral("Tools for geared and butterfly valves |  | V3 V4 | "),
        QStringLiteral("Spare lid, 5 1/4 in | 2 | V1 V3 | "),
        QStringLiteral("Spare lid, size not known | 1 | V2 | "),
        QStringLiteral("Tools to clear and straighten a box |  | V2 | "),
        QStringLiteral("Paper sheets | 4 | V1 V2 V3 V4 | "),
        QStringLiteral("Notices to hang | 12 | V1 V3 | "),
        QStringLiteral("Work zone not worked out: not in this list |  | V4 | "),
    };
    QCOMPARE(read, counted);
}

void LoadListTest::anEmptyRoundNeedsNothing()
{
    QVERIFY(loadList({}, UnitSystem::Us).empty());
}

void LoadListTest::sheetNamesStopsByTheirPlace()
{
    const Bench bench;
    Round round;
    round.date = QDate(2026, 3, 16);
    round.crew = QStringLiteral("Crew 1");
    for (const LoadStop &stop : bench.stops) {
        round.stops.push_back(stop.valve.id);
    }
    const Sheet sheet = loadSheet(round, loadList(bench.stops, UnitSystem::Us), QString());
    QCOMPARE(sheet.table.rows.at(0).at(2), QStringLiteral("1, 3"));
    QCOMPARE(sheet.table.rows.at(3).at(2), QStringLiteral("1 (decides), 2, 3 (decides)"));
    QCOMPARE(sheet.table.rows.at(13).at(2), QStringLiteral("all"));
    QVERIFY(sheet.cautions.first().contains(QStringLiteral("road authority")));
}

void LoadListTest::setUpIsPartOfTheMinutes()
{
    // Application 10 above: 6 signs at 1 min and 11 cones at 0.15 min are 7.65 min, up and down.
    const SetUp setUp = setUpAt(LidPlace::Lane, false);
    QCOMPARE(setUp.cones, 11);
    QCOMPARE(setUp.setUpMinutes, 7.65);
    Valve valve;
    valve.type = ValveType::Gate;
    valve.size = NominalSize::ofInches(8);
    const StopTimes times;
    const auto without = minutesFor(valve, {}, StreetClass::Arterial, times, {});
    const auto with = minutesFor(valve, {}, StreetClass::Arterial, times, {}, &setUp);
    QCOMPARE(without.zoneMinutes, 0.0);
    QCOMPARE(with.zoneMinutes, 15.3);
    QCOMPARE(with.minutes, without.minutes - times.baseZoneMinutes + 15.3);
    QVERIFY(with.words().contains(QStringLiteral("work zone")));
    // What rounds have taught of such streets holds their cones already.
    LearnedTimes learned;
    LearnedTimes::Minutes figure;
    figure.kind = {valve.type, sizeClassOf(valve.size), StreetClass::Arterial};
    figure.minutes.set = 20;
    learned.stops.push_back(figure);
    const auto taught = minutesFor(valve, {}, StreetClass::Arterial, times, learned, &setUp);
    QCOMPARE(taught.zoneMinutes, 0.0);
    QCOMPARE(taught.minutes, minutesFor(valve, {}, StreetClass::Arterial, times, learned).minutes);
    QVERIFY(taught.minutes != with.minutes);
}

QTEST_GUILESS_MAIN(LoadListTest)
#include "test_load_list.moc"
