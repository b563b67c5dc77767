// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/connection.h"
#include "core/storage/layer_store.h"
#include "core/storage/network_fix_store.h"
#include "core/storage/shut_store.h"
#include "tests/core/storage/fixtures.h"

#include <QTest>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

ShutBegun someShut(std::uint64_t stamp)
{
    return {
        ShutId{newUuid7(someDay)}, {40.1, -88.1},   QStringLiteral("M1"), awkwardText(), moment(),
        author().person,           author().device, HybridTime{stamp}};
}

ShutTick someTick(const ShutId &shut, ShutAction action, std::uint64_t stamp)
{
    return {TickId{newUuid7(someDay)},
            shut,
            action,
            action == ShutAction::Ended ? ValveId{} : ValveId{newUuid7(someDay)},
            awkwardText(),
            moment(5),
            author().person,
            author().device,
            HybridTime{stamp}};
}

Notice someNotice(std::uint64_t stamp)
{
    return {NoticeId{newUuid7(someDay)},
            ValveId{newUuid7(someDay)},
            moment(),
            QDate(2026, 5, 4),
            14,
            awkwardText(),
            20,
            QStringLiteral("Door hanger, English"),
            awkwardText(),
            author().person,
            author().device,
            HybridTime{stamp}};
}

} // namespace

class ShutStoreTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void init();
    void everythingSurvivesReopening();
    void writingTwiceIsNoErrorAndChangingIs();
    void theFileRefusesChanges();
    void aFlippedBitIsNoticed();
    void stampsGoOnAfterTheLog();
    void fixesSurviveAndAreReplaced();
    void sourcesSurvive();

private:
    std::unique_ptr<QTemporaryDir> m_folder;
    QString m_path;
    std::unique_ptr<Project> m_project;
    void reopen()
    {
        m_project.reset();
        m_project = std::move(*Project::open(m_path));
    }
};

void ShutStoreTest::init()
{
    m_project.reset();
    m_folder = std::make_unique<QTemporaryDir>();
    m_path = m_folder->filePath(QStringLiteral("town.keyround"));
    m_project = std::move(*Project::create(m_path, UnitSystem::Us));
}

void ShutStoreTest::everythingSurvivesReopening()
{
    const ShutBegun first = someShut(1);
    const ShutBegun second = someShut(2);
    std::vector<ShutTick> ticks;
    std::uint64_t stamp = 3;
    for (const ShutAction action : {ShutAction::Closed, ShutAction::DidNotHold,
                                    ShutAction::Reopened, ShutAction::Noted, ShutAction::Ended}) {
        ticks.push_back(someTick(first.id, action, stamp++));
    }
    const Notice notice = someNotice(20);
    ShutStore &store = m_project->shuts();
    QVERIFY(store.begin(first) && store.begin(second) && store.add(notice));
    for (const ShutTick &tick : ticks) {
        QVERIFY(store.tick(tick));
    }
    const ShutTick orphan = someTick(ShutId{newUuid7(someDay)}, ShutAction::Closed, 30);
    QVERIFY(store.tick(orphan)); // its shut may still come in from another laptop
    reopen();
    const auto logs = m_project->shuts().all();
    QVERIFY(logs);
    QCOMPARE(logs->size(), std::size_t{2});
    QVERIFY((*logs)[0].begun == second); // newest first
    QVERIFY((*logs)[1].begun == first);
    QVERIFY((*logs)[1].ticks == ticks);
    QVERIFY(*m_project->shuts().notices() == std::vector<Notice>{notice});
    QVERIFY(m_project->verify()->isEmpty());
}

void ShutStoreTest::writingTwiceIsNoErrorAndChangingIs()
{
    ShutBegun shut = someShut(1);
    QVERIFY(m_project->shuts().begin(shut));
    QVERIFY(m_project->shuts().begin(shut));
    shut.words = QStringLiteral("another break");
    QCOMPARE(m_project->shuts().begin(shut).error().code, ErrorCode::Damaged);
    QCOMPARE(m_project->shuts().all()->size(), std::size_t{1});
    shut = someShut(0);
    QCOMPARE(m_project->shuts().begin(shut).error().code, ErrorCode::BadInput); // no stamp
}

