// SPDX-License-Identifier: GPL-3.0-or-later
// The one road to the system's file dialogs, with the last folder remembered per purpose, and a
// seam for tests: a test says which file will be "chosen" next.
#pragma once

#include "core/common/result.h"

#include <QString>

class QWidget;

namespace keyround {

/// Empty when the person cancelled.
[[nodiscard]] QString chooseFileToOpen(QWidget *parent, const QString &title,
                                       const QString &filter);
[[nodiscard]] QString chooseFileToSave(QWidget *parent, const QString &title,
                                       const QString &suggestedName, const QString &filter);

/// The next call of either function returns this path without a dialog.
void setNextFileForTest(const QString &path);

/// Says the outcome of an action in the message line of the widget's window.
void showOutcome(QWidget *widget, const Status &status, const QString &success);

} // namespace keyround
