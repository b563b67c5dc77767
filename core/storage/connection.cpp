// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/connection.h"

#include "core/storage/durable_file.h"
#include "core/storage/file_check.h"
#include "core/storage/statement.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QSqlDatabase>
#include <QUrl>
#include <QUuid>

#include <array>

namespace keyround {

namespace {

constexpr qint64 quickCheckAbove = qint64{64} * 1024 * 1024;
// Long enough for a program that is just closing, short enough for a person who waits.
constexpr int busyMilliseconds = 400;

Error copyFailed(const QString &target, const QString &why)
{
    return Error{ErrorCode::StorageFault,
                 QStringLiteral("The copy %1 could not be written (%2). The project itself is "
                                "unchanged. Make room or choose another place, then try again.")
                     .arg(QDir::toNativeSeparators(target), why)};
}

/// "ok", or what is wrong. The visits of a big file are read whole right after this, each against
/// its hash, so their table is not walked twice: here their indexes must agree on how many there
/// are, and readStoredVisits() must find as many in the table.
Result<std::optional<QString>> checkAllButVisits(const QString &connection)
{
    QStringList tables;
    Status listed = readRows(connection,
                             QStringLiteral("SELECT name FROM sqlite_master WHERE type = 'table' "
                                            "AND name <> 'visits'"),
                             [&tables](const Statement &row) -> Status {
                                 tables << row.text(0);
                                 return {};
                             });
    if (!listed) {
        return tl::unexpected(listed.error());
    }
    const QString good = QStringLiteral("ok");
    for (const QString &table : tables) {
        auto said = readText(connection, QStringLiteral("PRAGMA quick_check('%1')").arg(table));
        if (!said || said->value_or(QString()) != good) {
            return said;
        }
    }
    std::optional<QString> visits;
    for (const char *index :
         {"sqlite_autoindex_visits_1", "visits_by_valve", "visits_by_round", "visits_by_stamp"}) {
        auto said = readText(
            connection,
            QStringLiteral("SELECT COUNT(*) FROM visits INDEXED BY %1").arg(QLatin1String(index)));
        if (!said) {
            return said;
        }
        if (visits && *said != visits) {
            return std::optional(QStringLiteral("the indexes of visits do not agree"));
        }
        visits = *said;
    }
    return std::optional(good);
}

} // namespace

QString freePath(const QString &folder, const QString &base, const QString &suffix)
{
    // Put together by hand: QDir takes a name that begins with a colon for a place of its own.
    const QString stem = folder + QLatin1Char('/') + base;
    QString path = stem + suffix;
    for (int number = 2; QFileInfo::exists(path); ++number) {
        path = QStringLiteral("%1-%2%3").arg(stem).arg(number).arg(suffix);
    }
    return path;
}

QString pathOfOldSchema(const QString &path, int schema)
{
    const QFileInfo file(path);
    return freePath(file.absolutePath(),
                    QStringLiteral("%1.schema-%2").arg(file.completeBaseName()).arg(schema),
                    QStringLiteral(".keyround"));
}

Connection::Connection(QString path)
    : m_path(std::move(path)),
      m_name(QStringLiteral("keyround-") + QUuid::createUuid().toString(QUuid::WithoutBraces))
{
}

Connection::~Connection()
{
    Q_ASSERT_X(m_depth == 0, "Connection", "closed within a transaction");
    QSqlDatabase::database(m_name, false).close();
    QSqlDatabase::removeDatabase(m_name);
}

Result<std::unique_ptr<Connection>> Connection::open(const QString &path,
                                                     const std::vector<Migration> &migrations)
{
    if (Result<int> version = checkProjectFile(path, migrations.back().version); !version) {
        return tl::unexpected(version.error());
    }
    std::unique_ptr<Connection> connection(new Connection(QFileInfo(path).absoluteFilePath()));
    const Status status = connection->openDatabase()
                              .and_then([&] { return connection->takeLock(); })
                              .and_then([&] { return connection->setModes(); })
                              .and_then([&] { return connection->checkIntegrity(); })
                              .and_then([&] { return connection->migrate(migrations); });
    if (!status) {
        return tl::unexpected(status.error());
    }
    return connection;
}

Result<std::unique_ptr<Connection>> Connection::create(const QString &path,
                                                       const std::vector<Migration> &migrations)
{
    if (Status place = checkNewFile(path); !place) {
        return tl::unexpected(place.error());
    }
    const QString absolute = QFileInfo(path).absoluteFilePath();
    QFile file(absolute);
    // NewOnly: should another program make the file at this very moment, theirs stays.
    if (!file.open(QIODevice::WriteOnly | QIODevice::NewOnly)) {
        return fail(ErrorCode::Refused,
                    QStringLiteral("%1 could not be made (%2). Choose another name or folder.")
                        .arg(QDir::toNativeSeparators(path), file.errorString()));
    }
    file.close();
    std::unique_ptr<Connection> connection(new Connection(absolute));
    const Status status =
        connection->openDatabase()
            .and_then([&] { return connection->takeLock(); })
            .and_then([&] { return connection->setModes(); })
            .and_then([&] {
                return connection->transaction([&] {
                    return runOnce(connection->m_name, QStringLiteral("PRAGMA application_id = %1")
                                                           .arg(projectApplicationId))
                        .and_then([&] { return runMigrations(connection->m_name, migrations, 0); });
                });
            });
    if (!status) {
        connection.reset();
        QFile::remove(absolute);
        QFile::remove(absolute + QStringLiteral("-journal"));
        return tl::unexpected(status.error());
    }
    return connection;
}

Status Connection::openDatabase()
{
    QSqlDatabase database = QSqlDatabase::addDatabase(QStringLiteral("QSQLITE"), m_name);
    if (!database.isValid()) {
        return fail(ErrorCode::StorageFault,
                    QStringLiteral("Qt's SQLite driver is not installed. Install the package "
                                   "libqt6sql6-sqlite, then start again."));
    }
    // mode=rw: never make a file by opening one.
    database.setConnectOptions(
        QStringLiteral("QSQLITE_OPEN_URI;QSQLITE_BUSY_TIMEOUT=%1").arg(busyMilliseconds));
    database.setDatabaseName(QUrl::fromLocalFile(m_path).toString(QUrl::FullyEncoded) +
                             QStringLiteral("?mode=rw"));
    if (!database.open()) {
        return tl::unexpected(storageError(database.lastError()));
    }
    return {};
}

// In locking_mode=EXCLUSIVE a lock once taken is kept until closing; an empty exclusive
// transaction takes it now, so that a second program learns it now and not in the middle of work.
Status Connection::takeLock()
{
    Status status = readText(m_name, QStringLiteral("PRAGMA locking_mode = EXCLUSIVE"))
                        .and_then([this](const std::optional<QString> &) {
                            return runOnce(m_name, QStringLiteral("BEGIN EXCLUSIVE"));
                        })
                        .and_then([this] { return runOnce(m_name, QStringLiteral("COMMIT")); });
    if (!status && status.error().code == ErrorCode::Refused &&
        status.error().message.contains(QLatin1String("in use"))) {
        return fail(ErrorCode::Refused,
                    QStringLiteral("%1 is open in another program. Close it there first; one "
                                   "program at a time can work on a project.")
                        .arg(QDir::toNativeSeparators(m_path)));
    }
    return status;
}

Status Connection::setModes()
{
    struct Mode
    {
        const char *set;
        const char *ask;
        const char *expected;
    };
    static constexpr std::array modes{
        Mode{"PRAGMA journal_mode = TRUNCATE", "PRAGMA journal_mode", "truncate"},
        Mode{"PRAGMA synchronous = EXTRA", "PRAGMA synchronous", "3"},
        Mode{"PRAGMA foreign_keys = ON", "PRAGMA foreign_keys", "1"},
        Mode{"PRAGMA trusted_schema = OFF", "PRAGMA trusted_schema", "0"},
        Mode{"PRAGMA cell_size_check = ON", "PRAGMA cell_size_check", "1"},
        Mode{"PRAGMA locking_mode", "PRAGMA locking_mode", "exclusive"},
    };
    for (const Mode &mode : modes) {
        if (const auto set = readText(m_name, QString::fromLatin1(mode.set)); !set) {
            return tl::unexpected(set.error());
        }
        const auto now = readText(m_name, QString::fromLatin1(mode.ask));
        if (!now) {
            return tl::unexpected(now.error());
        }
        if (now->value_or(QString()) != QLatin1String(mode.expected)) {
            return fail(ErrorCode::StorageFault,
                        QStringLiteral("The database did not take \"%1\" (it says \"%2\"), without "
                                       "which records could be lost. Nothing was changed; move "
                                       "the project to another disk.")
                            .arg(QString::fromLatin1(mode.set), now->value_or(QString())));
        }
    }
    return {};
}

Status Connection::checkIntegrity()
{
    const bool isBig = QFileInfo(m_path).size() > quickCheckAbove;
    const auto said = isBig ? checkAllButVisits(m_name)
                            : readText(m_name, QStringLiteral("PRAGMA integrity_check(1)"));
    const QString verdict = said ? said->value_or(QString()) : said.error().message;
    if (verdict == QLatin1String("ok")) {
        return {};
    }
    return fail(ErrorCode::Damaged,
                QStringLiteral("%1 is damaged (%2). It was left as it is. Keep it, and open the "
                               "newest copy from the folder %3.")
                    .arg(QDir::toNativeSeparators(m_path), verdict.simplified(),
                         QFileInfo(m_path).completeBaseName() + QStringLiteral(".backups")));
}

Status Connection::migrate(const std::vector<Migration> &migrations)
{
    // Read again under the lock: a journal may just have been rolled back.
    const auto stored = readText(m_name, QStringLiteral("PRAGMA user_version"));
    if (!stored) {
        return tl::unexpected(stored.error());
    }
    const int from = stored->value_or(QString()).toInt();
    const int newest = migrations.back().version;
    if (from > newest) {
        return tl::unexpected(newerSchemaError(m_path, from, newest));
    }
    if (from == newest) {
        return {};
    }
    return copyTo(pathOfOldSchema(m_path, from)).and_then([&] {
        return transaction([&] { return runMigrations(m_name, migrations, from); });
    });
}

Status Connection::begin()
{
    const QString sql =
        m_depth == 0 ? QStringLiteral("BEGIN") : QStringLiteral("SAVEPOINT nested_%1").arg(m_depth);
    return runOnce(m_name, sql);
}

Status Connection::end(Status outcome)
{
    const bool outermost = m_depth == 0;
    const QString savepoint = QStringLiteral("nested_%1").arg(m_depth);
    if (outcome && m_lost) {
        outcome = fail(ErrorCode::StorageFault,
                       QStringLiteral("The database gave up the change half-way; nothing of it was "
                                      "stored. Check that the disk has room, then do it again."));
    }
    if (outcome) {
        outcome = runOnce(m_name, outermost ? QStringLiteral("COMMIT")
                                            : QStringLiteral("RELEASE ") + savepoint);
    }
    if (outcome) {
        return outcome;
    }
    if (outermost) {
        // Fails where the database has rolled back by itself already (disk full): that is well.
        (void)runOnce(m_name, QStringLiteral("ROLLBACK"));
        m_lost = false;
        return outcome;
    }
    const Status undone = runOnce(m_name, QStringLiteral("ROLLBACK TO ") + savepoint).and_then([&] {
        return runOnce(m_name, QStringLiteral("RELEASE ") + savepoint);
    });
    if (!undone && !m_lost) {
        // The whole transaction is gone. Should the outer work go on regardless, what it writes
        // must not be stored row by row: a new transaction takes it in, to be rolled back.
        m_lost = true;
        (void)runOnce(m_name, QStringLiteral("BEGIN"));
    }
    return outcome;
}

Status Connection::transaction(const std::function<Status()> &work)
{
    if (Status begun = begin(); !begun) {
        return begun;
    }
    ++m_depth;
    Status outcome = work();
    --m_depth;
    return end(std::move(outcome));
}

Status Connection::copyTo(const QString &target)
{
    if (m_depth > 0) {
        return fail(
            ErrorCode::Refused,
            QStringLiteral("A copy cannot be made in the middle of a change. Finish it first."));
    }
    if (QFileInfo::exists(target)) {
        return fail(
            ErrorCode::Refused,
            QStringLiteral("%1 exists already and is never overwritten. Choose another name.")
                .arg(QDir::toNativeSeparators(target)));
    }
    // Under another name until it is whole and flushed, so that half a copy is never taken for one.
    const QString part = target + QStringLiteral(".part");
    QFile::remove(part);
    const Status copied = runOnce(m_name, QStringLiteral("VACUUM INTO ?"), part);
    if (!copied) {
        QFile::remove(part);
        return tl::unexpected(copyFailed(target, copied.error().message));
    }
    if (!flushToDisk(part) || !QFile::rename(part, target) ||
        !flushToDisk(QFileInfo(target).absolutePath())) {
        QFile::remove(part);
        return tl::unexpected(copyFailed(target, QStringLiteral("the disk did not take it")));
    }
    return {};
}

} // namespace keyround
