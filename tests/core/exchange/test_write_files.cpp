// SPDX-License-Identifier: GPL-3.0-or-later
// Files out, and back in again.
#include "core/exchange/csv_text.h"
#include "core/exchange/source.h"
#include "core/exchange/write_files.h"

#include "tests/core/exchange/file_fixture.h"

#include <QXmlStreamReader>

#include <rapidcheck.h>

using namespace keyround;
using namespace keyround::tests;

class TestWriteFiles : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void csvAsRfc4180Says();
    void rfc4180ReadBack_data();
    void rfc4180ReadBack();
    void formulasAreGuarded_data();
    void formulasAreGuarded();
    void guardComesOffAgain();
    void csvRoundTrip();
    void gpxIsVersionOnePointOne();
    void gpxReadsBack();
    void gpxNeedsPlaces();
    void wholeOrNotAtAll();

private:
    FileFixture m_files;
};

void TestWriteFiles::csvAsRfc4180Says()
{
    // RFC 4180 section 2: rule 1 (CR LF ends a record), 3 (a heading line), 5 and 6 (fields with
    // commas, quotes and line ends are quoted), 7 (a quote is doubled).
    const CsvTable table{{s("a"), s("b")},
                         {{s("1"), s("x,y")}, {s("say \"so\""), s("two\nlines")}, {s(""), s("")}}};
    QCOMPARE(csvBytes(table), QByteArray("a,b\r\n1,\"x,y\"\r\n\"say \"\"so\"\"\",\"two\nlines\"\r\n"
                                         ",\r\n"));
}

void TestWriteFiles::rfc4180ReadBack_data()
{
    QTest::addColumn<QByteArray>("text");
    QTest::addColumn<QStringList>("cells");
    // The examples of RFC 4180 section 2, with a heading line put before them.
    const QByteArray head = "one,two,three\r\n";
    QTest::newRow("rule 1") << head + "aaa,bbb,ccc\r\n"
                            << QStringList{s("aaa"), s("bbb"), s("ccc")};
    QTest::newRow("rule 2: no last line end")
        << head + "aaa,bbb,ccc" << QStringList{s("aaa"), s("bbb"), s("ccc")};
    QTest::newRow("rule 4: spaces belong to a field")
        << head + " aaa ,bbb,ccc\r\n"
        << QStringList{s(" aaa "), s("bbb"), s("ccc")};
    QTest::newRow("rule 5: quotes around fields") << head + "\"aaa\",\"bbb\",\"ccc\"\r\n"
                                                  << QStringList{s("aaa"), s("bbb"), s("ccc")};
    QTest::newRow("rule 6: a line end within quotes")
        << head + "\"aaa\",\"b\r\nbb\",\"ccc\"\r\n"
        << QStringList{s("aaa"), s("b\nbb"), s("ccc")};
    QTest::newRow("rule 7: a doubled quote") << head + "\"aaa\",\"b\"\"bb\",\"ccc\"\r\n"
                                             << QStringList{s("aaa"), s("b\"bb"), s("ccc")};
    // What the RFC leaves out and files do.
    QTest::newRow("bare quote") << head + "6\",8\",4\"\r\n"
                                << QStringList{s("6\""), s("8\""), s("4\"")};
    QTest::newRow("LF") << QByteArray("one,two,three\naaa,bbb,ccc\n")
                        << QStringList{s("aaa"), s("bbb"), s("ccc")};
    QTest::newRow("CR") << QByteArray("one,two,three\raaa,bbb,ccc\r")
                        << QStringList{s("aaa"), s("bbb"), s("ccc")};
    QTest::newRow("headings that are numbers")
        << QByteArray("1,2,3\n4,5,6\n") << QStringList{s("4"), s("5"), s("6")};
}

void TestWriteFiles::rfc4180ReadBack()
{
    QFETCH(QByteArray, text);
    QFETCH(QStringList, cells);
    const auto info = inspectSource(m_files.write(s("rfc.csv"), text));
    QVERIFY2(info.has_value(), qPrintable(info ? QString() : info.error().message));
    QCOMPARE(info->layers[0].firstRows.size(), 1);
    QCOMPARE(info->layers[0].firstRows[0], cells);
    QCOMPARE(info->layers[0].rows, 1);
}

