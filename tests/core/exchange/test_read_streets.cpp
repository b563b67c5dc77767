// SPDX-License-Identifier: GPL-3.0-or-later
// Streets and mains: OpenStreetMap, centrelines, and what they write for class, speed and access.
#include "core/exchange/read_layer.h"
#include "core/exchange/street_words.h"

#include "tests/core/exchange/file_fixture.h"

using namespace keyround;
using namespace keyround::tests;

class TestReadStreets : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void openStreetMap();
    void osmHoldsOnlyStreets();
    void centrelines();
    void csvWithWkt();
    void linesThatAreNone();
    void sameIdTwice();
    void keysFromShape();
    void mains();
    void oneWaySpellings_data();
    void oneWaySpellings();
    void classes_data();
    void classes();
    void speeds_data();
    void speeds();
    void wrongShapes();

private:
    const Street &byKey(const Imported<Street> &streets, const char *key);
    FileFixture m_files;
};

const Street &TestReadStreets::byKey(const Imported<Street> &streets, const char *key)
{
    for (const Street &street : streets.rows) {
        if (street.key == s(key)) {
            return street;
        }
    }
    QTest::qFail(key, __FILE__, __LINE__);
    static const Street none;
    return none;
}

namespace {

// An invented crossroads. Node 2 is shared by ways 10, 11, 12 and 17.
const char *town = R"(<?xml version="1.0" encoding="UTF-8"?>
<osm version="0.6" generator="test">
<node id="1" lat="40.0" lon="-93.0"/><node id="2" lat="40.001" lon="-93.0"/>
<node id="3" lat="40.001" lon="-92.999"/><node id="4" lat="40.002" lon="-93.0"/>
<node id="5" lat="40.0005" lon="-92.9995"/>
<way id="10"><nd ref="1"/><nd ref="2"/><nd ref="4"/><tag k="highway" v="residential"/>
 <tag k="name" v="First Street"/><tag k="maxspeed" v="25 mph"/><tag k="oneway" v="yes"/></way>
<way id="11"><nd ref="2"/><nd ref="3"/><tag k="highway" v="primary"/><tag k="maxspeed" v="50"/>
 <tag k="oneway" v="-1"/></way>
<way id="12"><nd ref="1"/><nd ref="2"/><nd ref="3"/><nd ref="1"/><tag k="highway" v="tertiary"/>
 <tag k="junction" v="roundabout"/></way>
<way id="13"><nd ref="1"/><nd ref="3"/><tag k="waterway" v="river"/><tag k="name" v="Brook"/></way>
<way id="14"><nd ref="3"/><nd ref="4"/><tag k="highway" v="service"/><tag k="access" v="no"/></way>
<way id="15"><nd ref="3"/><nd ref="5"/><tag k="highway" v="service"/><tag k="access" v="no"/>
 <tag k="motor_vehicle" v="yes"/></way>
<way id="16"><nd ref="1"/><nd ref="5"/><tag k="highway" v="footway"/></way>
<way id="17"><nd ref="2"/><nd ref="5"/><tag k="highway" v="residential"/>
 <tag k="motor_vehicle" v="private"/><tag k="maxspeed" v="none"/></way>
</osm>
)";

} // namespace

void TestReadStreets::openStreetMap()
{
    const auto result = readStreets({.path = m_files.write(s("town.osm"), town)});
    QVERIFY2(result.has_value(), qPrintable(result ? QString() : result.error().message));
    QCOMPARE(result->rows.size(), size_t{7});
    const Street &first = byKey(*result, "10");
    QCOMPARE(first.name, s("First Street"));
    QCOMPARE(first.kind, StreetClass::Residential);
    QCOMPARE(first.oneWay, OneWay::Forward);
    QCOMPARE(first.junctions, JunctionRule::SharedNodes);
    QCOMPARE(first.line, (GeoLine{{40.0, -93.0}, {40.001, -93.0}, {40.002, -93.0}}));
    // 25 mph: 25 * 1609.344 / 3600 m/s (exact by the definition of the mile).
    QVERIFY(std::abs(*first.metresPerSecond - 11.176) < 1e-9);
    // A bare number is km/h (OpenStreetMap wiki, Key:maxspeed): 50 / 3.6.
    QVERIFY(std::abs(*byKey(*result, "11").metresPerSecond - 50.0 / 3.6) < 1e-9);
    QCOMPARE(byKey(*result, "11").oneWay, OneWay::Backward);
    QCOMPARE(byKey(*result, "11").kind, StreetClass::Arterial);
    // Shared nodes come back bit for bit, so that the graph can join them.
    QCOMPARE(byKey(*result, "11").line.front(), first.line[1]);
    QCOMPARE(byKey(*result, "12").oneWay, OneWay::Forward); // a roundabout
    QCOMPARE(byKey(*result, "12").kind, StreetClass::Collector);
    QVERIFY(!byKey(*result, "14").drivable);
    QVERIFY(byKey(*result, "15").drivable); // the narrower tag wins
    QVERIFY(!byKey(*result, "16").drivable);
    QVERIFY(!byKey(*result, "17").drivable);
    QVERIFY(!byKey(*result, "17").metresPerSecond.has_value());
    QVERIFY(reasons(result->warnings).contains(s("1 ways that are no streets")));
}

