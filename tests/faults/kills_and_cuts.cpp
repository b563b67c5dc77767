// SPDX-License-Identifier: GPL-3.0-or-later
// The program is killed at random moments; the power fails at random moments.
//
// A power cut is simulated as in the file system's own tests: an ext4 on a loop device is shut down
// without flushing its journal (ioctl EXT4_IOC_SHUTDOWN, NOLOGFLUSH), which throws away what was
// not flushed, and mounted again. It does not model a drive that lies about its flushes.
#include "tests/faults/faults.h"
#include "tests/faults/scripted_day.h"

#include <QFile>
#include <QRandomGenerator>
#include <QTemporaryDir>
#include <QThread>

#include <cstdint>
#include <cstdio>

#include <fcntl.h>
#include <sys/ioctl.h>
#include <unistd.h>

namespace keyround {

namespace {

constexpr int runsOnOneFile = 20;
constexpr int longestMilliseconds = 400;

// linux/fs/ext4/ext4.h: _IOR('X', 125, __u32), flag 2.
constexpr unsigned long shutDown = _IOR('X', 125, std::uint32_t);
constexpr std::uint32_t noLogFlush = 2;

bool cutPower(const QString &folder)
{
    const int handle = ::open(QFile::encodeName(folder).constData(), O_RDONLY | O_CLOEXEC);
    if (handle < 0) {
        return false;
    }
    std::uint32_t how = noLogFlush;
    const bool done = ::ioctl(handle, shutDown, &how) == 0;
    ::close(handle);
    return done;
}

void sleepAtRandom()
{
    QThread::msleep(QRandomGenerator::global()->bounded(longestMilliseconds));
}

/// Runs a day on the file and ends it at a random moment by `stop`; what was said.
template <typename Stop>
bool dayUntil(Ledger &ledger, const QStringList &arguments, const Stop &stop)
{
    QProcess child;
    startDay(child, arguments);
    if (!child.waitForReadyRead(20000)) {
        child.kill();
        child.waitForFinished();
        return false;
    }
    sleepAtRandom();
    const bool stopped = stop(child);
    child.kill();
    child.waitForFinished();
    ledger.take(child.readAllStandardOutput());
    return stopped;
}

} // namespace

int runKills(int count)
{
    int broken = 0;
    qsizetype promises = 0;
    int drafts = 0;
    int hotJournals = 0;
    for (int run = 0; run < count;) {
        const QTemporaryDir folder;
        const QString path = folder.filePath(QStringLiteral("town.keyround"));
        if (!makeDayProject(path)) {
            return count;
        }
        Ledger ledger;
        for (int on = 0; on < runsOnOneFile && run < count; ++on, ++run) {
            const bool ran =
                dayUntil(ledger, {path, QStringLiteral("--back-ups")}, [](QProcess &child) {
                    child.kill(); // SIGKILL
                    return true;
                });
            hotJournals += QFile(path + QStringLiteral("-journal")).size() > 0 ? 1 : 0;
            broken +=
                ran ? brokenPromises(ledger, path, QStringLiteral("kill %1").arg(run + 1)) : 1;
        }
        promises += ledger.promises();
        drafts += ledger.drafts();
    }
    std::printf("kills: %d runs, %d left a journal to roll back, %lld promises and %d half-typed "
                "stops checked, %d runs broke one\n",
                count, hotJournals, static_cast<long long>(promises), drafts, broken);
    return broken;
}

int runPowerCuts(int count, bool unsafe)
{
    const QTemporaryDir folder;
    const QString image = folder.filePath(QStringLiteral("disk.img"));
    const QString mountPoint = folder.filePath(QStringLiteral("disk"));
    const QStringList how{QStringLiteral("-o"), QStringLiteral("loop"), image};
    QFile disk(image);
    const bool made =
        disk.open(QIODevice::WriteOnly) && disk.resize(qint64{64} * 1024 * 1024) &&
        command(QStringLiteral("mkfs.ext4"), {QStringLiteral("-q"), QStringLiteral("-F"), image}) &&
        command(QStringLiteral("mkdir"), {mountPoint});
    disk.close();
    if (::geteuid() != 0 || !made || !Mount(mountPoint, how).isMounted()) {
        std::printf("power cuts: NOT TRIED: an ext4 on a loop device can only be mounted by root, "
                    "where the machine has loop devices\n");
        return 0;
    }
    int broken = 0;
    int cut = 0;
    qsizetype promises = 0;
    int drafts = 0;
    const QString path = mountPoint + QStringLiteral("/town.keyround");
    QStringList arguments{path};
    if (unsafe) {
        arguments << QStringLiteral("--unsafe");
    }
    for (int run = 0; run < count;) {
        Ledger ledger;
        for (int on = 0; on < runsOnOneFile && run < count; ++on, ++run) {
            {
                Mount mount(mountPoint, how);
                if (on == 0 && !(command(QStringLiteral("find"),
                                         {mountPoint, QStringLiteral("-mindepth"),
                                          QStringLiteral("1"), QStringLiteral("-delete")}) &&
                                 makeDayProject(path))) {
                    return count;
                }
                if (!dayUntil(ledger, arguments,
                              [&](QProcess &) { return cutPower(mountPoint); })) {
                    std::printf("power cuts: NOT TRIED: this kernel's ext4 cannot be shut down\n");
                    return broken;
                }
                ++cut;
                if (!mount.unmount()) {
                    return count;
                }
            }
            const Mount again(mountPoint, how);
            const int lost =
                brokenPromises(ledger, path, QStringLiteral("power cut %1").arg(run + 1));
            broken += lost;
            if (lost > 0) {
                ++run;
                break; // the next runs on a fresh file: one loss is counted once
            }
        }
        promises += ledger.promises();
        drafts += ledger.drafts();
    }
    std::printf("power cuts%s: %d cuts, %lld promises and %d half-typed stops checked, %d runs "
                "broke one\n",
                unsafe ? " with synchronous=OFF" : "", cut, static_cast<long long>(promises),
                drafts, broken);
    return broken;
}

} // namespace keyround
