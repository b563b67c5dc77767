// SPDX-License-Identifier: GPL-3.0-or-later
// The invented town's files through the readers: every row comes in, from State Plane feet.
#include "core/exchange/read_layer.h"

#include "tests/core/exchange/file_fixture.h"

#include <algorithm>

using namespace keyround;
using namespace keyround::tests;

namespace {

QString sample(const char *name)
{
    return QStringLiteral(KEYROUND_SOURCE_DIR "/sample-project/data/") + s(name);
}

/// The system of the town's tables in feet is that of its street layer; tables cannot say it.
int epsgOfStreets()
{
    const GDALDatasetUniquePtr dataset(GDALDataset::Open(
        sample("streets.gpkg").toUtf8().constData(), GDAL_OF_VECTOR | GDAL_OF_READONLY));
    const char *code = dataset->GetLayer(0)->GetSpatialRef()->GetAuthorityCode(nullptr);
    return QByteArray(code).toInt();
}

template <typename Row> bool allWithin(const std::vector<Row> &rows, const GeoPoint &middle)
{
    return std::all_of(rows.begin(), rows.end(), [&middle](const Row &row) {
        return distanceBetween(row.place, middle).value < 15'000;
    });
}

} // namespace

class TestSampleFiles : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase();
    void streetsAndMains();
    void valves();
    void hydrantsAndServices();
    void visits();

private:
    ReadRequest request(const char *name) const { return {.path = sample(name), .epsg = m_epsg}; }
    int m_epsg = 0;
    GeoPoint m_middle;
};

void TestSampleFiles::initTestCase()
{
    GDALAllRegister();
    m_epsg = epsgOfStreets();
    const auto info = inspectSource(sample("streets.gpkg"));
    QVERIFY(info.has_value());
    QCOMPARE(info->layers[0].crsUnit, s("US survey foot"));
    m_middle = readStreets({.path = sample("streets.gpkg")})->rows.at(0).line.front();
}

void TestSampleFiles::streetsAndMains()
{
    const auto streets = readStreets({.path = sample("streets.gpkg")});
    QVERIFY(streets.has_value());
    QVERIFY2(streets->rejected.empty(), qPrintable(reasons(streets->rejected)));
    QVERIFY2(streets->warnings.empty(), qPrintable(reasons(streets->warnings)));
    QVERIFY(streets->rows.size() > 100);
    const auto count = [&](auto test) {
        return std::count_if(streets->rows.begin(), streets->rows.end(), test);
    };
    QVERIFY(count([](const Street &each) { return each.oneWay != OneWay::No; }) > 0);
    QVERIFY(count([](const Street &each) { return each.metresPerSecond.has_value(); }) > 100);
    QCOMPARE(count([](const Street &each) { return each.kind == StreetClass::Unknown; }), 0);
    const auto mains = readMains({.path = sample("mains.gpkg")});
    QVERIFY(mains.has_value());
    QVERIFY2(mains->rejected.empty(), qPrintable(reasons(mains->rejected)));
    QVERIFY(std::all_of(mains->rows.begin(), mains->rows.end(),
                        [](const Main &each) { return each.size.isKnown(); }));
}

void TestSampleFiles::valves()
{
    QVERIFY(!readValves({.path = sample("valves.csv")})); // a table in feet cannot say which
    const auto valves = readValves(request("valves.csv"));
    QVERIFY2(valves.has_value(), qPrintable(valves ? QString() : valves.error().message));
    qInfo("%zu valves, %zu rejected, %zu notes", valves->rows.size(), valves->rejected.size(),
          valves->warnings.size());
    QVERIFY2(valves->rows.size() > 1000, qPrintable(reasons(valves->rejected)));
    // The town keeps one number twice, as files do.
    QCOMPARE(valves->rejected.size(), size_t{1});
    QVERIFY2(valves->rejected[0].reason.contains(s("has this number already")),
             qPrintable(reasons(valves->rejected)));
    QVERIFY(std::all_of(valves->warnings.begin(), valves->warnings.end(), [](const RowNote &note) {
        return note.reason.contains(s("no position")); // a few are known by their address only
    }));
    std::vector<Valve> all;
    for (const ValveRow &row : valves->rows) {
        if (row.given.contains(ValveField::Place)) {
            all.push_back(row.valve);
        }
    }
    QVERIFY(all.size() + 5 > valves->rows.size());
    QVERIFY(allWithin(all, m_middle));
    // Every column of the file found its field.
    QCOMPARE(valves->columns.size(), 18);
}

void TestSampleFiles::hydrantsAndServices()
{
    const auto hydrants = readHydrants({.path = sample("hydrants.geojson")});
    QVERIFY2(hydrants.has_value(), qPrintable(hydrants ? QString() : hydrants.error().message));
    QVERIFY2(hydrants->rejected.empty(), qPrintable(reasons(hydrants->rejected)));
    QVERIFY(allWithin(hydrants->rows, m_middle));
    const auto services = readServices(request("services.csv"));
    QVERIFY2(services.has_value(), qPrintable(services ? QString() : services.error().message));
    QVERIFY2(services->rejected.empty(), qPrintable(reasons(services->rejected)));
    QVERIFY(services->rows.size() > 3500);
    QVERIFY(allWithin(services->rows, m_middle));
    QVERIFY(!services->rows[0].mainNumber.isEmpty());
}

void TestSampleFiles::visits()
{
    const auto visits = readVisits({.path = sample("visits.csv")});
    QVERIFY2(visits.has_value(), qPrintable(visits ? QString() : visits.error().message));
    QVERIFY2(visits->rejected.empty(), qPrintable(reasons(visits->rejected)));
    QVERIFY2(visits->warnings.empty(), qPrintable(reasons(visits->warnings)));
    QVERIFY(visits->rows.size() > 3000);
    const auto worst =
        std::count_if(visits->rows.begin(), visits->rows.end(), [](const VisitRow &row) {
            return row.visit.problems.contains(Problem::Other);
        });
    QCOMPARE(worst, 0); // each problem in the file is one that is known
    QVERIFY(visits->rows[0].visit.finished > visits->rows[0].visit.arrived);
    QVERIFY(visits->rows[0].visit.left.position != Position::NotSeen);
}

QTEST_GUILESS_MAIN(TestSampleFiles)
#include "test_sample_files.moc"
