// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/photo_store.h"
#include "tests/core/storage/fixtures.h"
#include "tests/support/small_pictures.h"

#include <QDir>
#include <QTest>

using namespace keyround;
using namespace keyround::fixtures;

class TestPhotoStore : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void init();
    void cleanup() { m_project.reset(); }
    void everythingSurvivesReopening();
    void goesToTheVisitAndIsStruck();
    void damageIsNoticedAndHealed();
    void folderLeftBehindIsSaid();
    void badInputChangesNothing();
    void aHalfTypedStopThatFlippedIsNoticed();

private:
    Photo newPhoto(const VisitId &visit = {});
    void reopen();

    std::unique_ptr<QTemporaryDir> m_folder;
    QString m_path;
    std::unique_ptr<Project> m_project;
    Valve m_valve;
    RoundId m_round{newUuid7(someDay)};
};

void TestPhotoStore::init()
{
    m_folder = std::make_unique<QTemporaryDir>();
    m_path = m_folder->filePath(QStringLiteral("town.keyround"));
    auto project = Project::create(m_path, UnitSystem::Us);
    VERIFY_OK(project);
    m_project = std::move(*project);
    m_valve = plainValve(QStringLiteral("0123"));
    VERIFY_OK(m_project->valves().add(m_valve, author(), moment(), QString()));
}

void TestPhotoStore::reopen()
{
    m_project.reset();
    auto project = Project::open(m_path);
    VERIFY_OK(project);
    m_project = std::move(*project);
}

Photo TestPhotoStore::newPhoto(const VisitId &visit)
{
    Photo photo;
    photo.id = PhotoId{newUuid7(someDay)};
    photo.owner = {m_valve.id, m_round, visit};
    photo.fileName = awkwardText().left(200);
    photo.taken = moment(-5000);
    photo.added = moment();
    photo.thumbnail = QByteArray::fromHex("00ff80");
    photo.person = author().person;
    photo.device = author().device;
    photo.stamp = m_project->nextStamp(moment()).value();
    return photo;
}

void TestPhotoStore::everythingSurvivesReopening()
{
    const auto added = m_project->photos().add(newPhoto(), onePixelPng());
    VERIFY_OK(added);
    QCOMPARE(added->sha256.size(), 64);
    QCOMPARE(added->width, 1);
    QCOMPARE(bytesOf(m_project->photos().pathOf(*added)), onePixelPng());
    // The same picture for another stop is one file and two rows.
    VERIFY_OK(m_project->photos().add(newPhoto(VisitId{newUuid7(someDay)}), onePixelPng()));
    reopen();
    const auto photos = m_project->photos().all();
    VERIFY_OK(photos);
    QCOMPARE(photos->size(), std::size_t{2});
    QVERIFY(photos->front() == *added);
    QCOMPARE(m_project->photos().read(photos->front()).value(), onePixelPng());
    QCOMPARE(QDir(m_project->photos().folder()).entryList(QDir::Files).size(), 1);
    QVERIFY(m_project->verify()->isEmpty());
}

void TestPhotoStore::goesToTheVisitAndIsStruck()
{
    VERIFY_OK(m_project->photos().add(newPhoto(), onePixelPng()));
    VERIFY_OK(m_project->photos().add(newPhoto(), jpegShell()));
    const PhotoOwner stop{m_valve.id, m_round, {}};
    QCOMPARE(m_project->photos().of(stop)->size(), std::size_t{2});
    QVERIFY(m_project->photos().of({m_valve.id, RoundId{}, {}})->empty()); // outside the round
    const VisitId visit{newUuid7(someDay)};
    const auto strike = m_project->photos().of(stop)->front();
    VERIFY_OK(m_project->photos().strike(strike, author(), moment()));
    QCOMPARE(m_project->photos().moveToVisit(m_valve.id, m_round, visit, moment()).value(), 1);
    QVERIFY(m_project->photos().of(stop)->empty());
    const auto moved = m_project->photos().of({m_valve.id, {}, visit});
    QCOMPARE(moved->size(), std::size_t{1});
    QCOMPARE(moved->front().suffix, QStringLiteral("jpg"));
    QVERIFY(bytesOf(m_project->photos().pathOf(strike)) == onePixelPng()); // nothing is thrown away
    // A failing transaction leaves them where they were.
    VERIFY_OK(m_project->photos().add(newPhoto(), onePixelPng()));
    QVERIFY(!m_project->transaction([&]() -> Status {
        (void)m_project->photos().moveToVisit(m_valve.id, m_round, visit, moment());
        return fail(ErrorCode::Cancelled, QString());
    }));
    QCOMPARE(m_project->photos().of(stop)->size(), std::size_t{1});
}

