// SPDX-License-Identifier: GPL-3.0-or-later
// Files that are not what they claim, cut short, empty, huge or senseless: each gets a message that
// says so; none crashes, none is changed, nothing is printed.
#include "core/exchange/read_layer.h"

#include "tests/core/exchange/file_fixture.h"

#include <QDir>
#include <QtEndian>

#include <sys/stat.h>
#include <unistd.h>

using namespace keyround;
using namespace keyround::tests;

class TestBrokenFiles : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase();
    void everyOneHasItsMessage_data();
    void everyOneHasItsMessage();

private:
    void placesAndNames();
    void renamedFiles();
    void geoPackages();
    void shapefiles();
    void spreadsheets();
    void geoJson();
    void textTables();
    void textCells();
    void openStreetMap();
    void systemsAndColumns();
    void hugeFiles();

    void add(const char *name, const QString &path, const char *fragment,
             LayerKind kind = LayerKind::Valves, ReadRequest request = {});
    void addText(const char *name, const char *file, const QByteArray &text, const char *fragment,
                 LayerKind kind = LayerKind::Valves, const ReadRequest &request = {})
    {
        add(name, m_files.write(s(file), text), fragment, kind, request);
    }

    FileFixture m_files;
    QString m_gpkg;
    QHash<QString, ReadRequest> m_requests;
    qsizetype m_cases = 0;
};

namespace {

/// What a reader said: its error, or else all of its rejects and notes.
template <typename Row> QString saidBy(const Result<Imported<Row>> &result)
{
    return result ? reasons(result->rejected) + reasons(result->warnings) : result.error().message;
}

QString saidOf(LayerKind kind, const ReadRequest &request)
{
    switch (kind) {
    case LayerKind::Valves:
        return saidBy(readValves(request));
    case LayerKind::Streets:
        return saidBy(readStreets(request));
    case LayerKind::Mains:
        return saidBy(readMains(request));
    case LayerKind::Hydrants:
        return saidBy(readHydrants(request));
    case LayerKind::Services:
        return saidBy(readServices(request));
    case LayerKind::Sources:
        return saidBy(readSources(request));
    case LayerKind::Visits:
        break;
    }
    return saidBy(readVisits(request));
}

/// Catches what a library prints on the error stream past every handler.
class StandardErrorWatch
{
public:
    explicit StandardErrorWatch(const QString &path) : m_path(path), m_old(dup(STDERR_FILENO))
    {
        QFile file(path);
        if (file.open(QIODevice::WriteOnly)) {
            dup2(file.handle(), STDERR_FILENO);
        }
    }
    ~StandardErrorWatch() { stop(); }
    StandardErrorWatch(const StandardErrorWatch &) = delete;
    StandardErrorWatch &operator=(const StandardErrorWatch &) = delete;

    QByteArray stop()
    {
        if (m_old >= 0) {
            (void)fflush(stderr);
            dup2(m_old, STDERR_FILENO);
            close(m_old);
            m_old = -1;
        }
        QFile file(m_path);
        return file.open(QIODevice::ReadOnly) ? file.readAll() : QByteArray();
    }

private:
    QString m_path;
    int m_old;
};

} // namespace

void TestBrokenFiles::initTestCase()
{
    std::vector<FileFixture::Feature> many;
    for (int i = 0; i < 2000; ++i) {
        many.push_back({"POINT (-93 40)", {QString::number(i), s("a valve that was invented")}});
    }
    m_gpkg = m_files.makeLayer(s("good.gpkg"), "GPKG", "valves", wkbPoint, "EPSG:4326",
                               {s("number"), s("notes")}, many);
}

void TestBrokenFiles::add(const char *name, const QString &path, const char *fragment,
                          LayerKind kind, ReadRequest request)
{
    request.path = path;
    m_requests.insert(s(name), request);
    QTest::newRow(name) << path << static_cast<int>(kind) << s(fragment);
    ++m_cases;
}

