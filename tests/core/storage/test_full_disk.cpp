// SPDX-License-Identifier: GPL-3.0-or-later
// The disk takes no more: what was acknowledged stays, what was not is refused whole, and the
// program goes on. Tried in two ways: a limit on the file's size (always), and a file system of
// 1 MiB (where the test may mount one: as root).
#include "tests/core/storage/fixtures.h"

#include <QDir>
#include <QProcess>
#include <QTest>

#include <algorithm>
#include <csignal>

#include <sys/resource.h>
#include <unistd.h>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

Visit longVisit(const ValveId &valve, std::uint64_t stamp)
{
    Visit visit = plainVisit(valve, stamp);
    visit.remarks = QString(30000, QLatin1Char('r'));
    return visit;
}

// Adds visits until one is refused; hands back those that were acknowledged, and the refusal.
std::pair<std::vector<Visit>, Error> addUntilRefused(Project &project, const ValveId &valve)
{
    std::vector<Visit> acknowledged;
    for (std::uint64_t stamp = 1; stamp < 1000; ++stamp) {
        const Visit visit = longVisit(valve, stamp);
        const auto added = project.visits().add(visit);
        if (!added) {
            return {acknowledged, added.error()};
        }
        acknowledged.push_back(visit);
    }
    return {acknowledged, Error{}};
}

class FileSizeLimit
{
public:
    explicit FileSizeLimit(rlim_t bytes)
    {
        std::signal(SIGXFSZ, SIG_IGN); // write() then fails with EFBIG
        ::getrlimit(RLIMIT_FSIZE, &m_before);
        const rlimit limit{bytes, m_before.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &limit);
    }
    ~FileSizeLimit() { ::setrlimit(RLIMIT_FSIZE, &m_before); }
    FileSizeLimit(const FileSizeLimit &) = delete;
    FileSizeLimit &operator=(const FileSizeLimit &) = delete;

private:
    rlimit m_before{};
};

class SmallFileSystem
{
public:
    explicit SmallFileSystem(QString folder) : m_folder(std::move(folder))
    {
        m_mounted =
            ::geteuid() == 0 &&
            QProcess::execute(QStringLiteral("mount"),
                              {QStringLiteral("-t"), QStringLiteral("tmpfs"), QStringLiteral("-o"),
                               QStringLiteral("size=1m"), QStringLiteral("tmpfs"), m_folder}) == 0;
    }
    ~SmallFileSystem()
    {
        if (m_mounted) {
            QProcess::execute(QStringLiteral("umount"), {m_folder});
        }
    }
    SmallFileSystem(const SmallFileSystem &) = delete;
    SmallFileSystem &operator=(const SmallFileSystem &) = delete;
    [[nodiscard]] bool isMounted() const { return m_mounted; }

private:
    QString m_folder;
    bool m_mounted = false;
};

} // namespace

class TestFullDisk : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void fileThatMayNotGrow();
    void swallowedFaultStoresNothing();
    void createOnAFullDiskLeavesNothing();
    void smallFileSystem();
};

void TestFullDisk::fileThatMayNotGrow()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    const Valve valve = plainValve(QStringLiteral("1"));
    std::vector<Visit> acknowledged;
    {
        const auto project = Project::create(path, UnitSystem::Us);
        VERIFY_OK(project);
        VERIFY_OK((*project)->valves().add(valve, author(), moment(), QString()));
        Error refusal;
        {
            const FileSizeLimit limit(rlim_t{600} * 1024);
            std::tie(acknowledged, refusal) = addUntilRefused(**project, valve.id);
        }
        QVERIFY(!acknowledged.empty());
        QCOMPARE(refusal.code, ErrorCode::StorageFault);
        QVERIFY(refusal.message.contains(QStringLiteral("was not stored")));
        QVERIFY((*project)->visits().all().value() == acknowledged);
        // With room again the same program goes on.
        acknowledged.push_back(longVisit(valve.id, 5000));
        VERIFY_OK((*project)->visits().add(acknowledged.back()));
    }
    const auto project = Project::open(path);
    VERIFY_OK(project);
    QVERIFY((*project)->visits().all().value() == acknowledged);
    QVERIFY((*project)->verify()->isEmpty());
}

// Work that goes on after a fault by which the database gave up the whole transaction: none of it
// may be stored row by row.
void TestFullDisk::swallowedFaultStoresNothing()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    const Valve valve = plainValve(QStringLiteral("1"));
    const auto project = Project::create(path, UnitSystem::Us);
    VERIFY_OK(project);
    VERIFY_OK((*project)->valves().add(valve, author(), moment(), QString()));
    const Status outcome = (*project)->transaction([&]() -> Status {
        {
            const FileSizeLimit limit(rlim_t{300} * 1024);
            std::vector<Visit> many;
            for (std::uint64_t stamp = 1; stamp < 200; ++stamp) {
                many.push_back(longVisit(valve.id, stamp));
            }
            // Larger than SQLite's page cache, so that it is written before the commit.
            many.front().remarks = QString(4000000, QLatin1Char('r'));
            if ((*project)->visits().addAll(many)) {
                return fail(ErrorCode::BadInput, QStringLiteral("the limit did not bite"));
            }
        }
        return (*project)->visits().add(plainVisit(valve.id, 9999)).map([](auto) {});
    });
    const auto visits = (*project)->visits().all();
    VERIFY_OK(visits);
    // Either the fault undid the inner part alone, or all of it; never a part without its word.
    QCOMPARE(visits->size(), outcome ? std::size_t{1} : std::size_t{0});
    QVERIFY((*project)->verify()->isEmpty());
    VERIFY_OK((*project)->visits().add(plainVisit(valve.id, 10000)));
}

void TestFullDisk::createOnAFullDiskLeavesNothing()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    {
        const FileSizeLimit limit(rlim_t{20} * 1024);
        const auto refused = Project::create(path, UnitSystem::Us);
        QVERIFY(!refused);
        QCOMPARE(refused.error().code, ErrorCode::StorageFault);
    }
    QVERIFY(QDir(folder.path()).isEmpty());
    VERIFY_OK(Project::create(path, UnitSystem::Us));
}

void TestFullDisk::smallFileSystem()
{
    const QTemporaryDir folder;
    const SmallFileSystem small(folder.path());
    if (!small.isMounted()) {
        QSKIP("a small file system can only be mounted by root; the size limit was tried instead");
    }
    const QString path = folder.path() + QStringLiteral("/town.keyround");
    const Valve valve = plainValve(QStringLiteral("1"));
    std::vector<Visit> acknowledged;
    {
        const auto project = Project::create(path, UnitSystem::Us);
        VERIFY_OK(project);
        VERIFY_OK((*project)->valves().add(valve, author(), moment(), QString()));
        const auto [stored, refusal] = addUntilRefused(**project, valve.id);
        acknowledged = stored;
        QVERIFY(!acknowledged.empty());
        QVERIFY2(refusal.message.contains(QStringLiteral("disk is full")),
                 qPrintable(refusal.message));
        const auto copy = (*project)->backUp(moment()); // no room for a copy either
        QVERIFY(!copy);
        QVERIFY2(copy.error().message.contains(QStringLiteral("could not be written")),
                 messageOf(copy).constData());
        QVERIFY(QDir(folder.path() + QStringLiteral("/town.backups")).isEmpty());
        QVERIFY((*project)->visits().all().value() == acknowledged);
    }
    const auto project = Project::open(path); // opens on the full disk
    VERIFY_OK(project);
    QVERIFY((*project)->visits().all().value() == acknowledged);
}

QTEST_GUILESS_MAIN(TestFullDisk)
#include "test_full_disk.moc"
