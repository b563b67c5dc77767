// SPDX-License-Identifier: GPL-3.0-or-later
// The faults that are done to a recording program and to its file. Each run prints its counts and
// tells how many promises were broken; what the machine does not allow is said, with the reason.
#pragma once

#include "tests/faults/ledger.h"

#include <QProcess>
#include <QString>

namespace keyround {

struct FaultRuns
{
    int kills = 0;
    int cuts = 0;
    int fullDisks = 0;
    int ioErrors = 0;
    int flips = 0;
    bool unsafe = false; ///< power cuts with synchronous=OFF: this must break promises
};

/// Each gives the number of runs that broke a promise.
[[nodiscard]] int runKills(int count);
[[nodiscard]] int runPowerCuts(int count, bool unsafe);
[[nodiscard]] int runFullDisks(int count);
[[nodiscard]] int runIoErrors(int count);
[[nodiscard]] int runFlips(int count);

/// Starts this very program as the recording one; `before` are words of a command to run it under.
void startDay(QProcess &child, const QStringList &arguments, const QStringList &before = {});

/// Runs a day to its end; false when it crashed or hung.
[[nodiscard]] bool runWholeDay(Ledger &ledger, const QStringList &arguments,
                               const QStringList &before = {});

/// Says what is missing; 1 when something is.
[[nodiscard]] int brokenPromises(const Ledger &ledger, const QString &path, const QString &when);

/// Runs a command and waits; true when it went well.
[[nodiscard]] bool command(const QString &program, const QStringList &arguments);

/// Mounts on construction and unmounts at the end.
class Mount
{
public:
    Mount(QString folder, const QStringList &arguments);
    ~Mount();
    Mount(const Mount &) = delete;
    Mount &operator=(const Mount &) = delete;
    [[nodiscard]] bool isMounted() const { return m_mounted; }
    [[nodiscard]] bool unmount();

private:
    QString m_folder;
    bool m_mounted = false;
};

} // namespace keyround