void TestWriteFiles::formulasAreGuarded_data()
{
    QTest::addColumn<QString>("written");
    QTest::newRow("=1+1") << s("'=1+1");
    QTest::newRow("+SUM(A1)") << s("'+SUM(A1)");
    QTest::newRow("-2+3") << s("'-2+3");
    QTest::newRow("@cmd") << s("'@cmd");
    QTest::newRow("\tx") << s("\"'\tx\"");
    QTest::newRow("-12.5") << s("-12.5");
    QTest::newRow("+5") << s("+5");
    QTest::newRow("-") << s("'-");
    QTest::newRow("it's = fine") << s("it's = fine");
    QTest::newRow("'=already") << s("''=already");
}

void TestWriteFiles::formulasAreGuarded()
{
    QFETCH(QString, written);
    const CsvTable table{{s("a"), s("b")}, {{s(QTest::currentDataTag()), s("x")}}};
    QCOMPARE(QString::fromUtf8(csvBytes(table)), s("a,b\r\n") + written + s(",x\r\n"));
}

namespace {

/// Texts made of what gives trouble, mixed with anything.
rc::Gen<QString> hardText()
{
    const auto piece = rc::gen::element<std::string>(
        "=", "+", "-", "@", "\t", "\n", "'", "\"", ",", ";", "|", " ", "1", "2.5", "e", "a",
        "\xC3\xA9", "\xE2\x82\xAC", "NULL", "\xF0\x9F\x9A\xB0");
    return rc::gen::map(rc::gen::container<std::vector<std::string>>(piece),
                        [](const std::vector<std::string> &pieces) {
                            std::string text;
                            for (const std::string &each : pieces) {
                                text += each;
                            }
                            return QString::fromStdString(text);
                        });
}

} // namespace

void TestWriteFiles::guardComesOffAgain()
{
    QVERIFY(rc::check("unguarded(guarded(x)) is x", [] {
        const QString text = *hardText();
        RC_ASSERT(unguarded(guarded(text)) == text);
    }));
}

void TestWriteFiles::csvRoundTrip()
{
    QVERIFY(rc::check("a table comes back through the importer as it was", [this] {
        const int columns = *rc::gen::inRange(1, 5);
        const int rows = *rc::gen::inRange(1, 15);
        CsvTable table;
        for (int c = 0; c < columns; ++c) {
            table.header << QStringLiteral("column_%1").arg(c);
        }
        for (int r = 0; r < rows; ++r) {
            QStringList row;
            for (int c = 0; c < columns; ++c) {
                row << *hardText();
            }
            // A record that is blank all through is a blank line to a reader.
            if (QString(row.join(QString())).trimmed().isEmpty()) {
                row[0] = QStringLiteral("x");
            }
            table.rows << row;
        }
        const QString path = m_files.path(s("trip.csv"));
        RC_ASSERT(writeCsv(path, table).has_value());
        const auto info = inspectSource(path);
        RC_ASSERT(info.has_value());
        RC_ASSERT(info->layers[0].columns == table.header);
        RC_ASSERT(info->layers[0].firstRows == table.rows);
    }));
}

namespace {

GpxRoute invented()
{
    GpxRoute route;
    route.name = s("Round of 2024-05-01 <invented & small>");
    route.made = QDateTime(QDate(2024, 5, 1), QTime(12, 0), Qt::UTC);
    route.stops = {{s("Yard"), s(""), {40.0, -93.0}},
                   {s("V-2"), s("8 in gate, \"27\" turns"), {40.0012345, -93.0023456}},
                   {s("V-1"), s("Caf\xC3\xA9 corner"), {40.002, -93.001}}};
    route.track = {{40.0, -93.0}, {40.0012345, -93.0023456}, {40.0015, -93.002}, {40.002, -93.001}};
    return route;
}

} // namespace