void ShutStoreTest::theFileRefusesChanges()
{
    QVERIFY(m_project->shuts().begin(someShut(1)));
    m_project.reset();
    // A statement of any kind reaches the file as a made-up next migration.
    for (const char *sql : {"UPDATE log_rows SET body = '{}'", "UPDATE log_rows SET stamp = 9",
                            "DELETE FROM log_rows"}) {
        std::vector<Migration> steps = shippedMigrations();
        steps.push_back({currentSchemaVersion() + 1, {QString::fromLatin1(sql)}});
        const auto refused = Connection::open(m_path, steps);
        QVERIFY(!refused);
        QVERIFY2(refused.error().message.contains(QStringLiteral("never")),
                 qPrintable(refused.error().message));
    }
}

void ShutStoreTest::aFlippedBitIsNoticed()
{
    QVERIFY(m_project->shuts().add(someNotice(1)));
    m_project.reset();
    QFile file(m_path);
    QVERIFY(file.open(QIODevice::ReadWrite));
    const QByteArray bytes = file.readAll();
    const qsizetype at = bytes.indexOf("2026-05-04");
    QVERIFY(at > 0);
    file.seek(at + 9);
    file.write("5");
    file.close();
    QCOMPARE(Project::open(m_path).error().code, ErrorCode::Damaged);
    m_project = std::move(*Project::open(m_path, DamagedVisits::SetAside));
    QCOMPARE(m_project->shuts().notices().error().code, ErrorCode::Damaged);
    QVERIFY(!m_project->verify()->isEmpty());
}

void ShutStoreTest::stampsGoOnAfterTheLog()
{
    const HybridTime far{static_cast<std::uint64_t>(someDay + 1000000) << 16U};
    QVERIFY(m_project->shuts().begin(someShut(far.value)));
    reopen();
    QVERIFY(*m_project->nextStamp(moment()) > far);
}

void ShutStoreTest::fixesSurviveAndAreReplaced()
{
    NetworkFixes fixes;
    fixes.valves = {{QStringLiteral("1"), QStringLiteral("M1"), Branch::TowardsFirst},
                    {QStringLiteral("2"), QStringLiteral("M1"), Branch::TowardsLast},
                    {QStringLiteral("3"), QStringLiteral("M2"), Branch::Nearest}};
    fixes.joins = {{QStringLiteral("M1"), LineEnd::First, QStringLiteral("M2")}};
    fixes.aparts = {{QStringLiteral("M1"), LineEnd::Last, QStringLiteral("M3")}};
    fixes.crosses = {{QStringLiteral("M1"), QStringLiteral("M4")}};
    fixes.services = {{QStringLiteral("S"), QStringLiteral("M1")}};
    fixes.hydrants = {{QStringLiteral("H"), QStringLiteral("M1")}};
    fixes.sources = {{QStringLiteral("W"), QStringLiteral("M1")}};
    QVERIFY(m_project->networkFixes().save(fixes));
    reopen();
    QVERIFY(*m_project->networkFixes().load() == fixes);
    fixes.joins.clear();
    QVERIFY(m_project->networkFixes().save(fixes));
    QVERIFY(*m_project->networkFixes().load() == fixes);
    QVERIFY(m_project->networkFixes().save({}));
    QVERIFY(m_project->networkFixes().load()->isEmpty());
}

void ShutStoreTest::sourcesSurvive()
{
    std::vector<Source> sources;
    int number = 0;
    for (const SourceKind kind :
         {SourceKind::Plant, SourceKind::Tank, SourceKind::Well, SourceKind::Interconnection}) {
        sources.push_back({FeatureId{newUuid7(someDay)},
                           QString::number(++number),
                           awkwardText(),
                           kind,
                           {40.1, -88.1}});
    }
    QVERIFY(m_project->layers().put(sources));
    reopen();
    QVERIFY(*m_project->layers().sources() == sources);
}

QTEST_GUILESS_MAIN(ShutStoreTest)
#include "test_shut_store.moc"
