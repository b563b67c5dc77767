// SPDX-License-Identifier: GPL-3.0-or-later
// Every change a user makes. A command stores and then tells the notifier; a command that fails
// says why, changes nothing and leaves the undo stack (setObsolete).
#pragma once

#include "app/shell/session.h"

#include <QUndoCommand>

namespace keyround {

class Command : public QUndoCommand
{
public:
    Command(Session &session, const QString &text) : QUndoCommand(text), m_session(session) {}

    void redo() final { run(apply()); }
    void undo() final { run(revert()); }

protected:
    /// Stores the change; called for the first time when the command is pushed.
    [[nodiscard]] virtual Status apply() = 0;
    [[nodiscard]] virtual Status revert() = 0;
    /// Tells the notifier what changed; called after each success.
    virtual void announce() = 0;

    [[nodiscard]] Session &session() const { return m_session; }

private:
    void run(const Status &status)
    {
        if (status) {
            announce();
            return;
        }
        setObsolete(true);
        Q_EMIT m_session.notifier().failed(status.error().message);
    }

    Session &m_session;
};

} // namespace keyround
