// SPDX-License-Identifier: GPL-3.0-or-later
// The project file as a whole: made, opened, locked, its transactions, stamps and back-ups.
#include "core/storage/file_check.h"
#include "core/storage/layer_store.h"
#include "core/storage/round_store.h"
#include "core/storage/settings_store.h"
#include "tests/core/storage/fixtures.h"

#include <QFileInfo>
#include <QTest>
#include <QtEndian>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

std::uint32_t bigEndianAt(const QByteArray &bytes, qsizetype at)
{
    return qFromBigEndian<quint32>(bytes.constData() + at);
}

} // namespace

class TestProject : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void init();
    void headerSaysWhatItIs();
    void createNeverOverwrites();
    void createThatFailsLeavesNothing();
    void unitsAreKept();
    void secondOpenerIsRefusedUntilTheFirstCloses();
    void journalIsTruncatedNotLeft();
    void transactionRollsBack();
    void nestedTransactionJoinsTheOuter();
    void nestedFailureIsUndoneByItself();
    void stampsRiseAcrossReopening();
    void backUpOpensAndEquals();
    void backUpWithinATransactionIsRefused();
    void verifyOfASoundFileIsEmpty();
    void oddFileNames();

private:
    std::unique_ptr<QTemporaryDir> m_folder;
    QString m_path;
};

void TestProject::init()
{
    m_folder = std::make_unique<QTemporaryDir>();
    m_path = m_folder->filePath(QStringLiteral("town.keyround"));
}

void TestProject::headerSaysWhatItIs()
{
    VERIFY_OK(Project::create(m_path, UnitSystem::Us));
    const QByteArray bytes = bytesOf(m_path);
    // Offsets by sqlite.org/fileformat2.html section 1.3.
    QCOMPARE(bytes.left(16), QByteArray("SQLite format 3\0", 16));
    QCOMPARE(bytes.mid(68, 4), QByteArray("KEYR"));
    QCOMPARE(bigEndianAt(bytes, 60), static_cast<std::uint32_t>(currentSchemaVersion()));
    QCOMPARE(bytes[18], char{1}); // not a write-ahead log
    QCOMPARE(bytes[19], char{1});
}

void TestProject::createNeverOverwrites()
{
    QVERIFY(writeBytes(m_path, "somebody's work"));
    const auto refused = Project::create(m_path, UnitSystem::Us);
    QVERIFY(!refused);
    QCOMPARE(refused.error().code, ErrorCode::Refused);
    QVERIFY(refused.error().message.contains(QStringLiteral("exists already")));
    QCOMPARE(bytesOf(m_path), QByteArray("somebody's work"));
    // A link that leads nowhere is somebody's too.
    const QString link = m_folder->filePath(QStringLiteral("link.keyround"));
    QVERIFY(QFile::link(m_folder->filePath(QStringLiteral("nowhere")), link));
    QVERIFY(!Project::create(link, UnitSystem::Us));
}

void TestProject::createThatFailsLeavesNothing()
{
    const QString path = m_folder->filePath(QStringLiteral("no/such/folder/town.keyround"));
    const auto refused = Project::create(path, UnitSystem::Us);
    QVERIFY(!refused);
    QCOMPARE(refused.error().code, ErrorCode::NotFound);
    QVERIFY(!QFileInfo::exists(m_folder->filePath(QStringLiteral("no"))));
    const auto folder = Project::create(m_folder->path(), UnitSystem::Us);
    QVERIFY(!folder);
    QCOMPARE(folder.error().code, ErrorCode::Refused);
}

void TestProject::unitsAreKept()
{
    VERIFY_OK(Project::create(m_path, UnitSystem::Metric));
    const auto project = Project::open(m_path);
    VERIFY_OK(project);
    QCOMPARE((*project)->settings().load()->units, UnitSystem::Metric);
}

