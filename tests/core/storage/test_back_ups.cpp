// SPDX-License-Identifier: GPL-3.0-or-later
// Back-ups kept by count and age, restored without overwriting; half-typed stops kept beside a
// project that cannot be written; visits recorded by a doubtful clock.
#include "core/storage/back_ups.h"
#include "core/storage/connection.h"
#include "core/storage/kept_stops.h"
#include "core/storage/settings_store.h"
#include "tests/core/storage/fixtures.h"

#include <QDir>
#include <QTest>

using namespace keyround;
using namespace keyround::fixtures;

class TestBackUps : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void init();
    void cleanup() { m_project.reset(); }
    void listsNewestFirstWithTheVisitsInside();
    void keepsByCountAndAge_data();
    void keepsByCountAndAge();
    void backingUpLetsTheOldestGo();
    void restoringSetsThePresentAside();
    void theNumbersOfOneSecondAreCounted();
    void aBackUpOfAnOlderSchemaIsRestored();
    void aBackUpThatCannotBeBroughtUpToDateLeavesNothing();
    void aDamagedBackUpIsNotRestored();
    void theJournalGoesWithItsFile();
    void keptStopsComeBack();
    void keptStopsThatAreOldAreForgotten();
    void aDoubtfulClockIsNoted();

private:
    void add(std::uint64_t stamp)
    {
        VERIFY_OK(m_project->visits().add(plainVisit(m_valve.id, stamp)));
    }
    void reopen()
    {
        auto project = Project::open(m_path);
        VERIFY_OK(project);
        m_project = std::move(*project);
    }

    std::unique_ptr<QTemporaryDir> m_folder;
    QString m_path;
    std::unique_ptr<Project> m_project;
    Valve m_valve;
};

void TestBackUps::init()
{
    m_folder = std::make_unique<QTemporaryDir>();
    m_path = m_folder->filePath(QStringLiteral("town.keyround"));
    auto project = Project::create(m_path, UnitSystem::Us);
    VERIFY_OK(project);
    m_project = std::move(*project);
    m_valve = plainValve(QStringLiteral("0123"));
    VERIFY_OK(m_project->valves().add(m_valve, author(), moment(), QString()));
}

void TestBackUps::listsNewestFirstWithTheVisitsInside()
{
    QVERIFY(backUpsOf(m_path).empty());
    VERIFY_OK(m_project->backUp(moment()));
    add(std::uint64_t{someDay} << 16U);
    VERIFY_OK(m_project->backUp(moment(86400000)));
    QVERIFY(writeBytes(backUpFolder(m_path) + QStringLiteral("/town-notes.txt"), "mine"));
    QVERIFY(writeBytes(backUpFolder(m_path) + QStringLiteral("/town-2025-06-16-100640-2.keyround"),
                       "cut short"));
    const auto found = backUpsOf(m_path);
    QCOMPARE(found.size(), std::size_t{3});
    QCOMPARE(found[0].made, QDateTime(QDate(2025, 6, 16), QTime(10, 6, 40)));
    // Of one second: the numbered one came after.
    QVERIFY(found[0].path.endsWith(QStringLiteral("-2.keyround")));
    QCOMPARE(found[1].made, found[0].made);
    QCOMPARE(lookInto(found[1])->visits, 1);
    int sound = 0;
    for (const BackUp &backUp : found) {
        const auto content = lookInto(backUp);
        sound += content ? 1 : 0;
    }
    QCOMPARE(sound, 2);
    QCOMPARE(lookInto(found[2])->visits, 0);
}

void TestBackUps::keepsByCountAndAge_data()
{
    QTest::addColumn<int>("count");
    QTest::addColumn<int>("days");
    QTest::addColumn<int>("going");
    // Ten back-ups, one a day, the newest of today.
    QTest::newRow("count alone would let 7 go, age keeps 5 more") << 3 << 7 << 2;
    QTest::newRow("age alone would let 9 go, the count keeps 8") << 8 << 0 << 2;
    QTest::newRow("everything is young") << 1 << 30 << 0;
    QTest::newRow("the newest never goes") << 0 << 0 << 9;
}

void TestBackUps::keepsByCountAndAge()
{
    QFETCH(const int, count);
    QFETCH(const int, days);
    QFETCH(const int, going);
    const QDate today(2026, 3, 16);
    std::vector<BackUp> all;
    for (int age = 0; age < 10; ++age) {
        all.push_back({QString::number(age), QDateTime(today.addDays(-age), QTime(16, 0)), 1});
    }
    const auto gone = surplus(all, {count, days}, today);
    QCOMPARE(static_cast<int>(gone.size()), going);
    if (going > 0) {
        QCOMPARE(gone.back().path, QStringLiteral("9")); // the oldest first of all
    }
}

