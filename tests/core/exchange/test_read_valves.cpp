// SPDX-License-Identifier: GPL-3.0-or-later
// Valves from every format that is taken.
#include "core/exchange/read_layer.h"

#include "tests/core/exchange/file_fixture.h"

#include <GeographicLib/Geodesic.hpp>

using namespace keyround;
using namespace keyround::tests;

class TestReadValves : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void csvWithEverything();
    void messySpellings();
    void geoPackage();
    void spreadsheets_data();
    void spreadsheets();
    void shapefileWithItsSystem();
    void geoJsonIsLongitudeFirst();
    void fileGeodatabase();
    void surveyFootAndInternationalFoot();
    void prjThatContradictsItsCode();
    void systemIsNeverGuessed();
    void fileIsBelievedOverTheRequest();
    void duplicatesKeepTheFirst();
    void depthUnits();
    void encodings_data();
    void encodings();
    void delimiters_data();
    void delimiters();
    void layersByName();
    void aTextTableGoesByItsFilesName();
    void columnsByMap();
    void progressAndCancel();
    void bareSizesInMillimetres();
    void hydrantsAndServices();

private:
    Imported<ValveRow> read(const ReadRequest &request);
    FileFixture m_files;
};

Imported<ValveRow> TestReadValves::read(const ReadRequest &request)
{
    auto result = readValves(request);
    if (!result) {
        QTest::qFail(qPrintable(result.error().message), __FILE__, __LINE__);
        return {};
    }
    return std::move(*result);
}

void TestReadValves::csvWithEverything()
{
    const QString path = m_files.write(
        s("full.csv"),
        "Valve No,Latitude,Longitude,Size,Type,Turns,Close Dir,Normal Position,Use,Year Installed,"
        "Surface,Zone,Critical Customers,Notes,Address,Ties,Depth_ft,Retired\r\n"
        "00012,40.25,-93.5,\"6\"\"\",GATE,21,R,Open,Hydrant,1987,asphalt,High,clinic,"
        "\"two words, comma\",\"1 First St\",\"12 ft NE of pole\",4.5,N\r\n");
    const auto result = read({.path = path});
    QCOMPARE(result.rows.size(), size_t{1});
    const Valve &valve = result.rows[0].valve;
    QCOMPARE(valve.number, s("00012"));
    QCOMPARE(valve.place, (GeoPoint{40.25, -93.5}));
    QCOMPARE(valve.size, NominalSize::ofInches(6));
    QCOMPARE(valve.type, ValveType::Gate);
    QCOMPARE(valve.listedTurns, std::optional(QuarterTurns::ofTurns(21)));
    QCOMPARE(valve.closes, ClosingDirection::Clockwise);
    QCOMPARE(valve.normally, NormalPosition::Open);
    QCOMPARE(valve.role, ValveRole::HydrantLead);
    QCOMPARE(valve.installYear, std::optional(1987));
    QCOMPARE(valve.surface, s("asphalt"));
    QCOMPARE(valve.zone, s("High"));
    QCOMPARE(valve.criticalCustomers, s("clinic"));
    QCOMPARE(valve.remarks, s("two words, comma"));
    QCOMPARE(valve.address, s("1 First St"));
    QCOMPARE(valve.ties, s("12 ft NE of pole"));
    QVERIFY(std::abs(valve.depthToNut->value - 4.5 * 0.3048) < 1e-12);
    QVERIFY(!valve.retired);
    QVERIFY(valve.id.isNull());
    QCOMPARE(result.rows[0].given.size(), 17);
    QVERIFY2(result.warnings.empty(), qPrintable(reasons(result.warnings)));
}

