// SPDX-License-Identifier: GPL-3.0-or-later
// keyround-batch as a script runs it: what it said, where, and its exit code.
#pragma once

#include <QJsonDocument>
#include <QJsonObject>
#include <QProcess>
#include <QStringList>

namespace keyround::tests {

struct BatchRun
{
    int exitCode = -1; ///< -1: it crashed, or did not end in two minutes
    QString out;
    QString err;
    [[nodiscard]] QJsonObject json() const
    {
        return QJsonDocument::fromJson(out.toUtf8()).object();
    }
};

inline BatchRun runBatch(const QStringList &arguments)
{
    constexpr int mostMilliseconds = 120000;
    QProcess process;
    process.start(QStringLiteral(KEYROUND_BUILD_DIR "/app/keyround-batch"), arguments);
    process.waitForFinished(mostMilliseconds);
    return {process.exitStatus() == QProcess::NormalExit ? process.exitCode() : -1,
            QString::fromUtf8(process.readAllStandardOutput()),
            QString::fromUtf8(process.readAllStandardError())};
}

} // namespace keyround::tests
