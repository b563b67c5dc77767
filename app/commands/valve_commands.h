// SPDX-License-Identifier: GPL-3.0-or-later
// Changes to the inventory, each undoable and written to the edit record with who and when.
#pragma once

#include "app/commands/command.h"
#include "core/inventory/valve_fields.h"

namespace keyround {

/// Gives fields of a valve new values: those in which `before` and `after` differ, and no others,
/// so that undoing an edit leaves alone what an import has changed since. The edit record says
/// `why`; undo is an edit of its own, because nothing recorded is taken back.
class ChangeValve final : public Command
{
public:
    ChangeValve(Session &session, Valve before, Valve after, QString why);

protected:
    Status apply() override;
    Status revert() override;
    void announce() override;

private:
    [[nodiscard]] Status write(const Valve &values, const QString &why);

    Valve m_before;
    Valve m_after;
    QList<ValveField> m_fields;
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