void TestReadValves::messySpellings()
{
    const QString path = m_files.write(s("messy.csv"), "valve,lat,lon,size,type,dir,normal,turns\n"
                                                       "A1,40,-93,6\",gv,CW,NO,27\n"
                                                       "A2,40,-93,6 in,Butterfly,L,closed,26 1/2\n"
                                                       "A3,40,-93,DN150,BFV,ccw,NC,NULL\n"
                                                       "A4,40,-93,150 mm,-,,N/A,\n"
                                                       "A5,40,-93,big,Gate,R,Open,many\n");
    ReadRequest request{.path = path};
    request.columns = {{s("number"), s("valve")},    {s("lat"), s("LAT")},
                       {s("lon"), s("lon")},         {s("size"), s("size")},
                       {s("type"), s("type")},       {s("closes"), s("dir")},
                       {s("normally"), s("normal")}, {s("listed_turns"), s("turns")}};
    const auto result = read(request);
    QCOMPARE(result.rows.size(), size_t{5});
    for (size_t i = 0; i < 4; ++i) {
        QCOMPARE(result.rows[i].valve.size, NominalSize::ofInches(6));
    }
    QCOMPARE(result.rows[1].valve.closes, ClosingDirection::Counterclockwise);
    QCOMPARE(result.rows[1].valve.normally, NormalPosition::Closed);
    QCOMPARE(result.rows[1].valve.listedTurns, std::optional(QuarterTurns{106}));
    QCOMPARE(result.rows[2].valve.type, ValveType::Butterfly);
    QVERIFY(!result.rows[2].given.contains(ValveField::ListedTurns));
    QVERIFY(!result.rows[3].given.contains(ValveField::Type));
    // What is not understood is noted with row, column and value; the valve comes in without it.
    QVERIFY(!result.rows[4].given.contains(ValveField::Size));
    QVERIFY(!result.rows[4].given.contains(ValveField::ListedTurns));
    const QString notes = reasons(result.warnings);
    QVERIFY2(notes.contains(s("5|size|big|")), qPrintable(notes));
    QVERIFY2(notes.contains(s("5|turns|many|")), qPrintable(notes));
}

void TestReadValves::geoPackage()
{
    const QString path = m_files.makeLayer(
        s("v.gpkg"), "GPKG", "valves", wkbPoint, "EPSG:4326", {s("valve_id"), s("diam")},
        {{"POINT (-93.5 40.25)", {s("007"), s("8")}}, {"", {s("008"), s("12")}}});
    const auto result = read({.path = path});
    QCOMPARE(result.rows.size(), size_t{2});
    QCOMPARE(result.rows[0].valve.number, s("007"));
    QCOMPARE(result.rows[0].valve.place, (GeoPoint{40.25, -93.5}));
    QVERIFY(!result.rows[1].given.contains(ValveField::Place));
    QVERIFY(reasons(result.warnings).contains(s("no position")));

    const auto info = inspectSource(path);
    QVERIFY(info.has_value());
    QCOMPARE(info->format, s("GPKG"));
    QCOMPARE(info->layers.size(), 1);
    QCOMPARE(info->layers[0].name, s("valves"));
    QCOMPARE(info->layers[0].shape, Shape::Point);
    QCOMPARE(info->layers[0].rows, 2);
    QCOMPARE(info->layers[0].crsName, s("WGS 84"));
    QCOMPARE(info->layers[0].crsUnit, s("degree"));
    QCOMPARE(info->layers[0].firstRows[1], (QStringList{s("008"), s("12")}));
}

void TestReadValves::spreadsheets_data()
{
    QTest::addColumn<QString>("name");
    QTest::addColumn<QByteArray>("driver");
    QTest::newRow("xlsx") << s("v.xlsx") << QByteArray("XLSX");
    QTest::newRow("ods") << s("v.ods") << QByteArray("ODS");
}

void TestReadValves::spreadsheets()
{
    QFETCH(QString, name);
    QFETCH(QByteArray, driver);
    const QString path =
        m_files.makeLayer(name, driver.constData(), "Sheet1", wkbNone, nullptr,
                          {s("Valve No."), s("lat"), s("lon"), s("Size"), s("Year")},
                          {{"", {s("0042"), s("40.25"), s("-93.5"), s("6"), s("1990")}},
                           {"", {s("0043"), s("40.26"), s("-93.6"), s("8\""), s("")}}});
    const auto result = read({.path = path});
    QCOMPARE(result.rows.size(), size_t{2});
    QCOMPARE(result.rows[0].valve.number, s("0042"));
    QCOMPARE(result.rows[0].valve.place, (GeoPoint{40.25, -93.5}));
    QCOMPARE(result.rows[0].valve.installYear, std::optional(1990));
    QCOMPARE(result.rows[1].valve.size, NominalSize::ofInches(8));
}

void TestReadValves::shapefileWithItsSystem()
{
    // NAD 83 / UTM zone 15 N; the point is the zone's centre line at the equator's 500 km east.
    const QString path =
        m_files.makeLayer(s("shape.shp"), "ESRI Shapefile", "shape", wkbPoint, "EPSG:26915",
                          {s("VALVE_NO")}, {{"POINT (500000 4400000)", {s("0009")}}});
    const auto result = read({.path = path});
    QCOMPARE(result.rows.size(), size_t{1});
    QCOMPARE(result.rows[0].valve.number, s("0009"));
    QVERIFY(std::abs(result.rows[0].valve.place.longitude + 93.0) < 1e-6);
}