void TestBrokenFiles::placesAndNames()
{
    add("missing", m_files.path(s("not-there.csv")), "There is no file");
    add("no name", QString(), "There is no file");
    add("folder", QFileInfo(m_gpkg).path(), "is a folder");
    QDir().mkpath(m_files.path(s("empty.gdb")));
    add("geodatabase without tables", m_files.path(s("empty.gdb")), "no tables in it");
    QDir().mkpath(m_files.path(s("hollow.gdb")));
    addText("geodatabase of garbage", "hollow.gdb/a00000001.gdbtable", QByteArray(500, '\x07'),
            "not known");
    add("geodatabase of garbage, whole", m_files.path(s("hollow.gdb")), "cut short or damaged");
    addText("zero bytes, CSV", "zero.csv", "", "is empty");
    addText("zero bytes, GeoPackage", "zero.gpkg", "", "is empty");
    addText("name that is not known", "letter.docx", "Dear reader", "not known");
    addText("zip", "all.zip", "PK\x03\x04rest", "Unpack it");
    addText("part of a shapefile", "valves.dbf", "\x03rest", "Choose the .shp");
    QFile::link(m_files.path(s("loop.csv")), m_files.path(s("loop.csv")));
    add("link to itself", m_files.path(s("loop.csv")), "There is no file");
    (void)mkfifo(m_files.path(s("pipe.csv")).toLocal8Bit().constData(), 0600);
    add("pipe", m_files.path(s("pipe.csv")), "not an ordinary file");
    if (geteuid() != 0) { // root may read everything
        const QString locked = m_files.write(s("locked.csv"), "number\n1\n");
        QFile::setPermissions(locked, {});
        add("no leave to read", locked, "cannot be read");
    }
}

void TestBrokenFiles::renamedFiles()
{
    const QByteArray sqlite = m_files.read(s("good.gpkg"));
    addText("CSV as XLSX", "text.xlsx", "number\n1\n", "holds plain text");
    addText("CSV as GeoPackage", "text.gpkg", "number\n1\n", "holds plain text");
    addText("CSV as shapefile", "text.shp", "number\n1\n", "holds plain text");
    addText("CSV as GeoJSON", "text.geojson", "number\n1\n", "holds plain text");
    addText("GeoPackage as CSV", "pkg.csv", sqlite, "holds an SQLite database");
    addText("GeoPackage as GeoJSON", "pkg.json", sqlite, "holds an SQLite database");
    addText("XLSX as CSV", "sheet.csv", "PK\x03\x04 and so on", "holds a zip archive");
    addText("old office as XLSX", "old.xlsx", "\xD0\xCF\x11\xE0rest", "password-protected");
    addText("PDF as CSV", "paper.csv", "%PDF-1.4 rest", "holds a PDF");
    addText("gzip as CSV", "packed.csv", "\x1F\x8B rest", "gzip");
    addText("web page as CSV", "page.csv", "<!DOCTYPE html><html>sign in</html>", "holds XML");
    addText("picture as CSV", "photo.csv", QByteArray("\x89PNG\r\n\x1A\n\0\0\0\rIHDR", 16),
            "zero bytes");
}

void TestBrokenFiles::geoPackages()
{
    const qsizetype size = m_files.read(s("good.gpkg")).size();
    add("GeoPackage cut in half", m_files.cut(s("good.gpkg"), s("half.gpkg"), size / 2),
        "is cut short: it should hold");
    add("GeoPackage of 50 bytes", m_files.cut(s("good.gpkg"), s("tiny.gpkg"), 50), "cut short");
    QByteArray plain = m_files.read(s("good.gpkg"));
    plain.replace(68, 4, QByteArray(4, '\0'));
    addText("SQLite that is no GeoPackage", "plain.gpkg", plain, "no GeoPackage");
    QByteArray holes = m_files.read(s("good.gpkg"));
    for (qsizetype at = 4096; at + 4096 < holes.size(); at += 4096) {
        holes.replace(at, 2048, QByteArray(2048, '\x5A'));
    }
    addText("GeoPackage with garbage inside", "holes.gpkg", holes, "cut short or damaged");
}

