// SPDX-License-Identifier: GPL-3.0-or-later
// The road from one schema to the next: the shipped steps, and a made-up one after them.
#include "core/storage/connection.h"
#include "core/storage/migration.h"
#include "core/storage/round_store.h"
#include "tests/core/storage/fixtures.h"

#include <QDir>
#include <QTest>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

std::vector<Migration> withNextStep(const QStringList &statements)
{
    std::vector<Migration> steps = shippedMigrations();
    steps.push_back({currentSchemaVersion() + 1, statements});
    return steps;
}

} // namespace

class TestMigration : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void init();
    void stepsCountFromOne();
    void roundsOfSchemaOneAreKept();
    void nextStepIsTakenOnceAfterACopy();
    void failedStepLeavesTheFileAtItsSchema();
    void copyThatCannotBeMadeStopsTheStep();
    void newerSchemaIsRefusedUnchanged();
    void scriptIsSplit();

private:
    std::unique_ptr<QTemporaryDir> m_folder;
    QString m_path;
    Valve m_valve = fullValve(QStringLiteral("1"));
};

void TestMigration::init()
{
    m_folder = std::make_unique<QTemporaryDir>();
    m_path = m_folder->filePath(QStringLiteral("town.keyround"));
    const auto project = Project::create(m_path, UnitSystem::Us);
    VERIFY_OK(project);
    VERIFY_OK((*project)->valves().add(m_valve, author(), moment(), QString()));
}

void TestMigration::stepsCountFromOne()
{
    int expected = 0;
    for (const Migration &step : shippedMigrations()) {
        QCOMPARE(step.version, ++expected);
        QVERIFY(!step.statements.isEmpty());
    }
    QCOMPARE(currentSchemaVersion(), expected);
}

void TestMigration::roundsOfSchemaOneAreKept()
{
    const QString path = m_folder->filePath(QStringLiteral("old.keyround"));
    const ValveId valve{newUuid7(someDay)};
    const RoundId round{newUuid7(someDay)};
    std::vector<Migration> first{shippedMigrations().front()};
    first.front().statements
        << QStringLiteral("INSERT INTO valves VALUES ('%1', '0007', NULL, NULL, '', '', NULL, 32, "
                          "'gate', NULL, 'clockwise', 'open', 'main_line', NULL, '', '', '', '', "
                          "0)")
               .arg(valve.text())
        << QStringLiteral("INSERT INTO rounds VALUES ('%1', '2025-06-16', 'Crew 1', "
                          "'07:00:00.000', '15:30:00.000', 40.1, -88.2, 40.1, -88.2, 'finished')")
               .arg(round.text())
        << QStringLiteral("INSERT INTO round_stops VALUES ('%1', 1, '%2')")
               .arg(round.text(), valve.text());
    {
        VERIFY_OK(Connection::create(path, first));
    }
    QCOMPARE(bytesOf(path)[63], '\1');
    {
        const auto project = Project::open(path);
        VERIFY_OK(project);
        const auto kept = (*project)->rounds().byId(round);
        VERIFY_OK(kept);
        Round expected;
        expected.id = round;
        expected.date = QDate(2025, 6, 16);
        expected.crew = QStringLiteral("Crew 1");
        expected.start = expected.finish = GeoPoint{40.1, -88.2};
        expected.state = RoundState::Finished;
        expected.stops = {valve};
        QVERIFY(*kept == expected);
        QVERIFY((*project)->verify().value().isEmpty());
    }
    QCOMPARE(bytesOf(path)[63], static_cast<char>(currentSchemaVersion()));
    QCOMPARE(bytesOf(m_folder->filePath(QStringLiteral("old.schema-1.keyround")))[63], '\1');
}

