// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/faults/faults.h"

#include <QCoreApplication>
#include <QThread>

#include <cstdio>

namespace keyround {

void startDay(QProcess &child, const QStringList &arguments, const QStringList &before)
{
    QStringList words = before;
    words << QCoreApplication::applicationFilePath() << QStringLiteral("--day") << arguments;
    const QString program = words.takeFirst();
    child.setProcessChannelMode(QProcess::ForwardedErrorChannel);
    child.start(program, words);
}

bool runWholeDay(Ledger &ledger, const QStringList &arguments, const QStringList &before)
{
    constexpr int dayMilliseconds = 60000;
    QProcess child;
    startDay(child, arguments, before);
    const bool ended = child.waitForFinished(dayMilliseconds);
    if (!ended) {
        child.kill();
        child.waitForFinished();
    }
    ledger.take(child.readAllStandardOutput());
    return ended && child.exitStatus() == QProcess::NormalExit;
}

int brokenPromises(const Ledger &ledger, const QString &path, const QString &when)
{
    const QStringList missing = ledger.missingIn(path);
    constexpr qsizetype shown = 3;
    for (const QString &what : missing.mid(0, shown)) {
        std::printf("  BROKEN (%s): %s\n", qPrintable(when), qPrintable(what));
    }
    if (missing.size() > shown) {
        std::printf("  ... and %lld more\n", static_cast<long long>(missing.size() - shown));
    }
    return missing.isEmpty() ? 0 : 1;
}

bool command(const QString &program, const QStringList &arguments)
{
    QProcess process;
    process.setStandardErrorFile(QProcess::nullDevice());
    process.setStandardOutputFile(QProcess::nullDevice());
    process.start(program, arguments);
    return process.waitForFinished(60000) && process.exitStatus() == QProcess::NormalExit &&
           process.exitCode() == 0;
}

Mount::Mount(QString folder, const QStringList &arguments)
    : m_folder(std::move(folder)),
      m_mounted(command(QStringLiteral("mount"), arguments + QStringList{m_folder}))
{
}

Mount::~Mount()
{
    (void)unmount();
}

bool Mount::unmount()
{
    constexpr int tries = 20;
    for (int attempt = 0; m_mounted && attempt < tries; ++attempt) {
        m_mounted = !command(QStringLiteral("umount"), {m_folder});
        if (m_mounted) {
            QThread::msleep(100); // a process that was killed is still letting go
        }
    }
    return !m_mounted;
}

} // namespace keyround
