// SPDX-License-Identifier: GPL-3.0-or-later
// The bodies of the log's rows keep their bytes from one version of the program to the next: rows
// are told apart by the hash over them, so a body that is put together in another way would be
// another row on the next laptop. The bodies below are written out by hand.
#include "core/storage/layer_store.h"
#include "core/storage/photo_store.h"
#include "tests/core/storage/fixtures.h"
#include "tests/support/small_pictures.h"

#include <QCryptographicHash>
#include <QTest>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

QByteArray sha256(const QByteArray &bytes)
{
    return QCryptographicHash::hash(bytes, QCryptographicHash::Sha256).toHex();
}

const QByteArray who = R"("device":"laptop-1")";
const QByteArray person = R"x("person":"A. Crew (invented)")x";
const QByteArray at = R"("offset_s":-18000)";

} // namespace

class TestLogBytes : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void init();
    void cleanup() { m_project.reset(); }
    void aPhotosRow();
    void aStruckPhotosRow();
    void aDoubtfulClocksRow();
    void aPurgesRow();

private:
    [[nodiscard]] Photo somePhoto() const;
    [[nodiscard]] QByteArray fileBytes()
    {
        m_project.reset();
        return bytesOf(m_path);
    }

    std::unique_ptr<QTemporaryDir> m_folder;
    QString m_path;
    std::unique_ptr<Project> m_project;
    Valve m_valve;
};

void TestLogBytes::init()
{
    m_folder = std::make_unique<QTemporaryDir>();
    m_path = m_folder->filePath(QStringLiteral("town.keyround"));
    auto project = Project::create(m_path, UnitSystem::Us);
    VERIFY_OK(project);
    m_project = std::move(*project);
    m_valve = plainValve(QStringLiteral("0123"));
    VERIFY_OK(m_project->valves().add(m_valve, author(), moment(), QString()));
}

Photo TestLogBytes::somePhoto() const
{
    Photo photo;
    photo.id = PhotoId{newUuid7(someDay)};
    photo.owner = {m_valve.id, RoundId{}, VisitId{newUuid7(someDay)}};
    photo.fileName = QStringLiteral("lid.png");
    photo.taken = moment(-5000);
    photo.added = moment();
    photo.thumbnail = QByteArray::fromHex("00ff80");
    photo.person = author().person;
    photo.device = author().device;
    photo.stamp = HybridTime{77};
    return photo;
}

void TestLogBytes::aPhotosRow()
{
    const Photo photo = somePhoto();
    VERIFY_OK(m_project->photos().add(photo, onePixelPng()));
    const QByteArray body = R"({"added":{)" + at + R"(,"utc_ms":1750000000000},"bytes":)" +
                            QByteArray::number(onePixelPng().size()) + ',' + who +
                            R"(,"file_name":"lid.png","height":1,)" + person +
                            R"(,"round":"","sha256":")" + sha256(onePixelPng()) +
                            R"(","suffix":"png","taken":{)" + at +
                            R"(,"utc_ms":1749999995000},"thumbnail":"AP+A","visit":")" +
                            photo.owner.visit.text().toLatin1() + R"(","width":1})";
    const QByteArray hashed = photo.id.text().toLatin1() + "\x1Fphoto\x1F" +
                              m_valve.id.text().toLatin1() + "\x1F" + "77\x1F" + body;
    const QByteArray file = fileBytes();
    QVERIFY(file.contains(body));
    QVERIFY(file.contains(sha256(hashed)));
}

void TestLogBytes::aStruckPhotosRow()
{
    const Photo photo = somePhoto();
    VERIFY_OK(m_project->photos().add(photo, onePixelPng()));
    VERIFY_OK(m_project->photos().strike(photo, author(), moment(60000)));
    QVERIFY(fileBytes().contains(R"({"at":{)" + at + R"(,"utc_ms":1750000060000},)" + who + ',' +
                                 person + R"(,"photo":")" + photo.id.text().toLatin1() + R"("})"));
}

void TestLogBytes::aDoubtfulClocksRow()
{
    const ClockCheck check{ClockFault::BehindLastRecord, moment(), -3600};
    VERIFY_OK(m_project->visits().noteClock(VisitId{newUuid7(someDay)}, check, author()));
    QVERIFY(fileBytes().contains(R"({"after_last_record_s":-3600,)" + who + R"(,"fault":")" +
                                 keyFor(check.fault).toLatin1() + R"(",)" + at + ',' + person +
                                 R"(,"utc_ms":1750000000000})"));
}

void TestLogBytes::aPurgesRow()
{
    ContactsPurged purged;
    purged.at = moment();
    purged.before = QDate(2026, 3, 1);
    purged.services = 4;
    purged.person = author().person;
    purged.device = author().device;
    purged.stamp = HybridTime{78};
    VERIFY_OK(m_project->layers().purgeContacts(purged));
    QVERIFY(fileBytes().contains(R"({"before":"2026-03-01",)" + who + ',' + at + ',' + person +
                                 R"(,"services":4,"utc_ms":1750000000000})"));
}

QTEST_GUILESS_MAIN(TestLogBytes)
#include "test_log_bytes.moc"