void TestReadStreets::osmHoldsOnlyStreets()
{
    const QString path = m_files.write(s("only.osm"), town);
    const auto info = inspectSource(path);
    QVERIFY(info.has_value());
    QCOMPARE(info->format, s("OSM"));
    QCOMPARE(info->layers.size(), 1);
    QCOMPARE(info->layers[0].shape, Shape::Line);
    QVERIFY(info->layers[0].columns.contains(s("maxspeed")));
    const auto valves = readValves({.path = path, .columns = {{s("number"), s("osm_id")}}});
    QVERIFY(!valves);
    QVERIFY(valves.error().message.contains(s("only streets")));
}

void TestReadStreets::centrelines()
{
    const QString path = m_files.makeLayer(
        s("roads.gpkg"), "GPKG", "centerline", wkbMultiLineString, "EPSG:4326",
        {s("SEG_ID"), s("ST_NAME"), s("FUNC_CLASS"), s("ONEWAY"), s("SPEED_LIM"), s("ACCESS")},
        {{"MULTILINESTRING ((-93 40, -93 40.001))",
          {s("0001"), s("Oak St"), s("Minor Arterial"), s("FT"), s("35"), s("")}},
         {"MULTILINESTRING ((-93 40.001, -93 40.002),(-93 40.003, -93 40.004))",
          {s("0002"), s("Elm St"), s("LOCAL"), s("TF"), s("40 km/h"), s("private")}},
         {"MULTILINESTRING ((-93 40.001, -92 40.002))",
          {s("0003"), s("Ash St"), s("Zebra"), s("B"), s("fast!"), s("yes")}}});
    const auto result = readStreets({.path = path});
    QVERIFY2(result.has_value(), qPrintable(result ? QString() : result.error().message));
    QCOMPARE(result->rows.size(), size_t{4});
    const Street &oak = byKey(*result, "0001");
    QCOMPARE(oak.junctions, JunctionRule::EndPoints);
    QCOMPARE(oak.kind, StreetClass::Arterial);
    QCOMPARE(oak.oneWay, OneWay::Forward);
    QVERIFY(std::abs(*oak.metresPerSecond - 15.6464) < 1e-9); // 35 * 0.44704
    const Street &elm = byKey(*result, "0002");
    QCOMPARE(elm.oneWay, OneWay::Backward);
    QVERIFY(!elm.drivable);
    QVERIFY(std::abs(*elm.metresPerSecond - 40.0 / 3.6) < 1e-9);
    QCOMPARE(byKey(*result, "0002-2").line, (GeoLine{{40.003, -93}, {40.004, -93}}));
    QCOMPARE(byKey(*result, "0003").kind, StreetClass::Unknown);
    QVERIFY(!byKey(*result, "0003").metresPerSecond);
    const QString notes = reasons(result->warnings);
    QVERIFY2(notes.contains(s("2|SEG_ID|0002|the row has 2 lines")), qPrintable(notes));
    QVERIFY2(notes.contains(s("0|FUNC_CLASS|Zebra|")), qPrintable(notes));
    QVERIFY2(notes.contains(s("3|SPEED_LIM|fast!|")), qPrintable(notes));
    QVERIFY2(notes.contains(s("taken as mph")), qPrintable(notes));
}

void TestReadStreets::csvWithWkt()
{
    const QString path = m_files.write(
        s("wkt.csv"), "WKT,name,oneway\n\"LINESTRING (-93 40,-93 40.001)\",\"Oak, East\",Y\n");
    QVERIFY(!readStreets({.path = path}));
    const auto result = readStreets({.path = path, .epsg = 4326});
    QVERIFY2(result.has_value(), qPrintable(result ? QString() : result.error().message));
    QCOMPARE(result->rows.at(0).name, s("Oak, East"));
    QCOMPARE(result->rows.at(0).line.size(), size_t{2});
}

