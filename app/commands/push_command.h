// SPDX-License-Identifier: GPL-3.0-or-later
// Pushing a command from a place that shows the refusal beside what was typed.
#pragma once

#include "app/commands/command.h"

namespace keyround {

/// Pushes the command; the stack owns it. The error is what the command said when it failed (the
/// message line says it too).
[[nodiscard]] inline Status pushCommand(Session &session, std::unique_ptr<Command> command)
{
    QString refusal;
    const auto listening = QObject::connect(&session.notifier(), &Notifier::failed,
                                            [&](const QString &text) { refusal = text; });
    session.undoStack().push(command.release());
    QObject::disconnect(listening);
    if (!refusal.isEmpty()) {
        return fail(ErrorCode::Refused, refusal);
    }
    return {};
}

} // namespace keyround
