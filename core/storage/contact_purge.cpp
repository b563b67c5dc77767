// SPDX-License-Identifier: GPL-3.0-or-later
// Customers' names and phones by age, and forgetting them (declared in layer_store.h).
#include "core/storage/layer_store.h"
#include "core/storage/log_fields.h"
#include "core/storage/project.h"
#include "core/storage/statement.h"

#include <algorithm>

namespace keyround {

namespace {

const QString purgeKind = QStringLiteral("contacts_purged");
const QString hasContact = QStringLiteral("(customer <> '' OR phone <> '')");

LogRow rowOf(const ContactsPurged &purged)
{
    QJsonObject json{{QStringLiteral("before"), purged.before.toString(Qt::ISODate)},
                     {QStringLiteral("services"), purged.services}};
    putMoment(json, purged.at);
    putWho(json, purged);
    return {newUuid7(purged.at.utcMilliseconds), purgeKind, QString(), purged.stamp, json};
}

ContactsPurged purgedFrom(const LogRow &row)
{
    ContactsPurged purged;
    purged.at = momentIn(row.body);
    purged.before = dateIn(row.body, "before");
    purged.services = row.body.value(QLatin1String("services")).toInt();
    takeWho(row, purged);
    return purged;
}

} // namespace

Result<std::vector<ContactAge>> LayerStore::contactAges() const
{
    return readAll<ContactAge>(
        m_connection,
        QStringLiteral("SELECT contact_since, COUNT(*) FROM services WHERE %1 "
                       "GROUP BY contact_since ORDER BY contact_since")
            .arg(hasContact),
        [](const Statement &row, ContactAge &age) -> Status {
            age = {QDate::fromString(row.text(0), Qt::ISODate), row.integer(1)};
            return {};
        });
}

Status LayerStore::purgeContacts(const ContactsPurged &purged)
{
    if (!purged.before.isValid()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Nothing was deleted: say from before which day."));
    }
    // SQLite then writes zeros over what is deleted, instead of leaving it in free pages.
    // PostgreSQL has no such setting: its own vacuum does it.
    if (Status secured = runOnce(m_connection, QStringLiteral("PRAGMA secure_delete = ON"));
        !secured) {
        return secured;
    }
    return m_project.transaction([&]() -> Status {
        // ISO days sort as text; no day sorts before all of them.
        return runOnce(m_connection,
                       QStringLiteral("UPDATE services SET customer = '', phone = '', "
                                      "contact_since = '' WHERE %1 AND contact_since < ?")
                           .arg(hasContact),
                       purged.before.toString(Qt::ISODate))
            .and_then([&] { return addLogRow(m_project, m_connection, rowOf(purged)); });
    });
}

Result<std::vector<ContactsPurged>> LayerStore::contactPurges() const
{
    return logRows(m_connection, purgeKind).map([](const std::vector<LogRow> &rows) {
        std::vector<ContactsPurged> purges;
        std::ranges::transform(rows, std::back_inserter(purges), purgedFrom);
        return purges;
    });
}

} // namespace keyround
