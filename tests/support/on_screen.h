// SPDX-License-Identifier: GPL-3.0-or-later
// What tests of the screens share: where their pictures go, and typing as a person types.
#pragma once

#include <QDir>
#include <QLineEdit>
#include <QTest>

namespace keyround {

/// The file for a picture that people look at, in the build folder's screens/.
[[nodiscard]] inline QString screenFile(const QString &name)
{
    const QDir folder(QStringLiteral(KEYROUND_BUILD_DIR "/screens"));
    folder.mkpath(QStringLiteral("."));
    return folder.filePath(name);
}

/// Puts the text in the place of what the line holds, and presses Return.
inline void typeInto(QLineEdit *line, const QString &text)
{
    QTest::mouseClick(line, Qt::LeftButton);
    line->selectAll();
    QTest::keyClick(line, Qt::Key_Delete);
    QTest::keyClicks(line, text);
    QTest::keyClick(line, Qt::Key_Return);
}

} // namespace keyround
