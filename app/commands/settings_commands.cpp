// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/settings_commands.h"

#include <utility>

namespace keyround {

ChangeSettings::ChangeSettings(Session &session, ProjectSettings after, const QString &text)
    : Command(session, text), m_before(session.settings()), m_after(std::move(after))
{
}

Status ChangeSettings::apply()
{
    return session().project().settings().save(m_after);
}

Status ChangeSettings::revert()
{
    return session().project().settings().save(m_before);
}

void ChangeSettings::announce()
{
    Q_EMIT session().notifier().settingsChanged();
}

} // namespace keyround