void TestReadValves::geoJsonIsLongitudeFirst()
{
    // RFC 7946 section 3.1.1: the first two elements are longitude and latitude, in that order.
    // The coordinates are the RFC's own example of a point (appendix A.1: 100.0, 0.0), moved off
    // the equator.
    const QString path = m_files.write(s("rfc7946.geojson"),
                                       R"({"type":"FeatureCollection","features":[{"type":"Feature",
            "geometry":{"type":"Point","coordinates":[100.0, 12.5]},
            "properties":{"number":"0100","size":8}}]})");
    const auto result = read({.path = path});
    QCOMPARE(result.rows.size(), size_t{1});
    QCOMPARE(result.rows[0].valve.place, (GeoPoint{12.5, 100.0}));
    QCOMPARE(result.rows[0].valve.number, s("0100"));
    QCOMPARE(result.rows[0].valve.size, NominalSize::ofInches(8));
}

void TestReadValves::fileGeodatabase()
{
    GDALAllRegister();
    const QString path =
        m_files.makeLayer(s("town.gdb"), "OpenFileGDB", "Valves", wkbPoint, "EPSG:4326",
                          {s("number")}, {{"POINT (-93.5 40.25)", {s("0001")}}});
    const auto result = read({.path = path});
    QCOMPARE(result.rows.size(), size_t{1});
    QCOMPARE(result.rows[0].valve.number, s("0001"));
    QVERIFY(std::abs(result.rows[0].valve.place.latitude - 40.25) < 1e-8);
}

void TestReadValves::surveyFootAndInternationalFoot()
{
    // 85 FR 62698: the survey foot is 1200/3937 m, the international foot 0.3048 m, 2 parts in a
    // million apart. By hand: 2,000,000 ft * (1200/3937 - 0.3048) m/ft = 1.2192 m, or 4.0 ft.
    const auto survey = describeCrs(2227); // NAD 83 California 3, US survey foot
    QVERIFY(survey.has_value());
    QCOMPARE(survey->unit, s("US survey foot"));
    const auto international = describeCrs(2222); // NAD 83 Arizona East, international foot
    QVERIFY(international.has_value());
    QCOMPARE(international->unit, s("foot"));
    QCOMPARE(describeCrs(26915)->unit, s("metre"));
    QCOMPARE(describeCrs(4326)->unit, s("degree"));

    const char *base = "+proj=tmerc +lat_0=31 +lon_0=-110 +k=1 +x_0=0 +y_0=0 +datum=WGS84 +units=";
    const auto placeIn = [&](const char *name, const char *unit) {
        const QString path = m_files.makeLayer(s(name), "GPKG", "valves", wkbPoint,
                                               (QByteArray(base) + unit).constData(), {s("number")},
                                               {{"POINT (0 2000000)", {s("1")}}});
        return read({.path = path}).rows.at(0).valve.place;
    };
    const GeoPoint inSurvey = placeIn("us.gpkg", "us-ft");
    const GeoPoint inInternational = placeIn("int.gpkg", "ft");
    double metres = 0;
    GeographicLib::Geodesic::WGS84().Inverse(inSurvey.latitude, inSurvey.longitude,
                                             inInternational.latitude, inInternational.longitude,
                                             metres);
    QVERIFY2(std::abs(metres - 1.2192) < 0.001, qPrintable(QString::number(metres)));
}

void TestReadValves::prjThatContradictsItsCode()
{
    // GDAL issue 990: the .prj names a system in US survey feet, and writes another unit.
    const QString path =
        m_files.makeLayer(s("clash.shp"), "ESRI Shapefile", "clash", wkbPoint, "EPSG:2227",
                          {s("number")}, {{"POINT (6000000 2100000)", {s("1")}}});
    const GeoPoint before = read({.path = path}).rows.at(0).valve.place;
    QByteArray prj = m_files.read(s("clash.prj"));
    const QByteArray unit = "UNIT[\"US survey foot\",0.304800609601219";
    const qsizetype at = prj.indexOf("UNIT[\"", prj.indexOf("PARAMETER"));
    QVERIFY2(at > 0, prj.constData());
    prj = prj.left(at) + "UNIT[\"Foot\",0.3048],AUTHORITY[\"EPSG\",\"2227\"]]";
    m_files.write(s("clash.prj"), prj);
    const auto result = read({.path = path});
    double metres = 0;
    const GeoPoint after = result.rows.at(0).valve.place;
    GeographicLib::Geodesic::WGS84().Inverse(before.latitude, before.longitude, after.latitude,
                                             after.longitude, metres);
    // By hand: the .prj writes its false easting and northing in feet too (6,561,666.7 and
    // 1,640,416.7), so what shrinks by 2 ppm are 561,666.7 ft west and 459,583.3 ft north of that
    // point: hypot(561,666.7, 459,583.3) * 0.3048 * 2e-6 = 0.4424 m.
    QVERIFY2(std::abs(metres - 0.4424) < 0.001, qPrintable(QString::number(metres)));
    QVERIFY2(reasons(result.warnings).contains(s("EPSG:2227")),
             qPrintable(reasons(result.warnings)));
}

