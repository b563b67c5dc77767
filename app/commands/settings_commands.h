// SPDX-License-Identifier: GPL-3.0-or-later
// Changes to what the project has been told: policy, yard, shift, times, tolerance. Undoable.
#pragma once

#include "app/commands/command.h"
#include "core/storage/settings_store.h"

namespace keyround {

class ChangeSettings final : public Command
{
public:
    /// The text names the change in the undo list: "Move rule 2 up".
    ChangeSettings(Session &session, ProjectSettings after, const QString &text);

protected:
    Status apply() override;
    Status revert() override;
    void announce() override;

private:
    ProjectSettings m_before;
    ProjectSettings m_after;
};

} // namespace keyround
