// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/damaged_source.h"

#include "core/storage/file_check.h"
#include "core/storage/table_pages.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QSqlDatabase>
#include <QSqlError>
#include <QSqlQuery>
#include <QSqlRecord>
#include <QUuid>
#include <QtEndian>

#include <algorithm>
#include <limits>
#include <memory>

namespace keyround {

namespace {

// How far a gap may reach: a page holds at most some dozens of our rows, an inner page some
// hundreds of pages.
constexpr qlonglong widestGap = 20000;

QVariantList valuesOf(const QSqlQuery &query, int from, int count)
{
    QVariantList values;
    for (int column = from; column < from + count; ++column) {
        values << (query.isNull(column) ? QVariant(QMetaType::fromType<QString>())
                                        : query.value(column));
    }
    return values;
}

QString quoted(const QString &name)
{
    return QLatin1Char('"') + QString(name).replace(QLatin1Char('"'), QStringLiteral("\"\"")) +
           QLatin1Char('"');
}

int columnsIn(const QSqlQuery &query)
{
    return query.record().count();
}

// The first 100 bytes as every project file has them (sqlite.org/fileformat2.html section 1.3),
// with the counters left as they are. The page count is made not to count (1.3.8): the file's own
// length does.
QByteArray rightHeader(QByteArray header)
{
    header.resize(100, '\0');
    header.replace(0, 16, QByteArray("SQLite format 3\0", 16));
    qToBigEndian<quint16>(projectPageSize, header.data() + 16);
    header[18] = 1; // a roll-back journal, for writing and reading
    header[19] = 1;
    header[20] = 0; // nothing reserved at the end of pages
    header[21] = 64;
    header[22] = 32;
    header[23] = 32;
    qToBigEndian<quint32>(4, header.data() + 44); // schema format
    qToBigEndian<quint32>(0, header.data() + 52); // no auto-vacuum
    qToBigEndian<quint32>(1, header.data() + 56); // UTF-8
    qToBigEndian<quint32>(0, header.data() + 64);
    qToBigEndian<quint32>(projectApplicationId, header.data() + 68);
    for (qsizetype at = 72; at < 92; ++at) {
        header[at] = 0;
    }
    return header;
}

} // namespace

DamagedSource::~DamagedSource()
{
    disconnectFrom();
}

void DamagedSource::connectTo()
{
    m_name =
        QStringLiteral("keyround-damaged-") + QUuid::createUuid().toString(QUuid::WithoutBraces);
    QSqlDatabase database = QSqlDatabase::addDatabase(QStringLiteral("QSQLITE"), m_name);
    database.setDatabaseName(m_copy);
    if (database.open()) {
        QSqlQuery query(database);
        // A table whose definition cannot be read shall not keep the others from being read.
        query.exec(QStringLiteral("PRAGMA writable_schema = ON"));
        query.exec(QStringLiteral("PRAGMA cell_size_check = ON"));
        query.exec(QStringLiteral("PRAGMA trusted_schema = OFF"));
        query.exec(QStringLiteral("SELECT COUNT(*) FROM sqlite_schema")); // rolls a journal back
    }
}

void DamagedSource::disconnectFrom()
{
    if (!m_name.isEmpty()) {
        QSqlDatabase::database(m_name, false).close();
        QSqlDatabase::removeDatabase(m_name);
        m_name.clear();
    }
}

Status DamagedSource::open(const QString &path, const QString &near)
{
    m_folder = std::make_unique<QTemporaryDir>(
        QStringLiteral("%1/.keyround-recover-XXXXXX").arg(QFileInfo(near).absolutePath()));
    m_copy = m_folder->filePath(QStringLiteral("copy.db"));
    const QString journal = QStringLiteral("-journal");
    if (!m_folder->isValid() || !QFile::copy(path, m_copy) ||
        (QFile::exists(path + journal) && !QFile::copy(path + journal, m_copy + journal))) {
        return fail(ErrorCode::StorageFault,
                    QStringLiteral("%1 could not be copied to be looked at. It was left as it is. "
                                   "Make room for a copy beside %2, then try again.")
                        .arg(QDir::toNativeSeparators(path), QDir::toNativeSeparators(near)));
    }
    QFile::setPermissions(m_copy, QFile::ReadOwner | QFile::WriteOwner);
    connectTo();
    disconnectFrom();
    QFile::remove(m_copy + journal); // rolled back, or not one that can be
    Status mended = mendHeader();
    if (mended) {
        connectTo();
    }
    return mended;
}

Status DamagedSource::mendHeader()
{
    QFile file(m_copy);
    if (!file.open(QIODevice::ReadWrite)) {
        return fail(ErrorCode::StorageFault,
                    QStringLiteral("The copy that was to be looked at cannot be read (%1).")
                        .arg(file.errorString()));
    }
    const QByteArray header = file.read(100);
    const QByteArray right = rightHeader(header);
    m_headerMended = right != header;
    QByteArray written = right;
    // Unequal counters: the file's length counts, not the page count in the header.
    qToBigEndian<quint32>(qFromBigEndian<quint32>(right.constData() + 24) + 1, written.data() + 92);
    // What the free list says is not needed for reading.
    qToBigEndian<quint64>(0, written.data() + 32);
    file.seek(0);
    if (file.write(written) != written.size()) {
        return fail(ErrorCode::StorageFault, QStringLiteral("The copy that was to be looked at "
                                                            "cannot be written (%1).")
                                                 .arg(file.errorString()));
    }
    // A last page that was cut off is filled up, so that what is left of it can be read.
    const qint64 over = file.size() % projectPageSize;
    if (over != 0) {
        file.resize(file.size() + projectPageSize - over);
    }
    return {};
}

QStringList DamagedSource::columnsOf(const QString &table) const
{
    QStringList names;
    QSqlQuery query(QSqlDatabase::database(m_name, false));
    query.exec(QStringLiteral("PRAGMA table_info(%1)").arg(quoted(table)));
    while (query.next()) {
        names << query.value(1).toString();
    }
    return names;
}

Result<bool> DamagedSource::readForward(const QString &select, qlonglong &last,
                                        const TakeRow &take) const
{
    QSqlQuery query(QSqlDatabase::database(m_name, false));
    query.setForwardOnly(true);
    query.prepare(select + QStringLiteral(" WHERE rowid > ? ORDER BY rowid"));
    query.addBindValue(last);
    if (!query.exec()) {
        return false;
    }
    const int columns = columnsIn(query) - 1;
    while (query.next()) {
        const qlonglong rowid = query.value(0).toLongLong();
        if (rowid <= last) {
            return false; // a tree that leads back: never round and round in it
        }
        last = rowid;
        if (Status taken = take(valuesOf(query, 1, columns)); !taken) {
            return tl::unexpected(taken.error());
        }
    }
    return !query.lastError().isValid();
}

Result<DamagedSource::Gap> DamagedSource::readOverGap(const QString &select, qlonglong last,
                                                      const TakeRow &take) const
{
    QSqlQuery query(QSqlDatabase::database(m_name, false));
    query.setForwardOnly(true);
    query.prepare(select + QStringLiteral(" WHERE rowid = ?"));
    for (qlonglong rowid = last + 1; rowid <= last + widestGap; ++rowid) {
        query.addBindValue(rowid);
        if (query.exec() && query.next()) {
            if (Status taken = take(valuesOf(query, 1, columnsIn(query) - 1)); !taken) {
                return tl::unexpected(taken.error());
            }
            return Gap{true, rowid};
        }
        query.finish();
    }
    return Gap{};
}

Status DamagedSource::readBackward(const QString &select, qlonglong last, const TakeRow &take) const
{
    QSqlQuery query(QSqlDatabase::database(m_name, false));
    query.setForwardOnly(true);
    query.prepare(select + QStringLiteral(" WHERE rowid > ? ORDER BY rowid DESC"));
    query.addBindValue(last);
    if (query.exec()) {
        const int columns = columnsIn(query) - 1;
        qlonglong before = std::numeric_limits<qlonglong>::max();
        while (query.next() && query.value(0).toLongLong() < before) {
            before = query.value(0).toLongLong();
            if (Status taken = take(valuesOf(query, 1, columns)); !taken) {
                return taken;
            }
        }
    }
    return {};
}

Result<bool> DamagedSource::readTable(const QString &table, const QStringList &columns,
                                      const TakeRow &take) const
{
    if (columns.isEmpty()) {
        return false;
    }
    QStringList names;
    for (const QString &column : columns) {
        names << quoted(column);
    }
    const QString select = QStringLiteral("SELECT rowid, %1 FROM %2 NOT INDEXED")
                               .arg(names.join(QLatin1Char(',')), quoted(table));
    qlonglong last = std::numeric_limits<int>::min();
    bool whole = true;
    while (true) {
        const Result<bool> all = readForward(select, last, take);
        if (!all || *all) {
            return all ? Result<bool>(whole) : all;
        }
        whole = false;
        last = std::max(last, qlonglong{0});
        const Result<Gap> gap = readOverGap(select, last, take);
        if (!gap) {
            return tl::unexpected(gap.error());
        }
        if (!gap->hasRow) {
            return readBackward(select, last, take).map([] { return false; });
        }
        last = gap->rowid;
    }
}

QStringList DamagedSource::indexedIds(const QString &table) const
{
    QStringList ids;
    QSqlQuery query(QSqlDatabase::database(m_name, false));
    query.setForwardOnly(true);
    // Answered by the index of the primary key alone.
    query.exec(QStringLiteral("SELECT id FROM %1 ORDER BY id").arg(quoted(table)));
    while (query.next() && (ids.isEmpty() || ids.back() < query.value(0).toString())) {
        ids << query.value(0).toString();
    }
    return ids;
}

Status DamagedSource::readPages(const TakeRow &take) const
{
    QFile file(m_copy);
    if (!file.open(QIODevice::ReadOnly)) {
        return {};
    }
    const auto *const bytes = file.map(0, file.size());
    if (bytes == nullptr) {
        return {};
    }
    Status status;
    readTablePages(QByteArrayView(bytes, file.size()), [&](const QVariantList &row) {
        if (status) {
            status = take(row);
        }
    });
    return status;
}

} // namespace keyround