void TestReadValves::systemIsNeverGuessed()
{
    const QString csv = m_files.write(s("xy.csv"), "number,x,y\n1,1800000,400000\n");
    const auto refused = readValves({.path = csv});
    QVERIFY(!refused);
    QVERIFY2(refused.error().message.contains(s("EPSG code")), qPrintable(refused.error().message));
    QVERIFY(refused.error().message.contains(s("never guessed")));
    QCOMPARE(read({.path = csv, .epsg = 26915}).rows.size(), size_t{1});

    const QString shape =
        m_files.makeLayer(s("noprj.shp"), "ESRI Shapefile", "noprj", wkbPoint, "EPSG:26915",
                          {s("number")}, {{"POINT (500000 4400000)", {s("1")}}});
    QVERIFY(QFile::remove(m_files.path(s("noprj.prj"))));
    const auto also = readValves({.path = shape});
    QVERIFY(!also);
    QVERIFY(also.error().message.contains(s("EPSG code")));
    QVERIFY(!inspectSource(shape)->layers[0].hasCrs);
    QVERIFY(std::abs(read({.path = shape, .epsg = 26915}).rows[0].valve.place.longitude + 93.0) <
            1e-6);

    const auto nonsense = readValves({.path = csv, .epsg = 999999});
    QVERIFY(!nonsense);
    QVERIFY(nonsense.error().message.contains(s("EPSG:999999")));
    const auto vertical = describeCrs(5703); // heights alone
    QVERIFY(!vertical);
}

void TestReadValves::fileIsBelievedOverTheRequest()
{
    const QString path =
        m_files.makeLayer(s("believed.gpkg"), "GPKG", "valves", wkbPoint, "EPSG:4326",
                          {s("number")}, {{"POINT (-93.5 40.25)", {s("1")}}});
    const auto result = read({.path = path, .epsg = 26915});
    QCOMPARE(result.rows[0].valve.place, (GeoPoint{40.25, -93.5}));
    QVERIFY(reasons(result.warnings).contains(s("EPSG:26915")));
}

void TestReadValves::duplicatesKeepTheFirst()
{
    const QString path = m_files.write(s("dup.csv"), "number,size\n007,6\n7,8\n007,12\n,4\n");
    const auto result = read({.path = path});
    QCOMPARE(result.rows.size(), size_t{2});
    QCOMPARE(result.rows[0].valve.size, NominalSize::ofInches(6));
    QCOMPARE(result.rows[1].valve.number, s("7"));
    QCOMPARE(result.rejected.size(), size_t{2});
    QCOMPARE(result.rejected[0].row, 3);
    QCOMPARE(result.rejected[0].value, s("007"));
    QVERIFY(result.rejected[0].reason.contains(s("row 1")));
    QCOMPARE(result.rejected[1].row, 4);
    QVERIFY(result.rejected[1].reason.contains(s("no number")));
}

void TestReadValves::depthUnits()
{
    const auto depthOf = [this](const char *heading, const char *cell) {
        const QString path =
            m_files.write(s("depth.csv"), QByteArray("number,") + heading + "\n1," + cell + "\n");
        const auto result = read({.path = path});
        return result.rows.at(0).valve.depthToNut.value_or(Metres{-1}).value;
    };
    QVERIFY(std::abs(depthOf("depth_m", "1.5") - 1.5) < 1e-12);
    QVERIFY(std::abs(depthOf("Depth (ft)", "5") - 1.524) < 1e-12);
    QVERIFY(std::abs(depthOf("Depth (in)", "60") - 1.524) < 1e-12);
    QVERIFY(std::abs(depthOf("depth", "5") - 1.524) < 1e-12);
    QVERIFY(std::abs(depthOf("depth", "1.5 m") - 1.5) < 1e-12);
    QVERIFY(std::abs(depthOf("depth", "5'") - 1.524) < 1e-12);
    QCOMPARE(depthOf("depth", "deep"), -1.0);
    QCOMPARE(depthOf("depth", "-3"), -1.0);
    const QString bare = m_files.write(s("bare.csv"), "number,depth\n1,5\n");
    QVERIFY(reasons(read({.path = bare}).warnings).contains(s("taken as feet")));
}

