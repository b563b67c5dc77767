// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/half_typed_store.h"

#include "core/storage/project.h"
#include "core/storage/statement.h"

#include <QCryptographicHash>
#include <QJsonDocument>

#include <utility>

namespace keyround {

namespace {

// U+001F parts the fields: in JSON it is escaped, and no name of ours has one.
QString hashOf(const QString &name, const QString &content, const Moment &savedAt)
{
    const QString all = QStringList{name, content, QString::number(savedAt.utcMilliseconds),
                                    QString::number(savedAt.offsetSeconds)}
                            .join(QChar(0x1F));
    return QString::fromLatin1(
        QCryptographicHash::hash(all.toUtf8(), QCryptographicHash::Sha256).toHex());
}

Status readHalfTyped(const Statement &row, HalfTyped &read)
{
    read.name = row.text(0);
    if (!halfTypedMatchesHash(row)) {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("What was half-typed (%1) does not match its hash: it was "
                                   "damaged on the disk and is not used. What was recorded is not "
                                   "touched by it.")
                        .arg(read.name));
    }
    read.content = QJsonDocument::fromJson(row.text(1).toUtf8()).object();
    read.savedAt = row.moment(2);
    return {};
}

} // namespace

QString halfTypedColumns()
{
    return QStringLiteral("name, content, saved_utc_ms, saved_offset_s, hash");
}

bool halfTypedMatchesHash(const Statement &row)
{
    return row.text(4) == hashOf(row.text(0), row.text(1), row.moment(2));
}

HalfTypedStore::HalfTypedStore(Project &project, QString connection)
    : m_project(project), m_connection(std::move(connection))
{
}

Status HalfTypedStore::save(const HalfTyped &typed)
{
    const QString content =
        QString::fromUtf8(QJsonDocument(typed.content).toJson(QJsonDocument::Compact));
    return m_project.transaction([&] {
        return runOnce(m_connection,
                       QStringLiteral("INSERT INTO half_typed (name, content, saved_utc_ms, "
                                      "saved_offset_s, hash) VALUES (?, ?, ?, ?, ?) "
                                      "ON CONFLICT (name) DO UPDATE SET "
                                      "content = excluded.content, "
                                      "saved_utc_ms = excluded.saved_utc_ms, "
                                      "saved_offset_s = excluded.saved_offset_s, "
                                      "hash = excluded.hash"),
                       typed.name, content, typed.savedAt.utcMilliseconds,
                       typed.savedAt.offsetSeconds, hashOf(typed.name, content, typed.savedAt));
    });
}

Result<std::optional<HalfTyped>> HalfTypedStore::load(const QString &name) const
{
    return readAll<HalfTyped>(
               m_connection,
               QStringLiteral("SELECT %1 FROM half_typed WHERE name = ?").arg(halfTypedColumns()),
               readHalfTyped, name)
        .map([](std::vector<HalfTyped> rows) {
            return rows.empty() ? std::nullopt : std::optional(std::move(rows.front()));
        });
}

Result<std::vector<HalfTyped>> HalfTypedStore::all() const
{
    return readAll<HalfTyped>(
        m_connection,
        QStringLiteral("SELECT %1 FROM half_typed ORDER BY name").arg(halfTypedColumns()),
        readHalfTyped);
}

Status HalfTypedStore::drop(const QString &name)
{
    return m_project.transaction([&] {
        return runOnce(m_connection, QStringLiteral("DELETE FROM half_typed WHERE name = ?"), name);
    });
}

Result<QStringList> HalfTypedStore::names() const
{
    return readAll<QString>(m_connection,
                            QStringLiteral("SELECT name FROM half_typed ORDER BY saved_utc_ms "
                                           "DESC, name"),
                            [](const Statement &row, QString &name) -> Status {
                                name = row.text(0);
                                return {};
                            })
        .map(
            [](const std::vector<QString> &rows) { return QStringList(rows.begin(), rows.end()); });
}

} // namespace keyround