void TestBackUps::backingUpLetsTheOldestGo()
{
    ProjectSettings settings = m_project->settings().load().value();
    settings.backUps = {2, 5};
    VERIFY_OK(m_project->settings().save(settings));
    for (int day = 0; day < 12; ++day) {
        VERIFY_OK(m_project->backUp(moment(std::int64_t{day} * 86400000)));
    }
    // The last of them, and the five days before it.
    QCOMPARE(backUpsOf(m_path).size(), std::size_t{6});
    settings.backUps = {0, 5};
    QVERIFY(!m_project->settings().save(settings));
}

void TestBackUps::restoringSetsThePresentAside()
{
    add(1);
    const auto backUp = m_project->backUp(moment());
    VERIFY_OK(backUp);
    const QByteArray kept = bytesOf(*backUp);
    add(2);
    m_project.reset();
    const QByteArray present = bytesOf(m_path);
    const auto aside = restoreBackUp(m_path, *backUp, moment());
    VERIFY_OK(aside);
    QCOMPARE(bytesOf(*aside), present);
    QCOMPARE(bytesOf(*backUp), kept); // the back-up itself is still there
    reopen();
    QCOMPARE(m_project->visits().all()->size(), std::size_t{1});
    m_project.reset();
    // And back again, the same way.
    const auto second = restoreBackUp(m_path, *aside, moment());
    VERIFY_OK(second);
    QVERIFY(*second != *aside);
    reopen();
    QCOMPARE(m_project->visits().all()->size(), std::size_t{2});
}

void TestBackUps::theNumbersOfOneSecondAreCounted()
{
    QVERIFY(QDir().mkpath(backUpFolder(m_path)));
    const QString stem = backUpFolder(m_path) + QStringLiteral("/town-2025-06-16-100640");
    const QStringList newestFirst{QStringLiteral("-10"), QStringLiteral("-9"), QStringLiteral("-2"),
                                  QString()};
    for (const QString &number : newestFirst) {
        QVERIFY(writeBytes(stem + number + QStringLiteral(".keyround"), "x"));
    }
    QStringList found;
    for (const BackUp &backUp : backUpsOf(m_path)) {
        found << backUp.path.mid(stem.size()).chopped(9);
    }
    QCOMPARE(found, newestFirst);
}

void TestBackUps::aBackUpOfAnOlderSchemaIsRestored()
{
    const QString backUp = m_folder->filePath(QStringLiteral("old.keyround"));
    {
        VERIFY_OK(Connection::create(backUp, {shippedMigrations().front()}));
    }
    const QByteArray kept = bytesOf(backUp);
    m_project.reset();
    VERIFY_OK(restoreBackUp(m_path, backUp, moment()));
    QCOMPARE(bytesOf(backUp), kept);
    const QStringList left = QDir(m_folder->path()).entryList(QDir::Files);
    QCOMPARE(left.filter(QStringLiteral("being-restored")), QStringList());
    QCOMPARE(left.filter(QStringLiteral("schema-")), QStringList());
    reopen();
    QVERIFY(m_project->valves().all()->empty()); // the file of the back-up, not the one before
}

// One step of the road to the present schema finds its table made already.
void TestBackUps::aBackUpThatCannotBeBroughtUpToDateLeavesNothing()
{
    const QString backUp = m_folder->filePath(QStringLiteral("old.keyround"));
    std::vector<Migration> first{shippedMigrations().front()};
    first.front().statements << QStringLiteral("CREATE TABLE half_typed (other TEXT)");
    {
        VERIFY_OK(Connection::create(backUp, first));
    }
    m_project.reset();
    const QByteArray present = bytesOf(m_path);
    const auto refused = restoreBackUp(m_path, backUp, moment());
    QVERIFY(!refused);
    QVERIFY2(refused.error().message.contains(QStringLiteral("half_typed")),
             messageOf(refused).constData());
    QCOMPARE(bytesOf(m_path), present);
    const QStringList left = QDir(m_folder->path()).entryList(QDir::Files);
    QCOMPARE(left.filter(QStringLiteral("being-restored")), QStringList());
}