void TestReadValves::encodings_data()
{
    QTest::addColumn<QByteArray>("bytes");
    // "Café Ñandú" in the four encodings of real files; the bytes are from their code charts.
    QTest::newRow("UTF-8") << QByteArray("number,notes\n01,Caf\xC3\xA9 \xC3\x91"
                                         "and\xC3\xBA\n");
    QTest::newRow("UTF-8 BOM") << QByteArray("\xEF\xBB\xBFnumber,notes\r\n01,Caf\xC3\xA9 \xC3\x91"
                                             "and\xC3\xBA\r\n");
    QTest::newRow("Windows-1252") << QByteArray("number,notes\r\n01,Caf\xE9 \xD1"
                                                "and\xFA\r\n");
    const QString text = s("number\tnotes\r\n01\tCaf\xC3\xA9 \xC3\x91"
                           "and\xC3\xBA\r\n");
    QByteArray utf16("\xFF\xFE");
    for (const QChar c : text) {
        utf16 += static_cast<char>(c.unicode() & 0xFF);
        utf16 += static_cast<char>(c.unicode() >> 8);
    }
    QTest::newRow("UTF-16 with mark") << utf16;
}

void TestReadValves::encodings()
{
    QFETCH(QByteArray, bytes);
    const QString path = m_files.write(s("encoding.csv"), bytes);
    const auto result = read({.path = path});
    QCOMPARE(result.rows.size(), size_t{1});
    QCOMPARE(result.rows[0].valve.number, s("01"));
    QCOMPARE(result.rows[0].valve.remarks, s("Caf\xC3\xA9 \xC3\x91"
                                             "and\xC3\xBA"));
}

void TestReadValves::delimiters_data()
{
    QTest::addColumn<char>("delimiter");
    QTest::newRow("comma") << ',';
    QTest::newRow("semicolon") << ';';
    QTest::newRow("tab") << '\t';
    QTest::newRow("bar") << '|';
}

void TestReadValves::delimiters()
{
    QFETCH(char, delimiter);
    QByteArray text = "number#size#notes\n01#6\"#\"a,b;c|d\te\"\n";
    text.replace('#', delimiter);
    const auto result = read({.path = m_files.write(s("delimiter.txt"), text)});
    QCOMPARE(result.rows.size(), size_t{1});
    QCOMPARE(result.rows[0].valve.size, NominalSize::ofInches(6));
    QCOMPARE(result.rows[0].valve.remarks, s("a,b;c|d\te"));
}

void TestReadValves::layersByName()
{
    const QString path = m_files.path(s("two.gpkg"));
    m_files.makeLayer(s("two.gpkg"), "GPKG", "hydrants", wkbPoint, "EPSG:4326", {s("number")},
                      {{"POINT (-93 40)", {s("H1")}}});
    {
        const GDALDatasetUniquePtr dataset(
            GDALDataset::Open(path.toUtf8().constData(), GDAL_OF_VECTOR | GDAL_OF_UPDATE));
        OGRSpatialReference wgs84;
        wgs84.importFromEPSG(4326);
        OGRLayer *layer = dataset->CreateLayer("water_valve", &wgs84, wkbPoint, nullptr);
        OGRFieldDefn field("number", OFTString);
        layer->CreateField(&field);
        const OGRFeatureUniquePtr feature(OGRFeature::CreateFeature(layer->GetLayerDefn()));
        feature->SetField("number", "V1");
        const OGRPoint point(-93, 40);
        feature->SetGeometry(&point);
        QCOMPARE(layer->CreateFeature(feature.get()), OGRERR_NONE);
    }
    const auto chosen = read({.path = path});
    QCOMPARE(chosen.rows.at(0).valve.number, s("V1"));
    QVERIFY(reasons(chosen.warnings).contains(s("water_valve")));
    QCOMPARE(read({.path = path, .layer = s("hydrants")}).rows.at(0).valve.number, s("H1"));
    const auto missing = readValves({.path = path, .layer = s("valvs")});
    QVERIFY(!missing);
    QVERIFY(missing.error().message.contains(s("hydrants, water_valve")));
}

