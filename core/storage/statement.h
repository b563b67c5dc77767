// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: one SQL statement, prepared once and run with values as often as needed, each
// step checked. Columns count from 0. Nothing outside core/storage includes this.
//
// Errors: every fault of the database comes back as an Error in plain words (storageError()). A
// statement's own success is what its calls return, never an error code: QSQLITE leaves the
// native code empty in places (a failed commit() for one), so a code is read only for the words.
#pragma once

#include "core/common/clock.h"
#include "core/common/result.h"
#include "core/geo/point.h"

#include <QSqlError>
#include <QSqlQuery>
#include <QVariant>

#include <optional>
#include <vector>

namespace keyround {

/// SQLite's extended result code of an error, or 0 where it has none.
[[nodiscard]] int nativeCode(const QSqlError &error);
/// What happened and what to do next, from what the database says.
[[nodiscard]] Error storageError(const QSqlError &error);

/// An empty QString would be bound as NULL when it is a null one; columns here are NOT NULL.
[[nodiscard]] inline QVariant bound(const QString &text)
{
    return text.isNull() ? QVariant(QStringLiteral("")) : QVariant(text);
}
[[nodiscard]] inline QVariant bound(int value)
{
    return {value};
}
[[nodiscard]] inline QVariant bound(bool value)
{
    return {value ? 1 : 0};
}
[[nodiscard]] inline QVariant bound(double value)
{
    return {value};
}
[[nodiscard]] inline QVariant bound(long value)
{
    return {static_cast<qlonglong>(value)};
}
[[nodiscard]] inline QVariant bound(long long value)
{
    return {value};
}
[[nodiscard]] inline QVariant bound(HybridTime stamp)
{
    return {static_cast<qint64>(stamp.value)};
}
template <typename T> [[nodiscard]] QVariant bound(const std::optional<T> &value)
{
    return value ? bound(*value) : QVariant(QMetaType::fromType<QString>());
}

class Statement
{
public:
    [[nodiscard]] static Result<Statement> prepare(const QString &connection, const QString &sql);

    /// Runs with these values in the place of the question marks, in order.
    template <typename... Values> [[nodiscard]] Status run(const Values &...values)
    {
        int position = 0;
        (m_query.bindValue(position++, bound(values)), ...);
        return exec();
    }

    /// Calls read() for each row of a statement that was run; read() returns a Status.
    template <typename Read> [[nodiscard]] Status each(Read read)
    {
        while (m_query.next()) {
            if (Status status = read(*this); !status) {
                m_query.finish();
                return status;
            }
        }
        return end();
    }

    /// The first row's first column as text; nothing when there is no row.
    [[nodiscard]] Result<std::optional<QString>> firstText();

    [[nodiscard]] QString text(int column) const { return m_query.value(column).toString(); }
    [[nodiscard]] QByteArray bytes(int column) const { return m_query.value(column).toByteArray(); }
    [[nodiscard]] int integer(int column) const { return m_query.value(column).toInt(); }
    [[nodiscard]] bool truth(int column) const { return integer(column) != 0; }
    [[nodiscard]] qint64 bigint(int column) const { return m_query.value(column).toLongLong(); }
    [[nodiscard]] double real(int column) const { return m_query.value(column).toDouble(); }
    [[nodiscard]] bool isNull(int column) const { return m_query.isNull(column); }
    [[nodiscard]] std::optional<int> optionalInteger(int column) const;
    [[nodiscard]] std::optional<double> optionalReal(int column) const;
    /// From two columns, latitude first; the not-known place when they are NULL.
    [[nodiscard]] GeoPoint place(int column) const;
    [[nodiscard]] HybridTime stamp(int column) const;
    /// From two columns: UTC milliseconds, offset.
    [[nodiscard]] Moment moment(int column) const;

    /// Rows added or changed by the last run.
    [[nodiscard]] int rowsTouched() const { return m_query.numRowsAffected(); }

private:
    explicit Statement(QSqlQuery query) : m_query(std::move(query)) {}
    [[nodiscard]] Status exec();
    [[nodiscard]] Status end();

    QSqlQuery m_query;
};

/// Prepares and runs once, for statements without rows to read.
template <typename... Values>
[[nodiscard]] Status runOnce(const QString &connection, const QString &sql, const Values &...values)
{
    return Statement::prepare(connection, sql).and_then([&](Statement statement) {
        return statement.run(values...);
    });
}

/// Prepares, runs and reads each row.
template <typename Read, typename... Values>
[[nodiscard]] Status readRows(const QString &connection, const QString &sql, Read read,
                              const Values &...values)
{
    Result<Statement> statement = Statement::prepare(connection, sql);
    if (!statement) {
        return tl::unexpected(statement.error());
    }
    if (Status status = statement->run(values...); !status) {
        return status;
    }
    return statement->each(std::move(read));
}

/// Prepares, runs and gives all rows; fill() puts one row into an empty Row and returns a Status.
template <typename Row, typename Fill, typename... Values>
[[nodiscard]] Result<std::vector<Row>> readAll(const QString &connection, const QString &sql,
                                               Fill fill, const Values &...values)
{
    std::vector<Row> rows;
    const Status status = readRows(
        connection, sql,
        [&](const Statement &row) -> Status { return fill(row, rows.emplace_back()); }, values...);
    return status.map([&rows] { return std::move(rows); });
}

/// The first row's first column as text; nothing when there is no row.
template <typename... Values>
[[nodiscard]] Result<std::optional<QString>> readText(const QString &connection, const QString &sql,
                                                      const Values &...values)
{
    Result<Statement> statement = Statement::prepare(connection, sql);
    if (!statement) {
        return tl::unexpected(statement.error());
    }
    if (Status status = statement->run(values...); !status) {
        return tl::unexpected(status.error());
    }
    return statement->firstText();
}

/// The columns of a place: both empty where it is not known.
[[nodiscard]] std::optional<double> latitudeColumn(const GeoPoint &place);
[[nodiscard]] std::optional<double> longitudeColumn(const GeoPoint &place);
/// A place must be on the globe, or be the not-known place. `whose` begins the message.
[[nodiscard]] Status checkPlace(const GeoPoint &place, const QString &whose);
/// A number must be one: the database would store "not a number" as "not known".
[[nodiscard]] Status checkFinite(std::optional<double> value, const QString &whose);

} // namespace keyround