void TestWriteFiles::gpxIsVersionOnePointOne()
{
    // The GPX 1.1 schema (topografix.com/GPX/1/1): root gpx of that name space with version and
    // creator; rte with rtept, trk with trkseg and trkpt; lat and lon as attributes.
    const QString path = m_files.path(s("round.gpx"));
    QVERIFY(writeGpx(path, invented()).has_value());
    QXmlStreamReader xml(m_files.read(s("round.gpx")));
    QStringList order;
    QList<std::pair<double, double>> points;
    while (!xml.atEnd()) {
        if (xml.readNext() != QXmlStreamReader::StartElement) {
            continue;
        }
        if (xml.name() == s("gpx")) {
            QCOMPARE(xml.attributes().value(s("version")).toString(), s("1.1"));
            QVERIFY(!xml.attributes().value(s("creator")).isEmpty());
            QCOMPARE(xml.namespaceUri().toString(), s("http://www.topografix.com/GPX/1/1"));
        } else if (xml.name() == s("rtept") || xml.name() == s("trkpt")) {
            points << std::pair{xml.attributes().value(s("lat")).toDouble(),
                                xml.attributes().value(s("lon")).toDouble()};
            order << xml.name().toString();
        } else if (xml.name() == s("rte") || xml.name() == s("trk") || xml.name() == s("trkseg")) {
            order << xml.name().toString();
        }
    }
    QVERIFY2(!xml.hasError(), qPrintable(xml.errorString()));
    QCOMPARE(order.join(s(" ")), s("rte rtept rtept rtept trk trkseg trkpt trkpt trkpt trkpt"));
    const GpxRoute route = invented();
    for (size_t i = 0; i < 3; ++i) {
        QVERIFY(std::abs(points[static_cast<qsizetype>(i)].first - route.stops[i].place.latitude) <
                1e-8);
    }
    for (size_t i = 0; i < 4; ++i) {
        QVERIFY(std::abs(points[static_cast<qsizetype>(i) + 3].second - route.track[i].longitude) <
                1e-8);
    }
}

void TestWriteFiles::gpxReadsBack()
{
    GDALAllRegister();
    const QString path = m_files.path(s("back.gpx"));
    const GpxRoute route = invented();
    QVERIFY(writeGpx(path, route).has_value());
    const GDALDatasetUniquePtr dataset(
        GDALDataset::Open(path.toUtf8().constData(), GDAL_OF_VECTOR | GDAL_OF_READONLY));
    QVERIFY(dataset != nullptr);
    size_t at = 0;
    for (const auto &feature : *dataset->GetLayerByName("route_points")) {
        QCOMPARE(QString::fromUtf8(feature->GetFieldAsString("name")), route.stops.at(at).name);
        QCOMPARE(QString::fromUtf8(feature->GetFieldAsString("desc")),
                 route.stops.at(at).description);
        ++at;
    }
    QCOMPARE(at, size_t{3});
    const OGRFeatureUniquePtr track(dataset->GetLayerByName("tracks")->GetNextFeature());
    QVERIFY(track != nullptr);
    QCOMPARE(QString::fromUtf8(track->GetFieldAsString("name")), route.name);
}

void TestWriteFiles::gpxNeedsPlaces()
{
    GpxRoute route = invented();
    route.stops[1].place = {};
    const auto status = writeGpx(m_files.path(s("none.gpx")), route);
    QVERIFY(!status);
    QVERIFY(status.error().message.contains(s("V-2")));
    QVERIFY(!QFile::exists(m_files.path(s("none.gpx"))));
}

void TestWriteFiles::wholeOrNotAtAll()
{
    const QString path = m_files.write(s("kept.txt"), "old");
    QVERIFY(writeWhole(path, "new bytes").has_value());
    QCOMPARE(m_files.read(s("kept.txt")), QByteArray("new bytes"));
    const auto nowhere = writeWhole(m_files.path(s("no/such/folder.csv")), "x");
    QVERIFY(!nowhere);
    QCOMPARE(nowhere.error().code, ErrorCode::StorageFault);
    QVERIFY(nowhere.error().message.contains(s("folder.csv")));
    QVERIFY(QDir().mkpath(m_files.path(s("dir.csv"))));
    QVERIFY(!writeWhole(m_files.path(s("dir.csv")), "x"));
}

QTEST_GUILESS_MAIN(TestWriteFiles)
#include "test_write_files.moc"