void TestBackUps::aDamagedBackUpIsNotRestored()
{
    add(1);
    const auto backUp = m_project->backUp(moment());
    VERIFY_OK(backUp);
    m_project.reset();
    const QByteArray present = bytesOf(m_path);
    QByteArray bytes = bytesOf(*backUp);
    bytes.truncate(bytes.size() / 2);
    QVERIFY(writeBytes(*backUp, bytes));
    const auto refused = restoreBackUp(m_path, *backUp, moment());
    QVERIFY(!refused);
    QVERIFY(refused.error().message.contains(QStringLiteral("was not restored")));
    QCOMPARE(bytesOf(m_path), present);
    // Nothing is left over.
    QVERIFY(QDir(m_folder->path()).entryList({QStringLiteral("*being-restored*")}).isEmpty());
}

// A journal of a crash must not be rolled back into the restored file.
void TestBackUps::theJournalGoesWithItsFile()
{
    const auto backUp = m_project->backUp(moment());
    VERIFY_OK(backUp);
    m_project.reset();
    QVERIFY(writeBytes(m_path + QStringLiteral("-journal"), "of the old file"));
    const auto aside = restoreBackUp(m_path, *backUp, moment());
    VERIFY_OK(aside);
    QVERIFY(!QFile::exists(m_path + QStringLiteral("-journal")));
    QCOMPARE(bytesOf(*aside + QStringLiteral("-journal")), QByteArray("of the old file"));
}

void TestBackUps::keptStopsComeBack()
{
    const QString folder = m_folder->filePath(QStringLiteral("kept"));
    const KeptStops kept(folder, m_path);
    const RoundId round{newUuid7(someDay)};
    const StopDraft draft{round, m_valve.id, {{QStringLiteral("turns"), 41}}, moment(5)};
    VERIFY_OK(kept.keep({round, m_valve.id, {{QStringLiteral("turns"), 40}}, moment(4)}));
    VERIFY_OK(kept.keep(draft)); // the later takes the place of the earlier
    const KeptStops other(folder, m_folder->filePath(QStringLiteral("other.keyround")));
    QVERIFY(other.all().empty());
    VERIFY_OK(m_project->visits().saveDraft(
        {round, m_valve.id, {{QStringLiteral("turns"), 12}}, moment()})); // what the disk took
    const auto back = kept.bringBack(*m_project);
    VERIFY_OK(back);
    QCOMPARE(back->size(), std::size_t{1});
    QCOMPARE(m_project->visits().drafts()->front().content, draft.content);
    QVERIFY(kept.all().empty());
    QVERIFY(kept.bringBack(*m_project)->empty());
}

void TestBackUps::keptStopsThatAreOldAreForgotten()
{
    const KeptStops kept(m_folder->filePath(QStringLiteral("kept")), m_path);
    const RoundId round{newUuid7(someDay)};
    const StopDraft draft{round, m_valve.id, {{QStringLiteral("turns"), 41}}, moment(5)};
    VERIFY_OK(kept.keep(draft));
    VERIFY_OK(m_project->visits().saveDraft(
        {round, m_valve.id, {{QStringLiteral("turns"), 50}}, moment(9)}));
    QVERIFY(kept.bringBack(*m_project)->empty());
    QCOMPARE(m_project->visits().drafts()->front().content.value(QStringLiteral("turns")).toInt(),
             50);
    // Recorded since.
    VERIFY_OK(m_project->visits().dropDraft(round, m_valve.id));
    VERIFY_OK(kept.keep(draft));
    Visit visit = plainVisit(m_valve.id, std::uint64_t{someDay + 900000} << 16U);
    visit.round = round;
    VERIFY_OK(m_project->visits().add(visit));
    QVERIFY(kept.bringBack(*m_project)->empty());
    QVERIFY(m_project->visits().drafts()->empty());
    QVERIFY(kept.all().empty());
}

void TestBackUps::aDoubtfulClockIsNoted()
{
    add(std::uint64_t{someDay} << 16U);
    QCOMPARE(m_project->lastStamp().milliseconds(), someDay);
    const Moment wrong = moment(-3600000);
    const ClockCheck check = checkClock(wrong, m_project->lastStamp());
    QVERIFY(check.fault == ClockFault::BehindLastRecord);
    const VisitId visit{newUuid7(someDay)};
    VERIFY_OK(m_project->visits().noteClock(visit, check, author()));
    m_project.reset();
    reopen();
    const auto notes = m_project->visits().clockNotes();
    VERIFY_OK(notes);
    QCOMPARE(notes->size(), std::size_t{1});
    QVERIFY(notes->front().visit == visit);
    QVERIFY(notes->front().fault == ClockFault::BehindLastRecord);
    QVERIFY(notes->front().shown == wrong);
    QCOMPARE(notes->front().offsetSeconds, std::int64_t{-3600});
}

QTEST_GUILESS_MAIN(TestBackUps)
#include "test_back_ups.moc"
