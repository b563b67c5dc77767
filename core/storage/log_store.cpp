// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/log_store.h"

#include "core/storage/codes.h"
#include "core/storage/project.h"
#include "core/storage/statement.h"

#include <QCryptographicHash>
#include <QJsonDocument>

namespace keyround {

namespace {

QString bodyText(const LogRow &row)
{
    return QString::fromUtf8(QJsonDocument(row.body).toJson(QJsonDocument::Compact));
}

// Over the columns too, so that no part of a row can change unseen. U+001F parts them.
QString hashOf(const QString &id, const QString &kind, const QString &subject, HybridTime stamp,
               const QString &body)
{
    const QString all =
        QStringList{id, kind, subject, QString::number(stamp.value), body}.join(QChar(0x1F));
    return QString::fromLatin1(
        QCryptographicHash::hash(all.toUtf8(), QCryptographicHash::Sha256).toHex());
}

const QString columns = QStringLiteral("id, kind, subject, stamp, body, hash");

QString damagedWords(const Statement &row)
{
    return QStringLiteral("Row %1 of the log (%2) does not match its hash: it was damaged on the "
                          "disk. Keep this file, and open the newest back-up.")
        .arg(row.text(0), row.text(1));
}

Status readRow(const Statement &row, LogRow &read)
{
    if (!logRowMatchesHash(row)) {
        return fail(ErrorCode::Damaged, damagedWords(row));
    }
    read = {QUuid::fromString(row.text(0)), row.text(1), row.text(2), row.stamp(3),
            QJsonDocument::fromJson(row.text(4).toUtf8()).object()};
    return {};
}

} // namespace

QString logColumns()
{
    return columns;
}

bool logRowMatchesHash(const Statement &row)
{
    return hashOf(row.text(0), row.text(1), row.text(2), row.stamp(3), row.text(4)) == row.text(5);
}

Status addLogRow(Project &project, const QString &connection, const LogRow &row)
{
    if (row.id.isNull() || row.kind.isEmpty() || row.stamp.value == 0) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("A row of the log was not stored: it needs an id and a stamp."));
    }
    const QString id = idColumn(row.id);
    const QString body = bodyText(row);
    const QString hash = hashOf(id, row.kind, row.subject, row.stamp, body);
    return project.transaction([&]() -> Status {
        const auto present =
            readText(connection, QStringLiteral("SELECT hash FROM log_rows WHERE id = ?"), id);
        if (!present) {
            return tl::unexpected(present.error());
        }
        if (present->has_value() && **present != hash) {
            return fail(ErrorCode::Damaged,
                        QStringLiteral("The project has a row %1 of the log with other content "
                                       "already. Nothing was changed. Keep both files.")
                            .arg(id));
        }
        if (present->has_value()) {
            return {};
        }
        return runOnce(
            connection,
            QStringLiteral("INSERT INTO log_rows (%1) VALUES (?, ?, ?, ?, ?, ?)").arg(columns), id,
            row.kind, row.subject, row.stamp, body, hash);
    });
}

Result<std::vector<LogRow>> logRows(const QString &connection, const QString &kind)
{
    return readAll<LogRow>(
        connection,
        QStringLiteral("SELECT %1 FROM log_rows WHERE kind = ? ORDER BY stamp, id").arg(columns),
        readRow, kind);
}

Result<std::vector<LogRow>> logRowsAbout(const QString &connection, const QStringList &kinds,
                                         const QString &subject)
{
    auto rows = readAll<LogRow>(
        connection,
        QStringLiteral("SELECT %1 FROM log_rows WHERE subject = ? ORDER BY stamp, id").arg(columns),
        readRow, subject);
    return rows.map([&kinds](std::vector<LogRow> all) {
        std::erase_if(all, [&kinds](const LogRow &row) { return !kinds.contains(row.kind); });
        return all;
    });
}

Status findDamagedLogRows(const QString &connection, QStringList &faults)
{
    return readRows(connection, QStringLiteral("SELECT %1 FROM log_rows").arg(columns),
                    [&faults](const Statement &row) -> Status {
                        if (!logRowMatchesHash(row)) {
                            faults << damagedWords(row);
                        }
                        return {};
                    });
}

} // namespace keyround
