// SPDX-License-Identifier: GPL-3.0-or-later
// The drawing of a work zone at six typical stops, in both unit systems: pictures to look at, and
// what can be told of them by a machine: nothing is blank, what is closed is hatched in its colour,
// and the picture is another one where the set-up is.
#include "app/map/zone_frame.h"
#include "app/map/zone_painter.h"
#include "app/shell/style.h"
#include "tests/support/on_screen.h"

#include <QImage>
#include <QPainter>
#include <QTest>

#include <algorithm>
#include <cmath>

using namespace keyround;

namespace {

struct Typical
{
    Site site;
    ZoneDrawing drawing;
};

Site siteAt(LidPlace lid, double mph, int lanes, RoadSetting setting, bool isLow)
{
    Site site;
    site.street = {mph, lanes, Feet{11}, Feet{0}, false, false, setting, isLow};
    site.lid = lid;
    site.minutes = 30;
    site.sightIsGood = false;
    return site;
}

/// A gently bending street, in metres, with the lid near its middle.
PlaneLine bend()
{
    PlaneLine line;
    for (int step = 0; step <= 40; ++step) {
        const double angle = step * 0.02;
        line.push_back({-150 + step * 8.0, 60 * std::sin(angle * 2) - 20});
    }
    return line;
}

Site siteOf(const QString &kind)
{
    using enum RoadSetting;
    if (kind == QLatin1String("verge")) {
        return siteAt(LidPlace::OutsideRoad, 30, 2, UrbanLowSpeed, false);
    }
    if (kind == QLatin1String("shoulder")) {
        Site site = siteAt(LidPlace::Shoulder, 55, 2, Rural, false);
        site.street.shoulderWidth = Feet{8};
        site.minutes = 80;
        return site;
    }
    if (kind == QLatin1String("one-of-two")) {
        return siteAt(LidPlace::Lane, 35, 2, UrbanHighSpeed, false);
    }
    if (kind == QLatin1String("four-lane")) {
        return siteAt(LidPlace::Lane, 45, 4, UrbanHighSpeed, false);
    }
    if (kind == QLatin1String("near-side") || kind == QLatin1String("far-side")) {
        return siteAt(kind == QLatin1String("near-side") ? LidPlace::IntersectionNear
                                                         : LidPlace::IntersectionFar,
                      30, 4, UrbanLowSpeed, false);
    }
    if (kind == QLatin1String("intersection-middle")) {
        return siteAt(LidPlace::IntersectionMiddle, 25, 2, UrbanLowSpeed, true);
    }
    if (kind == QLatin1String("intersection-side")) {
        return siteAt(LidPlace::IntersectionSide, 30, 2, UrbanLowSpeed, true);
    }
    if (kind == QLatin1String("centre-line")) {
        return siteAt(LidPlace::Centre, 25, 2, UrbanLowSpeed, true);
    }
    return siteAt(LidPlace::Lane, 25, 2, UrbanLowSpeed, true);
}

ZoneDrawing drawingOf(const QString &kind, UnitSystem units)
{
    const Site site = siteOf(kind);
    const auto setUp = workOutSetUp(site);
    if (!setUp) {
        qFatal("no set-up: %s", qPrintable(setUp.error().message));
    }
    ZoneDrawing drawing = zoneDrawing(site, *setUp, units);
    drawing.street = bend();
    drawing.lid = {10, 0};
    drawing.streetName = QStringLiteral("Invented Street");
    if (kind == QLatin1String("cul-de-sac")) {
        drawing.street = {{-120, -40}, {-40, 0}, {40, 10}};
        drawing.lid = {15, 6};
        drawing.lastIsDeadEnd = true;
    }
    return drawing;
}

QImage pictureOf(const ZoneDrawing &drawing, const QSize &size)
{
    QImage image(size, QImage::Format_ARGB32);
    image.fill(Qt::white);
    QPainter painter(&image);
    QFont font = painter.font();
    font.setPixelSize(12);
    painter.setFont(font);
    paintZone(painter, QRectF(QPointF(0, 0), QSizeF(size)), drawing);
    return image;
}

int pixelsOf(const QImage &image, const QColor &colour)
{
    int count = 0;
    for (int y = 0; y < image.height(); ++y) {
        for (int x = 0; x < image.width(); ++x) {
            count += image.pixelColor(x, y) == colour ? 1 : 0;
        }
    }
    return count;
}

} // namespace

class TestZonePictures : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase() { applyLook(*qApp); }
    void typicalStops_data();
    void typicalStops();
    void crossingsAndTheOtherSide_data();
    void crossingsAndTheOtherSide();
    void theOtherSideIsMirroredAndTheStreetIsNot();
    void theActivityAreaIsToScale();
    void nothingIsDrawnPastADeadEnd();
};

void TestZonePictures::typicalStops_data()
{
    QTest::addColumn<QString>("kind");
    for (const char *kind :
         {"verge", "shoulder", "one-of-two", "four-lane", "centre-line", "cul-de-sac"}) {
        QTest::newRow(kind) << QString::fromLatin1(kind);
    }
}

void TestZonePictures::typicalStops()
{
    QFETCH(QString, kind);
    const QSize size(980, 460);
    const QImage us = pictureOf(drawingOf(kind, UnitSystem::Us), size);
    const QImage metric = pictureOf(drawingOf(kind, UnitSystem::Metric), size);
    QVERIFY(us.save(screenFile(QStringLiteral("zone-%1-ft.png").arg(kind))));
    QVERIFY(metric.save(screenFile(QStringLiteral("zone-%1-m.png").arg(kind))));
    QVERIFY(pixelsOf(us, look::card) < us.width() * us.height() * 95 / 100);
    QVERIFY(us != metric); // the distances are written in other units
    const bool closes = kind != QLatin1String("verge");
    QCOMPARE(pixelsOf(us, QColor(0xD5, 0x5E, 0x00)) > 20, closes); // cones and hatching
    // In the Truck there is less room.
    const QImage small = pictureOf(drawingOf(kind, UnitSystem::Us), {640, 300});
    QVERIFY(small.save(screenFile(QStringLiteral("zone-%1-small.png").arg(kind))));
}

