// SPDX-License-Identifier: GPL-3.0-or-later
// What is not opened, with which message, and that the file keeps every byte.
#include "core/storage/file_check.h"
#include "tests/core/storage/fixtures.h"

#include <QDir>
#include <QTest>

#include <functional>

#include <sys/wait.h>
#include <unistd.h>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

// Changes a sound project file's bytes into something that must be refused.
using Spoil = std::function<QByteArray(QByteArray)>;

void putBigEndian(QByteArray &bytes, qsizetype at, std::uint32_t value)
{
    for (int i = 0; i < 4; ++i) {
        bytes[at + i] = static_cast<char>((value >> (24 - 8 * i)) & 0xFFU);
    }
}

// Runs the work as a user without rights (root may write anything) and hands back its message.
QByteArray asNobody(const std::function<QByteArray()> &work)
{
    int ends[2];
    if (::pipe(ends) != 0) {
        return "no pipe";
    }
    const pid_t child = ::fork();
    if (child == 0) {
        constexpr uid_t nobody = 65534;
        const bool dropped = ::geteuid() != 0 || ::setuid(nobody) == 0;
        const QByteArray said = dropped ? work() : QByteArray("could not drop rights");
        const ssize_t written =
            ::write(ends[1], said.constData(), static_cast<size_t>(said.size()));
        ::_exit(written == said.size() ? 0 : 1);
    }
    ::close(ends[1]);
    QByteArray said(4096, '\0');
    const ssize_t got = ::read(ends[0], said.data(), static_cast<size_t>(said.size()));
    ::close(ends[0]);
    ::waitpid(child, nullptr, 0);
    said.truncate(got > 0 ? got : 0);
    return said;
}

} // namespace

class TestRefusals : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void spoiltFiles_data();
    void spoiltFiles();
    void missingAndFolder();
    void readOnlyFileAndFolder();
    void networkFileSystems_data();
    void networkFileSystems();
    void cutAtEveryPage();
};

void TestRefusals::spoiltFiles_data()
{
    QTest::addColumn<Spoil>("spoil");
    QTest::addColumn<ErrorCode>("code");
    QTest::addColumn<QString>("message");
    const auto row = [](const char *name, const Spoil &spoil, ErrorCode code, const char *message) {
        QTest::newRow(name) << spoil << code << QString::fromLatin1(message);
    };
    const auto becomes = [](const QByteArray &bytes) {
        return [bytes](const QByteArray &) { return bytes; };
    };
    row("empty", becomes({}), ErrorCode::Refused, "is empty");
    row("text", becomes("number,size\n0012,8\n"), ErrorCode::Refused, "is a text file");
    row("one letter", becomes("x"), ErrorCode::Refused, "is a text file");
    row("picture", becomes(QByteArray::fromHex("89504e470d0a1a0a0000000d")), ErrorCode::Refused,
        "is not a Keyround project");
    row("zeros", becomes(QByteArray(8192, '\0')), ErrorCode::Refused, "is not a Keyround project");
    row("start of the header", becomes("SQLite for"), ErrorCode::Damaged, "is cut short");
    row(
        "half a header", [](const QByteArray &b) { return b.left(60); }, ErrorCode::Damaged,
        "is cut short");
    row(
        "header only", [](const QByteArray &b) { return b.left(100); }, ErrorCode::Damaged,
        "is cut short");
    row(
        "last page lost", [](const QByteArray &b) { return b.left(b.size() - 4096); },
        ErrorCode::Damaged, "is cut short");
    row(
        "last byte lost", [](const QByteArray &b) { return b.left(b.size() - 1); },
        ErrorCode::Damaged, "is cut short");
    row(
        "GeoPackage",
        [](QByteArray b) {
            putBigEndian(b, 68, 0x47504B47); // "GPKG", OGC 12-128r18
            return b;
        },
        ErrorCode::Refused, "database of another program");
    row(
        "database of nobody",
        [](QByteArray b) {
            putBigEndian(b, 68, 0);
            return b;
        },
        ErrorCode::Refused, "database of another program");
    row(
        "newer schema",
        [](QByteArray b) {
            putBigEndian(b, 60, static_cast<std::uint32_t>(currentSchemaVersion()) + 1);
            return b;
        },
        ErrorCode::Refused, "newer Keyround");
    row(
        "schema zero",
        [](QByteArray b) {
            putBigEndian(b, 60, 0);
            return b;
        },
        ErrorCode::Damaged, "which schema");
    row(
        "negative schema",
        [](QByteArray b) {
            putBigEndian(b, 60, 0xFFFFFFFF);
            return b;
        },
        ErrorCode::Damaged, "which schema");
    row(
        "page of noise",
        [](QByteArray b) {
            b.replace(4096, 4096, QByteArray(4096, '\x5a'));
            return b;
        },
        ErrorCode::Damaged, "is damaged");
    row(
        "first page's tree of noise",
        [](QByteArray b) {
            b.replace(100, 3996, QByteArray(3996, '\x5a'));
            return b;
        },
        ErrorCode::Damaged, "damaged");
}

