// SPDX-License-Identifier: GPL-3.0-or-later
// Lengths against the geodesics of GeographicLib (C. F. F. Karney, "Algorithms for geodesics",
// 2013), which is accurate to nanometres.
#include "core/geo/point.h"

#include <GeographicLib/Geodesic.hpp>
#include <QtTest>

#include <random>

using namespace keyround;

namespace {

double geodesicMetres(const GeoPoint &a, const GeoPoint &b)
{
    double metres = 0;
    GeographicLib::Geodesic::WGS84().Inverse(a.latitude, a.longitude, b.latitude, b.longitude,
                                             metres);
    return metres;
}

GeoPoint beyond(const GeoPoint &from, double azimuth, double metres)
{
    GeoPoint to;
    GeographicLib::Geodesic::WGS84().Direct(from.latitude, from.longitude, azimuth, metres,
                                            to.latitude, to.longitude);
    return to;
}

} // namespace

class PointTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void distanceAgainstGeodesics_data()
    {
        QTest::addColumn<double>("metres");
        QTest::newRow("a block") << 100.0;
        QTest::newRow("a street") << 3000.0;
        QTest::newRow("across a town") << 30000.0;
    }
    // The header's promise: within 0.001 % up to 30 km below 65 degrees.
    void distanceAgainstGeodesics()
    {
        QFETCH(const double, metres);
        std::mt19937 random(1);
        std::uniform_real_distribution<double> latitude(-65.0, 65.0);
        std::uniform_real_distribution<double> azimuth(0.0, 360.0);
        double worst = 0;
        for (int n = 0; n < 5000; ++n) {
            const GeoPoint a{latitude(random), -90.0};
            const GeoPoint b = beyond(a, azimuth(random), metres);
            worst =
                std::max(worst, std::abs(distanceBetween(a, b).value / geodesicMetres(a, b) - 1.0));
        }
        QVERIFY2(worst < 1e-5, qPrintable(QString::number(worst)));
        qInfo("worst error %.7f %%", worst * 100.0);
    }

    void lengthIsTheSumOfItsParts()
    {
        const GeoPoint a{41.0, -90.0};
        const GeoPoint b = beyond(a, 30, 500);
        const GeoPoint c = beyond(b, 120, 250);
        QVERIFY(std::abs(lengthOf({a, b, c}).value - 750.0) < 0.001);
        QCOMPARE(lengthOf({a}).value, 0.0);
        QCOMPARE(lengthOf({}).value, 0.0);
    }

    // The plane's promise: east to west off by tan(latitude) times the degrees north, in radians.
    void planeKeepsItsPromise()
    {
        const LocalPlane plane(GeoPoint{40.0, -90.0});
        const GeoPoint west = beyond(GeoPoint{40.0, -90.0}, 0, 15000);
        const GeoPoint east = beyond(west, 90, 1000);
        const double scale = distance(plane.toPlane(west), plane.toPlane(east)) / 1000.0 - 1.0;
        QVERIFY2(scale > 0.0018 && scale < 0.0021, qPrintable(QString::number(scale)));
        for (const double azimuth : {0.0, 45.0, 90.0, 200.0, 300.0}) {
            const GeoPoint near = beyond(plane.origin(), azimuth, 1000);
            const double metres = distance(plane.toPlane(near), PlanePoint{});
            QVERIFY(std::abs(metres - 1000.0) < 0.1);
            const GeoPoint again = plane.toGeo(plane.toPlane(near));
            QVERIFY(distanceBetween(near, again).value < 1e-6);
        }
    }

    void validity()
    {
        QVERIFY((GeoPoint{41.0, -90.0}).isValid());
        QVERIFY((GeoPoint{0.0, -90.0}).isValid());
        QVERIFY(!(GeoPoint{}).isValid());
        QVERIFY(!(GeoPoint{91.0, 0.0}).isValid());
        QVERIFY(!(GeoPoint{41.0, 190.0}).isValid());
        QVERIFY(!(GeoPoint{std::nan(""), 10.0}).isValid());
    }
};

QTEST_GUILESS_MAIN(PointTest)
#include "test_point.moc"