void TestBrokenFiles::shapefiles()
{
    const auto shape = [this](const char *stem) {
        return m_files.makeLayer(s(stem) + s(".shp"), "ESRI Shapefile", stem, wkbPoint, "EPSG:4326",
                                 {s("number")},
                                 {{"POINT (-93 40)", {s("1")}}, {"POINT (-93 41)", {s("2")}}});
    };
    const auto part = [this](const char *name) { return m_files.path(s(name)); };
    const QString noShx = shape("noshx");
    QFile::remove(part("noshx.shx"));
    add("without .shx", noShx, ".shx is missing");
    const QString noDbf = shape("nodbf");
    QFile::remove(part("nodbf.dbf"));
    add("without .dbf", noDbf, ".dbf is missing");
    const QString noPrj = shape("noprj");
    QFile::remove(part("noprj.prj"));
    add("without .prj", noPrj, "EPSG code");
    const QString cutShp = shape("cutshp");
    m_files.cut(s("cutshp.shp"), s("cutshp.shp"), -20);
    add("shapes cut short", cutShp, "is cut short");
    const QString cutDbf = shape("cutdbf");
    m_files.cut(s("cutdbf.dbf"), s("cutdbf.dbf"), -30);
    add("table cut short", cutDbf, "is cut short");
    const QString badShx = shape("badshx");
    m_files.write(s("badshx.shx"), QByteArray(200, 'x'));
    add("index of garbage", badShx, "is damaged");
    const QString badPrj = shape("badprj");
    m_files.write(s("badprj.prj"), "PROJCS[\"half a syst");
    add("system of garbage", badPrj, "EPSG code");
    QByteArray head = QByteArray(100, '\0');
    head.replace(0, 4, QByteArray("\0\0\x27\x0A", 4));
    const QString onlyHead = shape("onlyhead");
    m_files.write(s("onlyhead.shp"), head);
    add("shapes without rows", onlyHead, "cut short or damaged");
}

void TestBrokenFiles::spreadsheets()
{
    for (const char *driver : {"XLSX", "ODS"}) {
        const QString ending = s(driver).toLower();
        const QString good = s("sheet.") + ending;
        m_files.makeLayer(good, driver, "valves", wkbNone, nullptr, {s("number")},
                          {{"", {s("1")}}, {"", {s("2")}}});
        const QString cut = m_files.cut(good, s("cut.") + ending, -200);
        add(qPrintable(s(driver) + s(" cut short")), cut, "cut short or damaged");
        QByteArray bomb = m_files.read(good);
        const qsizetype entry = bomb.lastIndexOf("PK\x01\x02");
        qToLittleEndian<quint32>(0x7F000000U, bomb.data() + entry + 24); // its size unpacked
        add(qPrintable(s(driver) + s(" that unpacks to 2 GB")),
            m_files.write(s("bomb.") + ending, bomb), "would unpack to");
        QByteArray spoilt = m_files.read(good);
        for (qsizetype at = 60; at < entry - 20; at += 7) {
            spoilt[at] = static_cast<char>(~spoilt[at]);
        }
        add(qPrintable(s(driver) + s(" with flipped bytes")),
            m_files.write(s("spoilt.") + ending, spoilt), "its parts cannot be listed");
    }
    m_files.cut(s("sheet.ods"), s("other.xlsx"), -1 + 1 + m_files.read(s("sheet.ods")).size());
    add("ODS as XLSX", m_files.path(s("other.xlsx")), "a zip archive but not a spreadsheet (XLSX)");
    const QString headings = m_files.makeLayer(s("headings.xlsx"), "XLSX", "valves", wkbNone,
                                               nullptr, {s("number"), s("size")}, {});
    add("XLSX with headings only", headings, "neither columns nor rows");
}

