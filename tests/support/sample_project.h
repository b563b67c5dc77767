// SPDX-License-Identifier: GPL-3.0-or-later
// The project of the invented town, made by the very script that makes it for a user.
#pragma once

#include <QProcess>
#include <QString>

namespace keyround {

/// Ends the program with the script's words when it fails. Takes some seconds.
inline void makeSampleProject(const QString &path)
{
    QProcess script;
    script.start(QStringLiteral(KEYROUND_SOURCE_DIR "/packaging/make-sample-project"),
                 {QStringLiteral(KEYROUND_BUILD_DIR "/app/keyround-batch"), path});
    constexpr int mostMilliseconds = 240000;
    if (!script.waitForFinished(mostMilliseconds) || script.exitCode() != 0) {
        qFatal("the sample project was not made: %s", script.readAllStandardError().constData());
    }
}

} // namespace keyround