void TestReadValves::aTextTableGoesByItsFilesName()
{
    const QString path = m_files.write(s("yard.list.csv"), "number,lat,lon\nV1,40,-93\n");
    const auto source = inspectSource(path);
    QVERIFY(source.has_value());
    QCOMPARE(source->layers.at(0).name, s("yard.list"));
    QCOMPARE(read({.path = path, .layer = s("yard.list")}).rows.size(), size_t(1));
}

void TestReadValves::columnsByMap()
{
    const QString path = m_files.write(s("map.csv"), "Alpha,Beta,Gamma\nV1,6,8\n");
    const auto none = readValves({.path = path});
    QVERIFY(!none);
    QVERIFY2(none.error().message.contains(s("number")) &&
                 none.error().message.contains(s("Alpha, Beta, Gamma")),
             qPrintable(none.error().message));
    const auto wrong = readValves({.path = path, .columns = {{s("number"), s("Aplha")}}});
    QVERIFY(!wrong);
    QVERIFY2(wrong.error().message.contains(s("The nearest are: Alpha")),
             qPrintable(wrong.error().message));
    const auto field = readValves({.path = path, .columns = {{s("nubmer"), s("Alpha")}}});
    QVERIFY(!field);
    QVERIFY(field.error().message.contains(s("no field \"nubmer\"")));
    const auto result =
        read({.path = path, .columns = {{s("number"), s("alpha")}, {s("size"), s("Gamma")}}});
    QCOMPARE(result.rows.at(0).valve.number, s("V1"));
    QCOMPARE(result.rows.at(0).valve.size, NominalSize::ofInches(8));
    QCOMPARE(result.columns.value(s("number")), s("Alpha"));
}

void TestReadValves::progressAndCancel()
{
    QByteArray text = "number\n";
    for (int i = 0; i < 3000; ++i) {
        text += QByteArray::number(i) + "\n";
    }
    const QString path = m_files.write(s("long.csv"), text);
    double last = -1;
    bool rises = true;
    const auto whole = readValves({.path = path}, [&](double done, const QString &what) {
        rises = rises && done >= last && what.contains(s("long.csv"));
        last = done;
        return true;
    });
    QVERIFY2(whole.has_value(), qPrintable(whole ? QString() : whole.error().message));
    QVERIFY(rises);
    QCOMPARE(last, 1.0);
    int calls = 0;
    const auto stopped =
        readValves({.path = path}, [&calls](double, const QString &) { return ++calls < 3; });
    QVERIFY(!stopped);
    QCOMPARE(stopped.error().code, ErrorCode::Cancelled);
}

void TestReadValves::bareSizesInMillimetres()
{
    const QString path = m_files.write(s("mm.csv"), "number,size\n1,200\n2,6 in\n");
    ReadRequest request{.path = path};
    request.bareSize = BareSize::Millimetres;
    const auto result = read(request);
    QCOMPARE(result.rows.at(0).valve.size, NominalSize::ofInches(8));
    QCOMPARE(result.rows.at(1).valve.size, NominalSize::ofInches(6));
}

void TestReadValves::hydrantsAndServices()
{
    const QString hydrants =
        m_files.write(s("hyd.csv"), "HYD_NO,LAT,LONG,ADDRESS\nH-01,40,-93,2 Second St\n");
    const auto taken = readHydrants({.path = hydrants});
    QVERIFY(taken.has_value());
    QCOMPARE(taken->rows.at(0).number, s("H-01"));
    QCOMPARE(taken->rows.at(0).address, s("2 Second St"));
    QCOMPARE(taken->rows.at(0).place, (GeoPoint{40, -93}));
    const QString services =
        m_files.write(s("svc.csv"), "account,lat,lon,address,customer,phone,main_id,critical\n"
                                    "0001,40,-93,3 Third St,Invented Clinic,555-0100,M7,dialysis\n"
                                    "0002,40,-93,4 Third St,Invented House,555-0101,M7,N\n");
    const auto connections = readServices({.path = services});
    QVERIFY(connections.has_value());
    QCOMPARE(connections->rows.at(0).number, s("0001"));
    QCOMPARE(connections->rows.at(0).mainNumber, s("M7"));
    QVERIFY(connections->rows.at(0).critical);
    QVERIFY(!connections->rows.at(1).critical);
    QCOMPARE(connections->rows.at(1).phone, s("555-0101"));
}

QTEST_GUILESS_MAIN(TestReadValves)
#include "test_read_valves.moc"