void TestZonePictures::crossingsAndTheOtherSide_data()
{
    QTest::addColumn<QString>("kind");
    QTest::addColumn<bool>("drivesLeft");
    for (const char *kind : {"near-side", "far-side", "intersection-middle", "intersection-side"}) {
        QTest::newRow(kind) << QString::fromLatin1(kind) << false;
    }
    for (const char *kind : {"one-of-two", "near-side", "shoulder"}) {
        QTest::newRow(qPrintable(QStringLiteral("left %1").arg(QLatin1String(kind))))
            << QString::fromLatin1(kind) << true;
    }
}

void TestZonePictures::crossingsAndTheOtherSide()
{
    QFETCH(QString, kind);
    QFETCH(bool, drivesLeft);
    ZoneDrawing drawing = drawingOf(kind, UnitSystem::Us);
    drawing.drivesLeft = drivesLeft;
    const QImage image = pictureOf(drawing, {980, 460});
    const QString name = drivesLeft ? QStringLiteral("left-") + kind : kind;
    QVERIFY(image.save(screenFile(QStringLiteral("zone-%1-ft.png").arg(name))));
    QVERIFY(pictureOf(drawing, {640, 300})
                .save(screenFile(QStringLiteral("zone-%1-small.png").arg(name))));
    // Every sign of the set-up is drawn in its colour: two of the same more in one drawing than in
    // another are twice the ground.
    ZoneDrawing without = drawing;
    std::erase_if(without.sketch.items,
                  [](const SketchItem &item) { return item.sideStreet != 0; });
    const QColor sign(0xE6, 0x9F, 0x00);
    const auto all =
        std::ranges::count(drawing.sketch.items, SketchItem::Kind::Sign, &SketchItem::kind);
    const auto own =
        std::ranges::count(without.sketch.items, SketchItem::Kind::Sign, &SketchItem::kind);
    const double drawn =
        double(pixelsOf(image, sign)) / pixelsOf(pictureOf(without, {980, 460}), sign);
    QVERIFY2(std::abs(drawn - double(all) / double(own)) < 0.12,
             qPrintable(QString::number(drawn)));
    QCOMPARE(all > own, drawing.sketch.crossAt.has_value());
}

void TestZonePictures::theOtherSideIsMirroredAndTheStreetIsNot()
{
    ZoneDrawing right = drawingOf(QStringLiteral("one-of-two"), UnitSystem::Us);
    ZoneDrawing left = right;
    left.drivesLeft = true;
    const QRectF area(0, 0, 980, 460);
    const ZoneFrame rightFrame(right, area);
    const ZoneFrame leftFrame(left, area);
    // The road's middle keeps its shape: it is the ground that it lies on.
    const QPointF shift = leftFrame.at(0, 0) - rightFrame.at(0, 0);
    for (const double along : {-150.0, -40.0, 30.0, 90.0}) {
        const QPointF moved = leftFrame.at(along, 0) - rightFrame.at(along, 0) - shift;
        QVERIFY(std::abs(moved.x()) < 1e-6 && std::abs(moved.y()) < 1e-6);
    }
    // Its own side lies below where traffic drives on the right, above where it drives on the left.
    QVERIFY(rightFrame.at(0, 10).y() > rightFrame.at(0, 0).y());
    QVERIFY(leftFrame.at(0, 10).y() < leftFrame.at(0, 0).y());
}

void TestZonePictures::theActivityAreaIsToScale()
{
    ZoneDrawing drawing = drawingOf(QStringLiteral("one-of-two"), UnitSystem::Us);
    drawing.street = {{-500, 0}, {500, 0}}; // straight: feet along are dots along
    const ZoneFrame frame(drawing, QRectF(0, 0, 980, 460));
    const double start = frame.at(-100, 0).x();
    QVERIFY(std::abs(frame.at(0, 0).x() - start - 100 * frame.dotsAFoot()) < 1e-6);
    QVERIFY(std::abs(frame.at(50, 0).x() - start - 150 * frame.dotsAFoot()) < 1e-6);
    // Driving to the right, the traffic's own side is below; widths are larger by the said number.
    const double wide = frame.at(0, 11).y() - frame.at(0, 0).y();
    QVERIFY(std::abs(wide - 11 * frame.dotsAFoot() * frame.widened()) < 1e-6);
    for (const SketchItem &item : drawing.sketch.items) {
        if (item.kind == SketchItem::Kind::Cone) {
            QVERIFY(item.along.value >= frame.from() && item.along.value <= frame.to());
        }
    }
}

void TestZonePictures::nothingIsDrawnPastADeadEnd()
{
    const ZoneDrawing drawing = drawingOf(QStringLiteral("cul-de-sac"), UnitSystem::Us);
    const ZoneFrame frame(drawing, QRectF(0, 0, 980, 460));
    QVERIFY(frame.endsPast());
    QVERIFY(!frame.endsBefore());
    // The lid is 25.2 m (82.7 ft) before the end.
    QVERIFY(std::abs(frame.to() - 82.7) < 4);
    ZoneDrawing back = drawing;
    back.forward = false;
    const ZoneFrame turned(back, QRectF(0, 0, 980, 460));
    QVERIFY(turned.endsBefore());
}

QTEST_MAIN(TestZonePictures)
#include "test_zone_pictures.moc"
