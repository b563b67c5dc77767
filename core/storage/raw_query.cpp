// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/raw_query.h"

#include "core/storage/statement.h"

#include <QSqlDatabase>
#include <QSqlDriver>

#include <sqlite3.h>

#include <utility>

namespace keyround {

namespace {

/// Null where the driver has none to give.
sqlite3 *handleOf(const QString &connection)
{
    const QVariant handle = QSqlDatabase::database(connection, false).driver()->handle();
    const bool isSqlite = handle.isValid() && qstrcmp(handle.metaType().name(), "sqlite3*") == 0;
    return isSqlite ? *static_cast<sqlite3 *const *>(handle.constData()) : nullptr;
}

Error errorOf(sqlite3 *database)
{
    return storageError(QSqlError(QString(), QString::fromUtf8(sqlite3_errmsg(database)),
                                  QSqlError::StatementError,
                                  QString::number(sqlite3_extended_errcode(database))));
}

} // namespace

bool RawQuery::isPossible(const QString &connection)
{
    if (handleOf(connection) == nullptr) {
        return false;
    }
    // A driver with a SQLite of its own built in would hand out what our library cannot read.
    const auto drivers = readText(connection, QStringLiteral("SELECT sqlite_source_id()"));
    return drivers && *drivers == QString::fromLatin1(sqlite3_sourceid());
}

Result<RawQuery> RawQuery::prepare(const QString &connection, const char *sql)
{
    sqlite3 *database = handleOf(connection);
    sqlite3_stmt *statement = nullptr;
    if (sqlite3_prepare_v2(database, sql, -1, &statement, nullptr) != SQLITE_OK) {
        return tl::unexpected(errorOf(database));
    }
    return RawQuery(database, statement);
}

RawQuery::RawQuery(sqlite3 *database, sqlite3_stmt *statement)
    : m_database(database), m_statement(statement)
{
}

Result<bool> RawQuery::next()
{
    const int said = sqlite3_step(m_statement.get());
    if (said != SQLITE_ROW && said != SQLITE_DONE) {
        return tl::unexpected(errorOf(m_database));
    }
    return said == SQLITE_ROW;
}

QByteArrayView RawQuery::bytes(int column) const
{
    // The order is SQLite's: the bytes are counted of what was last made of the value.
    const unsigned char *text = sqlite3_column_text(m_statement.get(), column);
    return {text, sqlite3_column_bytes(m_statement.get(), column)};
}

qint64 RawQuery::bigint(int column, qint64 otherwise) const
{
    return sqlite3_column_type(m_statement.get(), column) == SQLITE_INTEGER
               ? sqlite3_column_int64(m_statement.get(), column)
               : otherwise;
}

void RawQuery::Finalize::operator()(sqlite3_stmt *statement) const
{
    sqlite3_finalize(statement);
}

} // namespace keyround