void TestProject::secondOpenerIsRefusedUntilTheFirstCloses()
{
    {
        const auto first = Project::create(m_path, UnitSystem::Us);
        VERIFY_OK(first);
        const auto second = Project::open(m_path);
        QVERIFY(!second);
        QCOMPARE(second.error().code, ErrorCode::Refused);
        QVERIFY2(second.error().message.contains(QStringLiteral("open in another program")),
                 messageOf(second).constData());
        VERIFY_OK(
            (*first)->valves().add(plainValve(QStringLiteral("1")), author(), moment(), QString()));
    }
    {
        // Opened and not yet written to: locked all the same.
        const auto first = Project::open(m_path);
        VERIFY_OK(first);
        QVERIFY(!Project::open(m_path));
    }
    VERIFY_OK(Project::open(m_path));
}

void TestProject::journalIsTruncatedNotLeft()
{
    const auto project = Project::create(m_path, UnitSystem::Us);
    VERIFY_OK(project);
    VERIFY_OK(
        (*project)->valves().add(plainValve(QStringLiteral("1")), author(), moment(), QString()));
    const QFileInfo journal(m_path + QStringLiteral("-journal"));
    QVERIFY(journal.exists()); // DELETE would have taken it away, PERSIST left its content
    QCOMPARE(journal.size(), qint64{0});
    QVERIFY(!QFileInfo::exists(m_path + QStringLiteral("-wal")));
}

void TestProject::transactionRollsBack()
{
    const auto project = Project::create(m_path, UnitSystem::Us);
    VERIFY_OK(project);
    ValveStore &valves = (*project)->valves();
    const Status outcome = (*project)->transaction([&]() -> Status {
        if (Status added =
                valves.add(plainValve(QStringLiteral("1")), author(), moment(), QString());
            !added) {
            return added;
        }
        return fail(ErrorCode::Cancelled, QStringLiteral("stopped by the user"));
    });
    QVERIFY(!outcome);
    QCOMPARE(outcome.error().message, QStringLiteral("stopped by the user"));
    QVERIFY(valves.all()->empty());
    VERIFY_OK(valves.add(plainValve(QStringLiteral("1")), author(), moment(), QString()));
}

void TestProject::nestedTransactionJoinsTheOuter()
{
    const auto project = Project::create(m_path, UnitSystem::Us);
    VERIFY_OK(project);
    ValveStore &valves = (*project)->valves();
    const Status outcome = (*project)->transaction([&]() -> Status {
        const Status inner = (*project)->transaction([&] {
            return valves.add(plainValve(QStringLiteral("1")), author(), moment(), QString());
        });
        return inner.and_then(
            [] { return Status(fail(ErrorCode::Cancelled, QStringLiteral("outer"))); });
    });
    QVERIFY(!outcome);
    QVERIFY(valves.all()->empty());
}

void TestProject::nestedFailureIsUndoneByItself()
{
    const auto project = Project::create(m_path, UnitSystem::Us);
    VERIFY_OK(project);
    ValveStore &valves = (*project)->valves();
    const auto add = [&](const QString &number) {
        return valves.add(plainValve(number), author(), moment(), QString());
    };
    VERIFY_OK((*project)->transaction([&]() -> Status {
        const Status kept = add(QStringLiteral("1"));
        const Status undone = (*project)->transaction([&] {
            return add(QStringLiteral("2")).and_then([&] { return add(QStringLiteral("1")); });
        });
        return kept && !undone
                   ? add(QStringLiteral("3"))
                   : Status(fail(ErrorCode::BadInput, QStringLiteral("not as expected")));
    }));
    QStringList numbers;
    const auto stored = valves.all();
    VERIFY_OK(stored);
    for (const Valve &valve : *stored) {
        numbers << valve.number;
    }
    QCOMPARE(numbers, (QStringList{QStringLiteral("1"), QStringLiteral("3")}));
}

void TestProject::stampsRiseAcrossReopening()
{
    const Valve valve = plainValve(QStringLiteral("1"));
    const std::uint64_t far = static_cast<std::uint64_t>(someDay + 86400000) << 16U;
    HybridTime last;
    {
        const auto project = Project::create(m_path, UnitSystem::Us);
        VERIFY_OK(project);
        VERIFY_OK((*project)->valves().add(valve, author(), moment(), QString()));
        last = (*project)->nextStamp(moment()).value();
        QVERIFY((*project)->nextStamp(moment(-5000)).value() > last); // the clock stepped back
        // A visit from a laptop whose clock is a day ahead.
        VERIFY_OK((*project)->visits().add(plainVisit(valve.id, far)));
        QVERIFY((*project)->nextStamp(moment()).value() > HybridTime{far});
    }
    const auto project = Project::open(m_path);
    VERIFY_OK(project);
    QVERIFY((*project)->nextStamp(moment()).value() > HybridTime{far});
    // Past the stamps seen, the wall clock leads again.
    const Moment later = moment(2 * 86400000LL);
    QCOMPARE((*project)->nextStamp(later)->milliseconds(), later.utcMilliseconds);
    const auto refused = (*project)->nextStamp(Moment{std::int64_t{1} << 48U, 0});
    QVERIFY(!refused);
    QVERIFY(refused.error().message.contains(QStringLiteral("clock")));
}

