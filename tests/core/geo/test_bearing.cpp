// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/geo/bearing.h"

#include <QTest>

#include <GeographicLib/Geodesic.hpp>

#include <cmath>
#include <random>

using namespace keyround;

class TestBearing : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void agreesWithTheGeodesic();
    void namesTheEightDirections();
    void findsTheNearest();
    void saysHowFarAndWhichWay();
};

void TestBearing::agreesWithTheGeodesic()
{
    // Independent of ours: GeographicLib's solution of the inverse problem.
    const auto &earth = GeographicLib::Geodesic::WGS84();
    std::mt19937 random(20260311);
    std::uniform_real_distribution<double> latitude(-65, 65);
    std::uniform_real_distribution<double> longitude(-170, 170);
    std::uniform_real_distribution<double> metres(1, 5000);
    std::uniform_real_distribution<double> degrees(0, 360);
    double worst = 0;
    for (int i = 0; i < 2000; ++i) {
        const GeoPoint from{latitude(random), longitude(random)};
        const double direction = degrees(random);
        GeoPoint to;
        earth.Direct(from.latitude, from.longitude, direction, metres(random), to.latitude,
                     to.longitude);
        const double off = std::abs(bearingBetween(from, to) - direction);
        worst = std::max(worst, std::min(off, 360 - off));
    }
    qInfo("worst bearing error %.4f degrees", worst);
    QVERIFY(worst < 0.05);
    QVERIFY(worst > 0); // the two ways of computing it are not one
}

void TestBearing::namesTheEightDirections()
{
    QCOMPARE(compassWords(0), QStringLiteral("north"));
    QCOMPARE(compassWords(22), QStringLiteral("north"));
    QCOMPARE(compassWords(23), QStringLiteral("north-east"));
    QCOMPARE(compassWords(180), QStringLiteral("south"));
    QCOMPARE(compassWords(270), QStringLiteral("west"));
    QCOMPARE(compassWords(338), QStringLiteral("north"));
    QCOMPARE(compassWords(-90), QStringLiteral("west"));
    QCOMPARE(compassWords(360 + 135), QStringLiteral("south-east"));
}

void TestBearing::findsTheNearest()
{
    const GeoPoint here{40, -75};
    QVERIFY(!nearestPlace(here, {}));
    QVERIFY(!nearestPlace(here, {GeoPoint{}})); // a valve without a place
    const auto nearest = nearestPlace(here, {GeoPoint{}, {40.01, -75}, {40, -75.001}, {41, -75}});
    QVERIFY(nearest);
    QCOMPARE(nearest->index, std::size_t(2));
    QVERIFY(std::abs(nearest->away.value - 85.4) < 0.2); // 0.001 degrees of longitude at 40 north
}

void TestBearing::saysHowFarAndWhichWay()
{
    const GeoPoint here{40, -75};
    QCOMPARE(awayWords(here, {40.001, -75}, UnitSystem::Metric),
             QStringLiteral("111 m to the north"));
    QCOMPARE(awayWords(here, here, UnitSystem::Us), QStringLiteral("here"));
    QVERIFY(awayWords(here, {39.999, -75.0013}, UnitSystem::Us)
                .endsWith(QStringLiteral("to the south-west")));
}

QTEST_GUILESS_MAIN(TestBearing)
#include "test_bearing.moc"
