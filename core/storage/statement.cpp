// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/statement.h"

#include <QSqlDatabase>

#include <cmath>

namespace keyround {

namespace {

// SQLite's primary result codes (sqlite.org/rescode.html); an extended code has one in its low
// byte.
enum SqliteCode {
    Busy = 5,
    Locked = 6,
    ReadOnly = 8,
    IoFault = 10,
    Corrupt = 11,
    Full = 13,
    CannotOpen = 14,
    Constraint = 19,
    NotADatabase = 26,
};

} // namespace

int nativeCode(const QSqlError &error)
{
    return error.nativeErrorCode().toInt();
}

Error storageError(const QSqlError &error)
{
    const QString said = error.databaseText().isEmpty() ? error.driverText() : error.databaseText();
    const auto with = [&said](ErrorCode code, const QString &words) {
        return Error{code, words.arg(said)};
    };
    switch (nativeCode(error) & 0xff) {
    case Busy:
    case Locked:
        return with(ErrorCode::Refused,
                    QStringLiteral("The project file is in use by another program (%1). Close it "
                                   "there, then try again."));
    case ReadOnly:
        return with(ErrorCode::Refused,
                    QStringLiteral("The project file cannot be written (%1). Make the file and "
                                   "its folder writable, or copy the project to another place."));
    case IoFault:
        return with(ErrorCode::StorageFault,
                    QStringLiteral("The disk failed while the project file was in use (%1). The "
                                   "change was not stored. Check the disk, then do it again."));
    case Corrupt:
    case NotADatabase:
        return with(ErrorCode::Damaged,
                    QStringLiteral("The project file is damaged (%1). Open the newest copy from "
                                   "its back-up folder, and keep the damaged file."));
    case Full:
        return with(ErrorCode::StorageFault,
                    QStringLiteral("The disk is full (%1). The change was not stored. Make room, "
                                   "then do it again."));
    case CannotOpen:
        return with(ErrorCode::StorageFault,
                    QStringLiteral("The project file or its journal could not be opened (%1). "
                                   "Check that the folder is there and writable."));
    case Constraint:
        return with(ErrorCode::BadInput,
                    QStringLiteral("The project file does not take this row (%1). Nothing of the "
                                   "change was stored."));
    default:
        return with(ErrorCode::StorageFault,
                    QStringLiteral("The project file could not be read or written (%1). The "
                                   "change was not stored. Try again; if it stays, open the "
                                   "newest back-up."));
    }
}

Result<Statement> Statement::prepare(const QString &connection, const QString &sql)
{
    QSqlQuery query(QSqlDatabase::database(connection, false));
    query.setForwardOnly(true);
    if (!query.prepare(sql)) {
        return tl::unexpected(storageError(query.lastError()));
    }
    return Statement(std::move(query));
}

Status Statement::exec()
{
    if (!m_query.exec()) {
        return tl::unexpected(storageError(m_query.lastError()));
    }
    return {};
}

Status Statement::end()
{
    // next() says "no more rows" and "failed" alike; only the error tells them apart.
    const QSqlError error = m_query.lastError();
    m_query.finish();
    if (error.isValid()) {
        return tl::unexpected(storageError(error));
    }
    return {};
}

Result<std::optional<QString>> Statement::firstText()
{
    if (m_query.next()) {
        QString found = text(0);
        m_query.finish();
        return std::optional<QString>(std::move(found));
    }
    if (Status status = end(); !status) {
        return tl::unexpected(status.error());
    }
    return std::optional<QString>();
}

std::optional<int> Statement::optionalInteger(int column) const
{
    return isNull(column) ? std::nullopt : std::optional<int>(integer(column));
}

std::optional<double> Statement::optionalReal(int column) const
{
    return isNull(column) ? std::nullopt : std::optional<double>(real(column));
}

GeoPoint Statement::place(int column) const
{
    if (isNull(column) || isNull(column + 1)) {
        return {};
    }
    return GeoPoint{real(column), real(column + 1)};
}

HybridTime Statement::stamp(int column) const
{
    return HybridTime{static_cast<std::uint64_t>(bigint(column))};
}

Moment Statement::moment(int column) const
{
    return Moment{bigint(column), integer(column + 1)};
}

std::optional<double> latitudeColumn(const GeoPoint &place)
{
    return place == GeoPoint{} ? std::nullopt : std::optional<double>(place.latitude);
}

std::optional<double> longitudeColumn(const GeoPoint &place)
{
    return place == GeoPoint{} ? std::nullopt : std::optional<double>(place.longitude);
}

Status checkPlace(const GeoPoint &place, const QString &whose)
{
    if (place == GeoPoint{} || place.isValid()) {
        return {};
    }
    return fail(ErrorCode::BadInput,
                QStringLiteral("%1 has a position that is not on the globe (%2, %3). Check the "
                               "coordinate system of its file.")
                    .arg(whose)
                    .arg(place.latitude)
                    .arg(place.longitude));
}

Status checkFinite(std::optional<double> value, const QString &whose)
{
    if (!value || std::isfinite(*value)) {
        return {};
    }
    return fail(ErrorCode::BadInput, QStringLiteral("%1 is not a number. Leave it empty or give "
                                                    "a value.")
                                         .arg(whose));
}

} // namespace keyround
