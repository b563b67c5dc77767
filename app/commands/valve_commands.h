// SPDX-License-Identifier: GPL-3.0-or-later
// Changes to the inventory, each undoable and written to the edit record with who and when.
#pragma once

#include "app/commands/command.h"
#include "core/inventory/valve.h"

namespace keyround {

/// Gives a valve new values. The edit record says `why`; undo writes the old values again, as an
/// edit of its own, because nothing recorded is taken back.
class ChangeValve final : public Command
{
public:
    ChangeValve(Session &session, Valve before, Valve after, QString why);

protected:
    Status apply() override;
    Status revert() override;
    void announce() override;

private:
    Valve m_before;
    Valve m_after;
    QString m_why;
};

/// Adds a valve that is not in the inventory. Undo retires it: nothing is deleted.
class AddValve final : public Command
{
public:
    AddValve(Session &session, Valve valve);

protected:
    Status apply() override;
    Status revert() override;
    void announce() override;

private:
    Valve m_valve;
    bool m_stored = false;
};

} // namespace keyround