void TestPhotoStore::damageIsNoticedAndHealed()
{
    const auto photo = m_project->photos().add(newPhoto(), onePixelPng());
    VERIFY_OK(photo);
    QByteArray flipped = onePixelPng();
    flipped[40] = static_cast<char>(flipped[40] ^ 0x10);
    QVERIFY(writeBytes(m_project->photos().pathOf(*photo), flipped));
    const auto read = m_project->photos().read(*photo);
    QVERIFY(!read);
    QCOMPARE(read.error().code, ErrorCode::Damaged);
    QCOMPARE(m_project->verify()->size(), 1);
    VERIFY_OK(m_project->photos().add(newPhoto(), onePixelPng())); // taken in again
    QVERIFY(m_project->verify()->isEmpty());
}

void TestPhotoStore::folderLeftBehindIsSaid()
{
    const auto photo = m_project->photos().add(newPhoto(), onePixelPng());
    VERIFY_OK(photo);
    QVERIFY(QDir(m_project->photos().folder()).removeRecursively());
    reopen();
    const auto read = m_project->photos().read(*photo);
    QVERIFY(!read);
    QCOMPARE(read.error().code, ErrorCode::NotFound);
    QVERIFY(read.error().message.contains(QStringLiteral("town.photos")));
    QCOMPARE(m_project->photos().all()->front().thumbnail, photo->thumbnail);
}

void TestPhotoStore::badInputChangesNothing()
{
    QVERIFY(!m_project->photos().add(newPhoto(), QByteArrayLiteral("no picture")));
    Photo stray = newPhoto();
    stray.owner.valve = ValveId{newUuid7(someDay)};
    const auto refused = m_project->photos().add(stray, onePixelPng());
    QVERIFY(!refused);
    QCOMPARE(refused.error().code, ErrorCode::NotFound);
    QVERIFY(!QFileInfo::exists(m_project->photos().folder()));
    // Where the folder cannot be made the row is not written either.
    QVERIFY(writeBytes(m_project->photos().folder(), QByteArrayLiteral("a file in its place")));
    const auto noPlace = m_project->photos().add(newPhoto(), onePixelPng());
    QVERIFY(!noPlace);
    QCOMPARE(noPlace.error().code, ErrorCode::StorageFault);
    QVERIFY(m_project->photos().all()->empty());
}

void TestPhotoStore::aHalfTypedStopThatFlippedIsNoticed()
{
    const QJsonObject content{{QStringLiteral("turns"), 41},
                              {QStringLiteral("mark"), QStringLiteral("find me")}};
    VERIFY_OK(m_project->visits().saveDraft({m_round, m_valve.id, content, moment()}));
    QCOMPARE(m_project->visits().drafts()->front().content, content);
    m_project.reset();
    QByteArray bytes = bytesOf(m_path);
    const qsizetype at = bytes.lastIndexOf("\"turns\":41");
    QVERIFY(at > 0);
    bytes[at + 8] = '6'; // 41 becomes 61: still good JSON
    QVERIFY(writeBytes(m_path, bytes));
    const auto project = Project::open(m_path);
    QVERIFY(!project);
    QCOMPARE(project.error().code, ErrorCode::Damaged);
    QVERIFY2(project.error().message.contains(QStringLiteral("half-typed")),
             messageOf(project).constData());
}

QTEST_GUILESS_MAIN(TestPhotoStore)
#include "test_photo_store.moc"