void TestBrokenFiles::geoJson()
{
    const QByteArray start = R"({"type":"FeatureCollection","features":[)";
    int number = 0;
    const auto feature = [&number](const char *geometry) {
        return R"({"type":"Feature","properties":{"number":")" + QByteArray::number(++number) +
               R"("},"geometry":)" + geometry + "}";
    };
    addText("GeoJSON cut short", "cut.geojson", start + feature(R"({"type":"Point","coord)"),
            "cut short or damaged");
    addText("GeoJSON with NaN", "nan.geojson",
            start + feature(R"({"type":"Point","coordinates":[NaN, 40]})") + "]}",
            "has no position");
    addText("GeoJSON outside of the earth", "far.geojson",
            start + feature(R"({"type":"Point","coordinates":[-93, 140]})") + "]}",
            "no such place on the earth");
    addText("GeoJSON in feet", "feet.geojson",
            start + feature(R"({"type":"Point","coordinates":[6000000, 2100000]})") + "]}",
            "no such place on the earth");
    addText("GeoJSON of areas", "areas.geojson",
            start + feature(R"({"type":"Polygon","coordinates":[[[0,1],[1,1],[1,2],[0,1]]]})") +
                "]}",
            "must be points");
    addText("GeoJSON of mixed shapes", "mixed.geojson",
            start + feature(R"({"type":"Point","coordinates":[-93, 40]})") + "," +
                feature(R"({"type":"LineString","coordinates":[[0,1],[1,1]]})") + "]}",
            "not one point", LayerKind::Hydrants);
    addText("GeoJSON without features", "none.geojson", start + "]}", "neither columns nor rows");
    addText("JSON that is no GeoJSON", "other.json", R"({"valves":[1,2,3]})",
            "cut short or damaged");
    addText("JSON nested without end", "deep.json", QByteArray(200'000, '['),
            "cut short or damaged");
    addText("GeoJSON nested without end", "deep.geojson",
            start + feature(QByteArray(R"({"type":"Point","coordinates":)")
                                .append(QByteArray(200'000, '['))
                                .constData()),
            "cut short or damaged");
}

void TestBrokenFiles::textTables()
{
    addText("quote never closed", "quote.csv", "number,notes\n1,fine\n2,\"open\n3,lost\n",
            "data row 2 is never closed");
    addText("quote never closed in headings", "quote2.csv", "\"number,notes\n1,2\n",
            "heading line is never closed");
    addText("headings only", "headings.csv", "number,size\r\n", "no rows");
    addText("blank lines only", "blank.csv", "\r\n\r\n  \r\n", "nothing but blank lines");
    addText("two columns of one name", "twice.csv", "number,size,Size\n1,2,3\n",
            "two columns headed");
    addText("zero bytes inside", "nul.csv", QByteArray("number\n1\0\0\n", 11), "zero bytes");
    QByteArray utf16;
    for (const char c : QByteArray("number,size\n1,6\n")) {
        utf16 += c;
        utf16 += '\0';
    }
    addText("UTF-16 without its mark", "utf16.csv", utf16, "UTF-16 without its mark");
    addText("UTF-16 cut in a letter", "utf16cut.csv", "\xFF\xFE" + utf16 + "x",
            "cut short within a letter");
    QByteArray noise;
    for (int i = 0; i < 5000; ++i) {
        noise += static_cast<char>(1 + (i * 7919 + i * i) % 255);
    }
    addText("noise", "noise.csv", noise, "control characters");
    addText("mark and nothing else", "bom.csv", "\xEF\xBB\xBF", "nothing but blank lines");
    addText("rows of uneven length", "ragged.csv", "number,size\n1\n2,6,surplus\n",
            "more fields than the 2 headings");
    addText("one line without end", "line.csv", QByteArray(3'000'000, 'a'), "is no table");
}

void TestBrokenFiles::textCells()
{
    const QByteArray head = "number,lat,lon\n";
    addText("cell of 100,000 characters", "cell.csv",
            "number,notes\n1," + QByteArray(100'000, 'x') + "\n2,fine\n",
            "more than 32767 characters");
    addText("latitude and longitude swapped", "swapped.csv", head + "1,-93.5,40.25\n", "swapped?");
    addText("position nan", "nan.csv", head + "1,nan,40\n", "1|lat|nan|");
    addText("position infinite", "inf.csv", head + "1,1e999,40\n", "1|lat|1e999|");
    addText("half a position", "halfplace.csv", head + "1,40,\n", "half of the position");
    addText("position in words", "words.csv", head + "1,north,west\n", "1|lon|west|");
    addText("position with thousands marks", "marks.csv",
            "number,x,y\n1,\"1,800,000\",\"400,000\"\n", "1|x|1,800,000|", LayerKind::Valves,
            {.epsg = 26915});
    addText("position out of its system", "system.csv", "number,x,y\n1,1e30,1e30\n",
            "no such place on the earth", LayerKind::Valves, {.epsg = 26915});
    addText("number missing", "nonumber.csv", "number,size\n,6\n", "no number");
    addText("number twice", "dup.csv", "number,size\n1,6\n1,8\n", "row 1 has this number");
    addText("size in words", "size.csv", "number,size\n1,enormous\n", "1|size|enormous|");
    addText("turns below zero", "turns.csv", "number,turns\n1,-4\n", "1|turns|-4|");
    addText("year of the future", "year.csv", "number,install_year\n1,3024\n",
            "1|install_year|3024|");
    addText("visits with dates that can be two", "dates.csv", "valve,date\n1,3/4/2021\n",
            "month or the day comes first", LayerKind::Visits);
    addText("visits on no day", "noday.csv", "valve,date\n1,2021-02-30\n", "1|date|2021-02-30|",
            LayerKind::Visits);
}

void TestBrokenFiles::openStreetMap()
{
    const QByteArray start = "<?xml version='1.0'?><osm version='0.6'>"
                             "<node id='1' lat='40' lon='-93'/><node id='2' lat='40.1' lon='-93'/>";
    const QByteArray way = "<way id='10'><nd ref='1'/><nd ref='2'/>"
                           "<tag k='highway' v='residential'/></way>";
    addText("OSM cut short", "cut.osm", start + way + "<way id='11'><nd re", "cut short or damaged",
            LayerKind::Streets);
    addText("XML that is no OSM", "page.osm", "<html><body>sign in first</body></html>",
            "cut short or damaged", LayerKind::Streets);
    addText("OSM without ways", "none.osm", start + "</osm>", "no rows", LayerKind::Streets);
    addText("OSM way of lost nodes", "lost.osm",
            start +
                "<way id='9'><nd ref='77'/><nd ref='78'/><tag k='highway' v='road'/></way></osm>",
            "no rows", LayerKind::Streets);
    addText("OSM with a bomb of entities", "laugh.osm",
            "<?xml version='1.0'?><!DOCTYPE o [<!ENTITY a 'aaaaaaaaaa'>"
            "<!ENTITY b '&a;&a;&a;&a;&a;&a;&a;&a;'><!ENTITY c '&b;&b;&b;&b;&b;&b;&b;&b;'>"
            "<!ENTITY d '&c;&c;&c;&c;&c;&c;&c;&c;'><!ENTITY e '&d;&d;&d;&d;&d;&d;&d;&d;'>"
            "<!ENTITY f '&e;&e;&e;&e;&e;&e;&e;&e;'>]><osm version='0.6'>"
            "<node id='1' lat='40' lon='-93'><tag k='name' v='&f;&f;&f;&f;&f;&f;'/></node></osm>",
            "cut short or damaged", LayerKind::Streets);
    const QByteArray blob("\0\0\0\x0D\x0A\x09OSMHeader\x18\x7F", 17);
    addText("PBF cut short", "cut.osm.pbf", blob, "cut short or damaged", LayerKind::Streets);
    addText("PBF of noise", "noise.osm.pbf", "\x7F\x45 something else entirely", "PBF",
            LayerKind::Streets);
    addText("valves asked of OSM", "valves.osm", start + way + "</osm>", "only streets");
}

void TestBrokenFiles::systemsAndColumns()
{
    const QByteArray xy = "number,x,y\n1,1800000,400000\n";
    addText("no system", "nosystem.csv", xy, "never guessed");
    addText("system that is none", "code.csv", xy, "EPSG:999999", LayerKind::Valves,
            {.epsg = 999999});
    addText("system below zero", "minus.csv", xy, "EPSG:-5", LayerKind::Valves, {.epsg = -5});
    addText("system of heights", "heights.csv", xy, "EPSG:5703", LayerKind::Valves, {.epsg = 5703});
    addText("no column fits", "columns.csv", "alpha,beta\n1,2\n", "Its columns are: alpha, beta");
    addText("visits without a date", "nodate.csv", "valve,turns\n1,2\n", "\"Date\" (date)",
            LayerKind::Visits);
    addText("column that is not there", "map.csv", xy, "The nearest are: number", LayerKind::Valves,
            {.columns = {{s("number"), s("nmber")}}});
    addText("field that is not there", "field.csv", xy, "no field \"colour\"", LayerKind::Valves,
            {.columns = {{s("colour"), s("x")}}});
    add("layer that is not there", m_gpkg, "no layer \"pipes\"", LayerKind::Valves,
        {.layer = s("pipes")});
    add("points as streets", m_gpkg, "must be lines", LayerKind::Streets);
    addText("table as mains", "table.csv", xy, "must be lines", LayerKind::Mains);
}

void TestBrokenFiles::hugeFiles()
{
    const auto sparse = [this](const char *name, qint64 size) {
        QFile file(m_files.write(s(name), m_files.read(s("good.gpkg")).left(4096)));
        file.resize(size); // takes no room on the disk
        return file.fileName();
    };
    add("GeoPackage of 3 GB", sparse("huge.gpkg", 3LL << 30), "at most 2048 MB");
    add("CSV of 600 MB", sparse("huge.csv", 600LL << 20), "at most 512 MB");
}

void TestBrokenFiles::everyOneHasItsMessage_data()
{
    QTest::addColumn<QString>("path");
    QTest::addColumn<int>("kind");
    QTest::addColumn<QString>("fragment");
    placesAndNames();
    renamedFiles();
    geoPackages();
    shapefiles();
    spreadsheets();
    geoJson();
    textTables();
    textCells();
    openStreetMap();
    systemsAndColumns();
    hugeFiles();
    QVERIFY2(m_cases >= 45, qPrintable(QString::number(m_cases)));
}

void TestBrokenFiles::everyOneHasItsMessage()
{
    QFETCH(QString, path);
    QFETCH(int, kind);
    QFETCH(QString, fragment);
    const QDir folder(m_files.path(QString()));
    const QFileInfo info(path);
    const QByteArray before =
        info.isFile() && info.size() < 10'000'000 ? m_files.read(info.fileName()) : QByteArray();
    const QString watched = folder.filePath(s("printed.txt"));
    m_files.write(s("printed.txt"), "");
    const QStringList names = folder.entryList(QDir::AllEntries | QDir::Hidden | QDir::System);

    StandardErrorWatch watch(watched);
    const auto looked = inspectSource(path);
    const QString said =
        saidOf(static_cast<LayerKind>(kind), m_requests.value(s(QTest::currentDataTag())));
    const QByteArray printed = watch.stop();

    QCOMPARE(printed, QByteArray());
    QVERIFY(!fragment.isEmpty());
    QVERIFY2(said.contains(fragment), qPrintable(said));
    QVERIFY2(!said.contains(s("/vsi")), qPrintable(said)); // no inner names of ours
    if (!looked) {
        QVERIFY(!looked.error().message.isEmpty());
    }
    QCOMPARE(folder.entryList(QDir::AllEntries | QDir::Hidden | QDir::System), names);
    if (!before.isEmpty()) {
        QCOMPARE(m_files.read(info.fileName()), before);
    }
}

QTEST_GUILESS_MAIN(TestBrokenFiles)
#include "test_broken_files.moc"
