// SPDX-License-Identifier: GPL-3.0-or-later
// Typing into the lines of a form that check what they hold.
#pragma once

#include "app/dialogs/checked_line.h"

#include <QLineEdit>
#include <QTest>

namespace keyround {

/// The line whose label begins so.
[[nodiscard]] inline CheckedLine *lineOf(const QWidget *form, const QString &name)
{
    for (auto *line : form->findChildren<CheckedLine *>()) {
        if (line->line()->accessibleName().startsWith(name)) {
            return line;
        }
    }
    qFatal("no line %s", qPrintable(name));
}

inline void type(CheckedLine *line, const QString &text)
{
    line->line()->setFocus();
    line->line()->selectAll();
    QTest::keyClicks(line->line(), text);
    QTest::keyClick(line->line(), Qt::Key_Return);
}

} // namespace keyround