void TestRefusals::spoiltFiles()
{
    QFETCH(Spoil, spoil);
    QFETCH(ErrorCode, code);
    QFETCH(QString, message);
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    {
        const auto project = Project::create(path, UnitSystem::Us);
        VERIFY_OK(project);
        VERIFY_OK((*project)->valves().add(fullValve(QStringLiteral("1")), author(), moment(),
                                           QString()));
    }
    const QByteArray spoilt = spoil(bytesOf(path));
    QVERIFY(writeBytes(path, spoilt));
    const auto refused = Project::open(path);
    QVERIFY(!refused);
    QVERIFY2(refused.error().message.contains(message), messageOf(refused).constData());
    QCOMPARE(refused.error().code, code);
    QCOMPARE(bytesOf(path), spoilt);
    QVERIFY(!QFile::exists(path + QStringLiteral("-wal")));
}

void TestRefusals::missingAndFolder()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    const auto missing = Project::open(path);
    QVERIFY(!missing);
    QCOMPARE(missing.error().code, ErrorCode::NotFound);
    QVERIFY(!QFile::exists(path)); // opening never makes a file
    const auto isFolder = Project::open(folder.path());
    QVERIFY(!isFolder);
    QVERIFY(isFolder.error().message.contains(QStringLiteral("is a folder")));
}

void TestRefusals::readOnlyFileAndFolder()
{
    const QTemporaryDir folder;
    const QString place = folder.filePath(QStringLiteral("place"));
    QVERIFY(QDir().mkpath(place));
    const QString path = place + QStringLiteral("/town.keyround");
    VERIFY_OK(Project::create(path, UnitSystem::Us));
    const QByteArray before = bytesOf(path);
    const auto readAll = QFile::ReadOwner | QFile::ReadGroup | QFile::ReadOther;
    const auto enter = readAll | QFile::ExeOwner | QFile::ExeGroup | QFile::ExeOther;
    const auto writeAll = QFile::WriteOwner | QFile::WriteGroup | QFile::WriteOther;
    const auto open = [&path] { return messageOf(Project::open(path)); };

    QVERIFY(QFile::setPermissions(folder.path(), enter | writeAll));
    QVERIFY(QFile::setPermissions(place, enter | writeAll));
    QVERIFY(QFile::setPermissions(path, readAll));
    QByteArray said = asNobody(open);
    QVERIFY2(said.contains("is read-only"), said.constData());

    QVERIFY(QFile::setPermissions(path, readAll | writeAll));
    QVERIFY(QFile::setPermissions(place, enter));
    said = asNobody(open);
    QVERIFY2(said.contains("cannot be written"), said.constData());
    said = asNobody([&place] {
        return messageOf(Project::create(place + QStringLiteral("/new.keyround"), UnitSystem::Us));
    });
    QVERIFY2(said.contains("cannot be written"), said.constData());

    QVERIFY(QFile::setPermissions(path, QFile::Permissions()));
    said = asNobody(open);
    QVERIFY2(said.contains("cannot be read"), said.constData());

    QVERIFY(QFile::setPermissions(place, enter | writeAll));
    QVERIFY(QFile::setPermissions(path, readAll | writeAll));
    QCOMPARE(asNobody(open), QByteArray("no error")); // the rights were what it was refused for
    QCOMPARE(bytesOf(path), before);
}

void TestRefusals::networkFileSystems_data()
{
    QTest::addColumn<QByteArray>("type");
    QTest::addColumn<bool>("network");
    for (const char *type :
         {"nfs", "nfs4", "cifs", "smb3", "smbfs", "fuse.sshfs", "fuse.rclone", "NFS"}) {
        QTest::newRow(type) << QByteArray(type) << true;
    }
    for (const char *type :
         {"ext4", "btrfs", "xfs", "tmpfs", "overlay", "fuseblk", "vfat", "zfs", ""}) {
        QTest::newRow(*type == '\0' ? "nothing said" : type) << QByteArray(type) << false;
    }
}

void TestRefusals::networkFileSystems()
{
    QFETCH(QByteArray, type);
    QFETCH(bool, network);
    QCOMPARE(isNetworkFileSystem(type), network);
}

void TestRefusals::cutAtEveryPage()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    VERIFY_OK(Project::create(path, UnitSystem::Us));
    const QByteArray whole = bytesOf(path);
    for (qsizetype size = 4096; size < whole.size(); size += 4096) {
        QVERIFY(writeBytes(path, whole.left(size)));
        const auto refused = Project::open(path);
        QVERIFY(!refused);
        QCOMPARE(refused.error().code, ErrorCode::Damaged);
    }
    QVERIFY(writeBytes(path, whole));
    VERIFY_OK(Project::open(path));
}

QTEST_GUILESS_MAIN(TestRefusals)
#include "test_refusals.moc"