void TestReadStreets::linesThatAreNone()
{
    const QString path =
        m_files.makeLayer(s("odd.gpkg"), "GPKG", "streets", wkbLineString, "EPSG:4326", {s("id")},
                          {{"LINESTRING (-93 40, -93 40)", {s("zero")}},
                           {"", {s("none")}},
                           {"LINESTRING (-93 40, -93 95)", {s("outside")}},
                           {"LINESTRING (-93 40, -93 40, -93 40.001)", {s("doubled")}},
                           {"LINESTRING (-93 40, -93 nan)", {s("nan")}}});
    const auto result = readStreets({.path = path});
    QVERIFY2(result.has_value(), qPrintable(result ? QString() : result.error().message));
    const QString refused = reasons(result->rejected);
    QVERIFY2(refused.contains(s("1||")) || refused.contains(s("no length")), qPrintable(refused));
    QVERIFY2(refused.contains(s("2||")), qPrintable(refused));
    QVERIFY2(refused.contains(s("no such place on the earth")), qPrintable(refused));
    QCOMPARE(byKey(*result, "doubled").line.size(), size_t{2});
    QCOMPARE(result->rows.size() + result->rejected.size(), size_t{5});
}

void TestReadStreets::sameIdTwice()
{
    const QString path = m_files.makeLayer(
        s("same.gpkg"), "GPKG", "streets", wkbLineString, "EPSG:4326", {s("id"), s("name")},
        {{"LINESTRING (-93 40, -93 40.001)", {s("7"), s("a")}},
         {"LINESTRING (-93 40.001, -93 40.002)", {s("7"), s("b")}},
         {"LINESTRING (-93 40, -93 40.001)", {s("7"), s("c")}}});
    const auto result = readStreets({.path = path});
    QVERIFY(result.has_value());
    QCOMPARE(result->rows.size(), size_t{2});
    QCOMPARE(byKey(*result, "7").name, s("a"));
    QCOMPARE(byKey(*result, "7-2").name, s("b"));
    QCOMPARE(result->rejected.size(), size_t{1});
    QVERIFY(result->rejected[0].reason.contains(s("row 1 has this very line")));
}

void TestReadStreets::keysFromShape()
{
    const std::vector<FileFixture::Feature> lines{
        {"LINESTRING (-93 40, -93 40.001)", {s("a")}},
        {"LINESTRING (-93 40.001, -93 40.002)", {s("b")}}};
    std::vector<FileFixture::Feature> turned(lines.rbegin(), lines.rend());
    const auto first =
        readStreets({.path = m_files.makeLayer(s("k1.gpkg"), "GPKG", "streets", wkbLineString,
                                               "EPSG:4326", {s("name")}, lines)});
    const auto second =
        readStreets({.path = m_files.makeLayer(s("k2.gpkg"), "GPKG", "streets", wkbLineString,
                                               "EPSG:4326", {s("name")}, turned)});
    QVERIFY(first.has_value() && second.has_value());
    QCOMPARE(first->rows[0].key, second->rows[1].key);
    QCOMPARE(first->rows[1].key, second->rows[0].key);
    QVERIFY(first->rows[0].key != first->rows[1].key);
}

void TestReadStreets::mains()
{
    const QString path = m_files.makeLayer(
        s("mains.gpkg"), "GPKG", "mains", wkbLineString, "EPSG:4326",
        {s("PIPE_ID"), s("DIAM"), s("MATERIAL"), s("INST_YEAR"), s("PRES_ZONE")},
        {{"LINESTRING (-93 40, -93 40.001)", {s("M-001"), s("8\""), s("DI"), s("1974"), s("Low")}},
         {"LINESTRING (-93 40, -93 40.002)", {s("M-002"), s("wide"), s("CI"), s("1774"), s("")}}});
    const auto result = readMains({.path = path});
    QVERIFY2(result.has_value(), qPrintable(result ? QString() : result.error().message));
    QCOMPARE(result->rows.size(), size_t{2});
    QCOMPARE(result->rows[0].number, s("M-001"));
    QCOMPARE(result->rows[0].size, NominalSize::ofInches(8));
    QCOMPARE(result->rows[0].material, s("DI"));
    QCOMPARE(result->rows[0].installYear, std::optional(1974));
    QCOMPARE(result->rows[0].zone, s("Low"));
    QVERIFY(!result->rows[1].size.isKnown());
    QCOMPARE(result->warnings.size(), size_t{2});
}

