// SPDX-License-Identifier: GPL-3.0-or-later
// Photos at a stop, from the camera's file to the visit.
#include "app/commands/photo_commands.h"
#include "app/commands/visit_commands.h"
#include "core/storage/photo_store.h"
#include "tests/support/small_pictures.h"
#include "tests/support/test_town.h"

#include <QFile>
#include <QImage>
#include <QSignalSpy>
#include <QTest>

using namespace keyround;

namespace {

QString saveImage(const QTemporaryDir &folder, const QString &name, const QSize &size)
{
    QImage image(size, QImage::Format_RGB32);
    for (int y = 0; y < size.height(); ++y) {
        for (int x = 0; x < size.width(); ++x) {
            image.setPixel(x, y, qRgb(x % 256, y % 256, (x + y) % 256));
        }
    }
    const QString path = folder.filePath(name);
    return image.save(path) ? path : QString();
}

QString saveBytes(const QTemporaryDir &folder, const QString &name, const QByteArray &bytes)
{
    QFile file(folder.filePath(name));
    return file.open(QIODevice::WriteOnly) && file.write(bytes) == bytes.size() ? file.fileName()
                                                                                : QString();
}

} // namespace

class TestPhotos : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase() { keepSettingsApart(); }
    void fromTheCameraToTheVisit();
    void aDroppedStopKeepsNoneForTheNext();
    void onlyRealPictures();
    void namesOfACamerasFolder();
};

void TestPhotos::fromTheCameraToTheVisit()
{
    Session session(smallTownClock());
    const auto town = makeSmallTown(session);
    const QTemporaryDir camera;
    const ValveId valve = session.valveByNumber(town->neverVisited)->id;
    const RoundId round{newUuid7(1)};
    const PhotoOwner stop{valve, round, {}};
    QSignalSpy told(&session.notifier(), &Notifier::photosChanged);
    const QString path = saveImage(camera, QStringLiteral("IMG 0001.JPG"), QSize(1600, 1200));
    const auto added = addPhoto(session, stop, path);
    QVERIFY2(added, added ? "" : qPrintable(added.error().message));
    QCOMPARE(told.size(), 1);
    QCOMPARE(added->fileName, QStringLiteral("IMG 0001.JPG"));
    QCOMPARE(QSize(added->width, added->height), QSize(1600, 1200));
    const QImage thumbnail = QImage::fromData(added->thumbnail);
    QCOMPARE(thumbnail.size(), QSize(320, 240));
    QVERIFY(added->thumbnail.size() < 40000);
    QVERIFY(QFile::remove(path)); // the camera's card goes home
    QCOMPARE(photosOf(session, stop).size(), std::size_t{1});
    Visit visit;
    visit.valve = valve;
    visit.round = round;
    visit.arrived = session.now();
    visit.left = Standing{Position::Open, {}};
    const auto recorded = recordVisit(session, visit);
    QVERIFY(recorded);
    QCOMPARE(told.size(), 2);
    QVERIFY(photosOf(session, stop).empty());
    const auto photos = photosOf(session, {valve, {}, *recorded});
    QCOMPARE(photos.size(), std::size_t{1});
    QVERIFY(!QImage::fromData(*session.project().photos().read(photos.front())).isNull());
    QVERIFY(strikePhoto(session, photos.front()));
    QVERIFY(photosOfValve(session, valve).empty());
}

void TestPhotos::aDroppedStopKeepsNoneForTheNext()
{
    Session session(smallTownClock());
    const auto town = makeSmallTown(session);
    const QTemporaryDir camera;
    const PhotoOwner stop{session.valveByNumber(town->neverVisited)->id, {}, {}};
    QVERIFY(addPhoto(session, stop, saveImage(camera, QStringLiteral("a.jpg"), QSize(800, 600))));
    QVERIFY(dropStopDraft(session, stop.round, stop.valve));
    QVERIFY(photosOf(session, stop).empty());
    Visit visit;
    visit.valve = stop.valve;
    visit.arrived = session.now();
    visit.left = Standing{Position::Open, {}};
    QVERIFY(recordVisit(session, visit));
    QVERIFY(photosOfValve(session, stop.valve).empty());
}

void TestPhotos::onlyRealPictures()
{
    Session session(smallTownClock());
    const auto town = makeSmallTown(session);
    const QTemporaryDir camera;
    const PhotoOwner stop{session.valveByNumber(town->neverVisited)->id, {}, {}};
    const QStringList paths{
        camera.filePath(QStringLiteral("not there.jpg")),
        saveBytes(camera, QStringLiteral("words.jpg"), QByteArray("no picture")),
        // All of a JPEG's parts, and no picture in the scan.
        saveBytes(camera, QStringLiteral("shell.jpg"), jpegShell()),
    };
    for (const QString &path : paths) {
        const auto refused = addPhoto(session, stop, path);
        QVERIFY2(!refused, qPrintable(path));
        QVERIFY(refused.error().message.contains(QFileInfo(path).fileName()));
    }
    QVERIFY(photosOf(session, stop).empty());
    const auto pixel =
        addPhoto(session, stop, saveBytes(camera, QStringLiteral("p.png"), onePixelPng()));
    QVERIFY2(pixel, pixel ? "" : qPrintable(pixel.error().message));
}

void TestPhotos::namesOfACamerasFolder()
{
    const QTemporaryDir camera;
    saveBytes(camera, QStringLiteral("a.JPG"), onePixelPng());
    saveBytes(camera, QStringLiteral("b.png"), onePixelPng());
    saveBytes(camera, QStringLiteral("c.mov"), onePixelPng());
    QCOMPARE(picturesIn(camera.path()).size(), 2);
}

QTEST_MAIN(TestPhotos)
#include "test_photos.moc"
