// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/valve_commands.h"

#include "core/storage/valve_store.h"

namespace keyround {

ChangeValve::ChangeValve(Session &session, Valve before, Valve after, QString why)
    : Command(session, QObject::tr("Change valve %1").arg(before.number)),
      m_before(std::move(before)), m_after(std::move(after)),
      m_fields(differingFields(m_before, m_after)), m_why(std::move(why))
{
}

Status ChangeValve::write(const Valve &values, const QString &why)
{
    const Valve *present = session().valve(m_after.id);
    if (present == nullptr) {
        return fail(ErrorCode::NotFound,
                    QObject::tr("Valve %1 is no longer in this project.").arg(m_after.number));
    }
    Valve fresh = *present;
    for (const ValveField field : m_fields) {
        copyValveField(fresh, values, field);
    }
    return session().project().valves().update(fresh, session().author(), session().now(), why);
}

Status ChangeValve::apply()
{
    return write(m_after, m_why);
}

Status ChangeValve::revert()
{
    return write(m_before, QStringLiteral("undo: ") + m_why);
}

void ChangeValve::announce()
{
    Q_EMIT session().notifier().valvesChanged();
}

AddValve::AddValve(Session &session, Valve valve)
    : Command(session, QObject::tr("Add valve %1").arg(valve.number)), m_valve(std::move(valve))
{
}

Status AddValve::apply()
{
    ValveStore &store = session().project().valves();
    m_valve.retired = false;
    Status status =
        m_stored
            ? store.update(m_valve, session().author(), session().now(), QStringLiteral("redo"))
            : store.add(m_valve, session().author(), session().now(), QStringLiteral("added"));
    m_stored = m_stored || status.has_value();
    return status;
}

Status AddValve::revert()
{
    m_valve.retired = true;
    return session().project().valves().update(m_valve, session().author(), session().now(),
                                               QStringLiteral("undo"));
}

void AddValve::announce()
{
    Q_EMIT session().notifier().valvesChanged();
}

} // namespace keyround
