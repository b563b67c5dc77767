// SPDX-License-Identifier: GPL-3.0-or-later
// The disk is full; the disk fails now and then.
#include "tests/faults/faults.h"
#include "tests/faults/scripted_day.h"

#include <QRandomGenerator>
#include <QStandardPaths>
#include <QTemporaryDir>

#include <cstdio>

#include <unistd.h>

namespace keyround {

namespace {

/// 1, and said, when nothing was ever refused: then no run has tried anything.
int withoutAnyFault(int refusals)
{
    if (refusals > 0) {
        return 0;
    }
    std::printf("  BROKEN: no fault was felt: the simulation does not bite here\n");
    return 1;
}

} // namespace

int runFullDisks(int count)
{
    int broken = 0;
    int refusals = 0;
    qsizetype promises = 0;
    for (int run = 0; run < count; ++run) {
        const QTemporaryDir folder;
        const int kilobytes = 600 + static_cast<int>(QRandomGenerator::global()->bounded(900));
        const Mount small(folder.path(),
                          {QStringLiteral("-t"), QStringLiteral("tmpfs"), QStringLiteral("-o"),
                           QStringLiteral("size=%1k").arg(kilobytes), QStringLiteral("tmpfs")});
        if (::geteuid() != 0 || !small.isMounted()) {
            std::printf("full disks: NOT TRIED: a small tmpfs can only be mounted by root\n");
            return broken;
        }
        const QString path = folder.path() + QStringLiteral("/town.keyround");
        Ledger ledger;
        const QStringList day{path, QStringLiteral("--give-up"), QStringLiteral("6")};
        if (!makeDayProject(path) || !runWholeDay(ledger, day)) {
            std::printf("  BROKEN: the program stopped on a full disk\n");
            ++broken;
            continue;
        }
        const QString when = QStringLiteral("%1 kB disk").arg(kilobytes);
        int lost = brokenPromises(ledger, path, when);
        refusals += ledger.refusals();
        // With room again the same file goes on.
        const bool larger =
            command(QStringLiteral("mount"),
                    {QStringLiteral("-o"), QStringLiteral("remount,size=16m"), folder.path()});
        const int before = ledger.refusals();
        if (!larger ||
            !runWholeDay(ledger, {path, QStringLiteral("--stops"), QStringLiteral("10")}) ||
            ledger.refusals() > before) {
            std::printf("  BROKEN (%s): did not go on when there was room\n", qPrintable(when));
            lost = 1;
        }
        lost += brokenPromises(ledger, path, when + QStringLiteral(", then room"));
        broken += lost > 0 ? 1 : 0;
        promises += ledger.promises();
    }
    broken += withoutAnyFault(refusals);
    std::printf("full disks: %d runs, %d refusals, %lld promises checked, %d runs broke one\n",
                count, refusals, static_cast<long long>(promises), broken);
    return broken;
}

int runIoErrors(int count)
{
    if (QStandardPaths::findExecutable(QStringLiteral("fiu-run")).isEmpty()) {
        std::printf("I/O errors: NOT TRIED: fiu-run is not installed (Debian package fiu-utils)\n");
        return 0;
    }
    // The calls that SQLite and the photo store make. SQLite flushes with fdatasync; fsync is the
    // folder's and the photos'.
    const QStringList points{
        QStringLiteral("posix/io/rw/pwrite"), QStringLiteral("posix/io/rw/pread"),
        QStringLiteral("posix/io/sync/fdatasync"), QStringLiteral("posix/io/sync/fsync"),
        QStringLiteral("posix/io/rw/write")};
    int broken = 0;
    int refusals = 0;
    int untouched = 0;
    qsizetype promises = 0;
    for (int run = 0; run < count; ++run) {
        const QTemporaryDir folder;
        const QString path = folder.filePath(QStringLiteral("town.keyround"));
        if (!makeDayProject(path)) {
            return count;
        }
        const QString point = points.at(run % points.size());
        // standard output is written with write(2) as well: a lost line there is no promise
        const QStringList before{
            QStringLiteral("fiu-run"), QStringLiteral("-x"), QStringLiteral("-c"),
            QStringLiteral("enable_random name=%1,probability=0.02").arg(point)};
        Ledger ledger;
        const bool ended =
            runWholeDay(ledger, {path, QStringLiteral("--stops"), QStringLiteral("40")}, before);
        if (!ended) {
            std::printf("  BROKEN: the program crashed on faults of %s\n", qPrintable(point));
            ++broken;
            continue;
        }
        broken += brokenPromises(ledger, path, QStringLiteral("faults of %1").arg(point));
        refusals += ledger.refusals();
        untouched += ledger.refusals() == 0 ? 1 : 0;
        promises += ledger.promises();
    }
    broken += withoutAnyFault(refusals);
    std::printf("I/O errors: %d runs (%d without a refusal), %d refusals, %lld promises checked, "
                "%d runs broke one\n",
                count, untouched, refusals, static_cast<long long>(promises), broken);
    return broken;
}

} // namespace keyround
