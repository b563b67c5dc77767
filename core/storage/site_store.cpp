// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/site_store.h"

#include "core/storage/project.h"
#include "core/storage/site_json.h"
#include "core/storage/statement.h"

#include <QJsonDocument>

namespace keyround {

namespace {

const QString streetKind = QStringLiteral("street");
const QString valveKind = QStringLiteral("valve");

QString textOf(const QJsonObject &json)
{
    return QString::fromUtf8(QJsonDocument(json).toJson(QJsonDocument::Compact));
}

Status takeRow(const Statement &row, KnownSites &sites)
{
    const QJsonDocument document = QJsonDocument::fromJson(row.text(2).toUtf8());
    if (!document.isObject()) {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("What is known of the street or valve \"%1\" cannot be read. "
                                   "The file is damaged: open the newest back-up.")
                        .arg(row.text(1)));
    }
    if (row.text(0) == streetKind) {
        return knownStreetFromJson(document.object()).map([&](KnownStreet &&street) {
            sites.streets.insert(row.text(1), std::move(street));
        });
    }
    return knownValveFromJson(document.object()).map([&](KnownValve &&valve) {
        sites.valves.insert(ValveId::fromText(row.text(1)), std::move(valve));
    });
}

} // namespace

SiteStore::SiteStore(Project &project, QString connection)
    : m_project(project), m_connection(std::move(connection))
{
}

Result<KnownSites> SiteStore::load() const
{
    KnownSites sites;
    const Status status =
        readRows(m_connection, QStringLiteral("SELECT kind, subject, content FROM known_sites"),
                 [&sites](const Statement &row) { return takeRow(row, sites); });
    return status.map([&sites] { return std::move(sites); });
}

Status SiteStore::put(const QString &streetKey, const KnownStreet &street)
{
    return putRow(streetKind, streetKey, textOf(toJson(street)), street.change,
                  street == KnownStreet{});
}

Status SiteStore::put(const ValveId &valve, const KnownValve &known)
{
    return putRow(valveKind, valve.text(), textOf(toJson(known)), known.change,
                  known == KnownValve{});
}

Status SiteStore::putRow(const QString &kind, const QString &subject, const QString &content,
                         const std::optional<SetUpOverride> &change, bool isEmpty)
{
    if (subject.isEmpty() || (change && change->by.trimmed().isEmpty())) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Say who changes the set-up: the name stands on the sheet."));
    }
    return m_project.transaction([&]() -> Status {
        if (isEmpty) {
            return runOnce(m_connection,
                           QStringLiteral("DELETE FROM known_sites WHERE kind = ? AND subject = ?"),
                           kind, subject);
        }
        return runOnce(m_connection,
                       QStringLiteral("INSERT INTO known_sites (kind, subject, content) "
                                      "VALUES (?, ?, ?) ON CONFLICT (kind, subject) DO UPDATE SET "
                                      "content = excluded.content"),
                       kind, subject, content);
    });
}

} // namespace keyround
