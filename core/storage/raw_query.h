// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: the rows of one SELECT as the bytes that the database holds, without a copy of
// each value into Qt's types. Only where a million rows are read whole does that pay (a third of
// the time); everything else is asked by Statement. SQLite only, and only where Qt's driver uses
// the very library that this program is linked with: isPossible() says so, and the caller has
// another road where it is not.
//
// On the thread that opened the connection, like every Statement.
#pragma once

#include "core/common/result.h"

#include <QByteArrayView>
#include <QString>

#include <memory>

struct sqlite3;
struct sqlite3_stmt;

namespace keyround {

class RawQuery
{
public:
    [[nodiscard]] static bool isPossible(const QString &connection);
    /// `sql` without values to bind. Where it is possible.
    [[nodiscard]] static Result<RawQuery> prepare(const QString &connection, const char *sql);

    /// Steps to the next row; false: there is none. A fault of the database is an Error in the
    /// words that Statement has for it.
    [[nodiscard]] Result<bool> next();
    /// Until next(). NULL is empty.
    [[nodiscard]] QByteArrayView bytes(int column) const;
    /// Columns that hold anything but a whole number give `otherwise`.
    [[nodiscard]] qint64 bigint(int column, qint64 otherwise) const;

private:
    struct Finalize
    {
        void operator()(sqlite3_stmt *statement) const;
    };
    RawQuery(sqlite3 *database, sqlite3_stmt *statement);

    sqlite3 *m_database;
    std::unique_ptr<sqlite3_stmt, Finalize> m_statement;
};

} // namespace keyround