void TestProject::backUpOpensAndEquals()
{
    const auto project = Project::create(m_path, UnitSystem::Metric);
    VERIFY_OK(project);
    const Valve valve = fullValve(QStringLiteral("1"));
    VERIFY_OK((*project)->valves().add(valve, author(), moment(), QString()));
    VERIFY_OK((*project)->visits().add(fullVisit(valve.id, 77)));
    const auto first = (*project)->backUp(moment());
    VERIFY_OK(first);
    const auto second = (*project)->backUp(moment()); // within the same second: nothing overwritten
    VERIFY_OK(second);
    QVERIFY(*first != *second);
    QCOMPARE(QFileInfo(*first).absolutePath(), m_folder->filePath(QStringLiteral("town.backups")));
    QCOMPARE(QFileInfo(*first).fileName(), QStringLiteral("town-2025-06-15-100640.keyround"));
    QCOMPARE(bytesOf(*first).mid(68, 4), QByteArray("KEYR"));

    const auto copy = Project::open(*first);
    VERIFY_OK(copy);
    QVERIFY((*copy)->valves().all().value() == (*project)->valves().all().value());
    QVERIFY((*copy)->visits().all().value() == (*project)->visits().all().value());
    QCOMPARE((*copy)->settings().load()->units, UnitSystem::Metric);
    QVERIFY((*copy)->verify()->isEmpty());
    // The project stays locked and usable after the copy.
    QVERIFY(!Project::open(m_path));
    VERIFY_OK(
        (*project)->valves().add(plainValve(QStringLiteral("2")), author(), moment(), QString()));
}

void TestProject::backUpWithinATransactionIsRefused()
{
    const auto project = Project::create(m_path, UnitSystem::Us);
    VERIFY_OK(project);
    VERIFY_OK((*project)->transaction([&]() -> Status {
        const auto copy = (*project)->backUp(moment());
        return !copy && copy.error().code == ErrorCode::Refused
                   ? Status()
                   : Status(fail(ErrorCode::BadInput, QStringLiteral("it made a copy")));
    }));
}

void TestProject::verifyOfASoundFileIsEmpty()
{
    const auto project = Project::create(m_path, UnitSystem::Us);
    VERIFY_OK(project);
    const Valve valve = fullValve(QStringLiteral("1"));
    VERIFY_OK((*project)->valves().add(valve, author(), moment(), awkwardText()));
    VERIFY_OK((*project)->visits().add(fullVisit(valve.id, 5)));
    const auto faults = (*project)->verify();
    VERIFY_OK(faults);
    QVERIFY2(faults->isEmpty(), qPrintable(faults->join(QLatin1Char('\n'))));
    QVERIFY((*project)->setAside().isEmpty());
}

void TestProject::oddFileNames()
{
    // Names that mean something in a URI, in SQL, or to a shell.
    for (const char *name : {"a?mode=memory", "50%20 off#1", "it's; --",
                             "\xC3\xA9t\xC3\xA9 \xF0\x9F\x9A\xB0", "-x", ":memory:"}) {
        const QString path = m_folder->path() + QLatin1Char('/') + QString::fromUtf8(name) +
                             QStringLiteral(".keyround");
        VERIFY_OK(Project::create(path, UnitSystem::Us));
        QVERIFY2(QFileInfo(path).size() > 0, name);
        const auto project = Project::open(path);
        VERIFY_OK(project);
        VERIFY_OK((*project)->backUp(moment()));
    }
}

QTEST_GUILESS_MAIN(TestProject)
#include "test_project.moc"