void TestMigration::nextStepIsTakenOnceAfterACopy()
{
    const auto steps = withNextStep({QStringLiteral("CREATE TABLE made_up (id TEXT PRIMARY KEY)"),
                                     QStringLiteral("UPDATE valves SET remarks = 'migrated'")});
    {
        VERIFY_OK(Connection::open(m_path, steps));
    }
    QCOMPARE(bytesOf(m_path)[63], static_cast<char>(currentSchemaVersion() + 1));
    const QString copy =
        m_folder->filePath(QStringLiteral("town.schema-%1.keyround").arg(currentSchemaVersion()));
    { // The copy is the file as it was, and opens.
        const auto project = Project::open(copy);
        VERIFY_OK(project);
        QVERIFY((*project)->valves().all().value() == std::vector{m_valve});
    }
    {
        VERIFY_OK(Connection::open(m_path, steps));
    } // nothing left to do: no second copy
    QCOMPARE(QDir(m_folder->path()).entryList({QStringLiteral("*.keyround")}, QDir::Files).size(),
             qsizetype{2});
}

void TestMigration::failedStepLeavesTheFileAtItsSchema()
{
    const auto steps = withNextStep({QStringLiteral("UPDATE valves SET remarks = 'half-way'"),
                                     QStringLiteral("INSERT INTO no_such_table VALUES (1)")});
    const auto refused = Connection::open(m_path, steps);
    QVERIFY(!refused);
    QVERIFY(refused.error().message.contains(QStringLiteral("no_such_table")));
    const auto project = Project::open(m_path);
    VERIFY_OK(project);
    QVERIFY((*project)->valves().all().value() == std::vector{m_valve});
}

void TestMigration::copyThatCannotBeMadeStopsTheStep()
{
    // Something sits where the unfinished copy would be written.
    const QString inTheWay = m_folder->filePath(
        QStringLiteral("town.schema-%1.keyround.part").arg(currentSchemaVersion()));
    QVERIFY(QDir().mkpath(inTheWay));
    const auto refused =
        Connection::open(m_path, withNextStep({QStringLiteral("UPDATE valves SET remarks = ''")}));
    QVERIFY(!refused);
    QVERIFY2(refused.error().message.contains(QStringLiteral("copy")),
             messageOf(refused).constData());
    const auto project = Project::open(m_path);
    VERIFY_OK(project);
    QVERIFY((*project)->valves().all().value() == std::vector{m_valve});
}

void TestMigration::newerSchemaIsRefusedUnchanged()
{
    {
        VERIFY_OK(
            Connection::open(m_path, withNextStep({QStringLiteral("CREATE TABLE a (b TEXT)")})));
    }
    const QByteArray before = bytesOf(m_path);
    const QStringList files = QDir(m_folder->path()).entryList(QDir::Files);
    const auto refused = Project::open(m_path);
    QVERIFY(!refused);
    QCOMPARE(refused.error().code, ErrorCode::Refused);
    QVERIFY(refused.error().message.contains(QStringLiteral("newer Keyround")));
    QCOMPARE(bytesOf(m_path), before);
    QCOMPARE(QDir(m_folder->path()).entryList(QDir::Files), files);
}

void TestMigration::scriptIsSplit()
{
    const QStringList statements = splitScript(QStringLiteral(
        "-- a comment; with a semicolon\n"
        "CREATE TABLE a (b TEXT DEFAULT 'x;''y'); -- and 'this\n"
        "create  trigger t BEFORE DELETE ON a\nBEGIN\n  SELECT 1;\n  SELECT 2;\nEND;\n"
        "INSERT INTO \"odd;name\" VALUES ('--');\n\n"));
    QCOMPARE(
        statements,
        (QStringList{QStringLiteral("CREATE TABLE a (b TEXT DEFAULT 'x;''y')"),
                     QStringLiteral("create  trigger t BEFORE DELETE ON a\nBEGIN\n  SELECT 1;\n"
                                    "  SELECT 2;\nEND"),
                     QStringLiteral("INSERT INTO \"odd;name\" VALUES ('--')")}));
}

QTEST_GUILESS_MAIN(TestMigration)
#include "test_migration.moc"