void TestReadStreets::oneWaySpellings_data()
{
    QTest::addColumn<int>("expected"); // -2: not understood
    const auto add = [](const char *word, std::optional<OneWay> way) {
        QTest::newRow(word) << (way ? static_cast<int>(*way) : -2);
    };
    for (const char *word : {"yes", "Y", "TRUE", "1", "FT", "From-To"}) {
        add(word, OneWay::Forward);
    }
    for (const char *word : {"-1", "reverse", "TF", "to from"}) {
        add(word, OneWay::Backward);
    }
    for (const char *word : {"no", "N", "false", "0", "B", "Both", "two-way", ""}) {
        add(word, OneWay::No);
    }
    for (const char *word : {"F", "T", "perhaps", "2"}) {
        add(word, std::nullopt);
    }
}

void TestReadStreets::oneWaySpellings()
{
    QFETCH(int, expected);
    const auto way = oneWayFrom(s(QTest::currentDataTag()));
    QCOMPARE(way ? static_cast<int>(*way) : -2, expected);
}

void TestReadStreets::classes_data()
{
    QTest::addColumn<int>("kind");
    const auto add = [](const char *word, StreetClass kind) {
        QTest::newRow(word) << static_cast<int>(kind);
    };
    add("motorway_link", StreetClass::Motorway);
    add("Interstate", StreetClass::Motorway);
    add("1", StreetClass::Motorway);
    add("Principal Arterial", StreetClass::Arterial);
    add("MINOR ARTERIAL", StreetClass::Arterial);
    add("secondary", StreetClass::Arterial);
    add("Major Collector", StreetClass::Collector);
    add("tertiary", StreetClass::Collector);
    add("Local Street", StreetClass::Residential);
    add("living_street", StreetClass::Residential);
    add("7", StreetClass::Residential);
    add("Alley", StreetClass::ServiceRoad);
    add("track", StreetClass::ServiceRoad);
    add("footway", StreetClass::Path);
    add("Sidewalk", StreetClass::Path);
    add("gibberish", StreetClass::Unknown);
    add("", StreetClass::Unknown);
}

void TestReadStreets::classes()
{
    QFETCH(int, kind);
    QCOMPARE(static_cast<int>(streetClassFrom(s(QTest::currentDataTag()))), kind);
}

void TestReadStreets::speeds_data()
{
    QTest::addColumn<bool>("bareIsMiles");
    QTest::addColumn<double>("expected"); // -1: not given, -2: an error
    // 1 mph is 0.44704 m/s exactly; 1 km/h is 1/3.6 m/s.
    QTest::newRow("30 mph") << false << 30 * 0.44704;
    QTest::newRow("30mph") << false << 30 * 0.44704;
    QTest::newRow("30") << true << 30 * 0.44704;
    QTest::newRow("50") << false << 50 / 3.6;
    QTest::newRow("50 km/h") << true << 50 / 3.6;
    QTest::newRow("50 kph") << true << 50 / 3.6;
    QTest::newRow("0") << true << -1.0;
    QTest::newRow("none") << true << -1.0;
    QTest::newRow("signals") << true << -1.0;
    QTest::newRow("RU:urban") << true << -1.0;
    QTest::newRow("999") << true << -2.0;
    QTest::newRow("30 knots") << true << -2.0;
    QTest::newRow("-30") << true << -2.0;
    QTest::newRow("30;40") << true << -2.0;
}

void TestReadStreets::speeds()
{
    QFETCH(bool, bareIsMiles);
    QFETCH(double, expected);
    const auto speed =
        parseSpeed(s(QTest::currentDataTag()),
                   bareIsMiles ? SpeedUnit::MilesPerHour : SpeedUnit::KilometresPerHour);
    const double actual = speed ? speed->value_or(-1.0) : -2.0;
    QVERIFY2(std::abs(actual - expected) < 1e-9, qPrintable(QString::number(actual)));
}

void TestReadStreets::wrongShapes()
{
    const QString points =
        m_files.makeLayer(s("points.gpkg"), "GPKG", "places", wkbPoint, "EPSG:4326", {s("id")},
                          {{"POINT (-93 40)", {s("1")}}});
    const auto streets = readStreets({.path = points});
    QVERIFY(!streets);
    QVERIFY2(streets.error().message.contains(s("must be lines")),
             qPrintable(streets.error().message));
    const QString areas =
        m_files.makeLayer(s("areas.gpkg"), "GPKG", "places", wkbPolygon, "EPSG:4326", {s("number")},
                          {{"POLYGON ((0 1,1 1,1 2,0 1))", {s("1")}}});
    const auto valves = readValves({.path = areas});
    QVERIFY(!valves);
    QVERIFY2(valves.error().message.contains(s("polygon")) &&
                 valves.error().message.contains(s("must be points")),
             qPrintable(valves.error().message));
}

QTEST_GUILESS_MAIN(TestReadStreets)
#include "test_read_streets.moc"
