// SPDX-License-Identifier: GPL-3.0-or-later
// Lines against the geodesics of GeographicLib (Karney 2013), and by hand.
#include "core/geo/polyline.h"

#include <GeographicLib/Geodesic.hpp>
#include <QtTest>

#include <random>

using namespace keyround;

namespace {

const LocalPlane plane(GeoPoint{41.0, -90.0});

GeoLine line(std::initializer_list<PlanePoint> points)
{
    GeoLine made;
    for (const PlanePoint &point : points) {
        made.push_back(plane.toGeo(point));
    }
    return made;
}

bool isAt(const GeoPoint &point, double x, double y)
{
    const PlanePoint p = plane.toPlane(point);
    return std::abs(p.x - x) < 0.001 && std::abs(p.y - y) < 0.001;
}

double geodesicMetres(const GeoPoint &a, const GeoPoint &b)
{
    double metres = 0;
    GeographicLib::Geodesic::WGS84().Inverse(a.latitude, a.longitude, b.latitude, b.longitude,
                                             metres);
    return metres;
}

} // namespace

class PolylineTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void nearestByHand()
    {
        const GeoLine bend = line({{0, 0}, {100, 0}, {100, 50}});
        const auto middle = nearestOn(bend, plane.toGeo(PlanePoint{30, 20}));
        QVERIFY(middle);
        QCOMPARE(middle->segment, std::size_t{0});
        QVERIFY(isAt(middle->point, 30, 0));
        QVERIFY(std::abs(middle->offsetMetres - 20) < 0.001);
        QVERIFY(std::abs(distanceAlong(bend, *middle) - 30) < 0.001);
        const auto second = nearestOn(bend, plane.toGeo(PlanePoint{110, 40}));
        QCOMPARE(second->segment, std::size_t{1});
        QVERIFY(std::abs(distanceAlong(bend, *second) - 140) < 0.001);
        QVERIFY(isAt(nearestOn(bend, plane.toGeo(PlanePoint{-50, -50}))->point, 0, 0));
        QVERIFY(isAt(nearestOn(bend, plane.toGeo(PlanePoint{100, 500}))->point, 100, 50));
        QVERIFY(!nearestOn({}, plane.origin()));
        QVERIFY(isAt(nearestOn(line({{7, 8}}), plane.origin())->point, 7, 8));
    }

    // No point of the line, tried every metre, is nearer by GeographicLib; the offset and the
    // distance along agree with the geodesics.
    void nearestAgainstGeodesics()
    {
        std::mt19937 random(2);
        std::uniform_real_distribution<double> metres(-1500.0, 1500.0);
        std::uniform_real_distribution<double> latitude(-65.0, 65.0);
        double worstOffset = 0;
        double worstLength = 0;
        for (int n = 0; n < 60; ++n) {
            const LocalPlane here(GeoPoint{latitude(random), -90.0});
            GeoLine street;
            for (int k = 0; k < 4; ++k) {
                const double x = metres(random);
                street.push_back(here.toGeo(PlanePoint{x, metres(random)}));
            }
            const GeoPoint place = here.toGeo(PlanePoint{metres(random), 0});
            const auto found = nearestOn(street, place);
            QVERIFY(found);
            const double offset = geodesicMetres(place, found->point);
            const double off = std::abs(found->offsetMetres - offset);
            worstOffset = std::max(worstOffset, off > 0.001 ? off / offset : 0.0);
            const double length = lengthOf(street).value;
            for (double along = 0; along <= length; along += 5.0) {
                QVERIFY(geodesicMetres(place, pointAt(street, along)) > offset - 0.002);
            }
            double geodesic = 0;
            for (std::size_t k = 1; k < street.size(); ++k) {
                geodesic += geodesicMetres(street[k - 1], street[k]);
            }
            worstLength = std::max(worstLength, std::abs(length / geodesic - 1.0));
        }
        qInfo("worst length %.8f %%, worst offset %.8f %%", worstLength * 100, worstOffset * 100);
        QVERIFY(worstLength < 1e-6);
        QVERIFY(worstOffset < 1e-5);
    }

    void pointsAtDistances()
    {
        const GeoLine bend = line({{0, 0}, {100, 0}, {100, 50}});
        QVERIFY(isAt(pointAt(bend, -5), 0, 0));
        QVERIFY(isAt(pointAt(bend, 25), 25, 0));
        QVERIFY(isAt(pointAt(bend, 120), 100, 20));
        QCOMPARE(pointAt(bend, 1e6), bend.back());
        QVERIFY(isAt(pointAt(line({{3, 4}}), 10), 3, 4));
    }

    void stretches()
    {
        const GeoLine bend = line({{0, 0}, {100, 0}, {100, 50}});
        const GeoLine ahead = stretchOf(bend, 40, 130);
        QCOMPARE(ahead.size(), std::size_t{3});
        QVERIFY(isAt(ahead.front(), 40, 0) && isAt(ahead[1], 100, 0) && isAt(ahead[2], 100, 30));
        const GeoLine back = stretchOf(bend, 130, 40);
        QVERIFY(std::equal(ahead.begin(), ahead.end(), back.rbegin()));
        QCOMPARE(stretchOf(bend, 0, 1e6), bend);
        QCOMPARE(stretchOf(bend, 20, 20).size(), std::size_t{2});
        for (double from = 0; from < 150; from += 12.5) {
            for (double to = 0; to < 150; to += 12.5) {
                const double expected = std::abs(to - from);
                QVERIFY(std::abs(lengthOf(stretchOf(bend, from, to)).value - expected) < 0.001);
            }
        }
    }

    void bounds()
    {
        QVERIFY(!boundsOf({}));
        const auto box = boundsOf({{41, -90}, {40, -89}, {40.5, -91}});
        QVERIFY(box);
        QCOMPARE(*box, (GeoBounds{40, -91, 41, -89}));
        QVERIFY(box->contains({40.2, -90.5}));
        QVERIFY(!box->contains({39.9, -90.5}));
        QCOMPARE(box->centre(), (GeoPoint{40.5, -90}));
    }
};

QTEST_GUILESS_MAIN(PolylineTest)
#include "test_polyline.moc"
