// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/recover.h"

#include "core/storage/damaged_source.h"
#include "core/storage/durable_file.h"
#include "core/storage/file_check.h"
#include "core/storage/photo_store.h"
#include "core/storage/project.h"
#include "core/storage/recover_rows.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QHash>
#include <QJsonArray>
#include <QJsonDocument>

#include <algorithm>
#include <numeric>
#include <optional>
#include <utility>

namespace keyround {

namespace {

QString baseOf(const QString &path)
{
    const QFileInfo file(path);
    return file.absolutePath() + QLatin1Char('/') + file.completeBaseName();
}

/// The rows of the pages themselves, by the number of their columns: which table they are of is
/// for the hash to say.
using LooseRows = QHash<qsizetype, std::vector<QVariantList>>;

Result<LooseRows> looseRows(const DamagedSource &source)
{
    LooseRows rows;
    const Status read = source.readPages([&rows](const QVariantList &row) -> Status {
        rows[row.size()].push_back(row);
        return {};
    });
    return read.map([&rows] { return std::move(rows); });
}

class Recovering
{
public:
    Recovering(const DamagedSource &source, Connection &to, Recovery &recovery)
        : m_source(source), m_to(to), m_recovery(recovery)
    {
    }

    Status run()
    {
        const auto forms = tableForms(m_to.name());
        if (!forms) {
            return tl::unexpected(forms.error());
        }
        for (const TableForm &form : *forms) {
            if (Status done = transfer(form); !done) {
                return done;
            }
        }
        return {};
    }

private:
    Status transfer(const TableForm &form)
    {
        TableTransfer transfer(m_to, form, m_recovery);
        if (Status begun = transfer.begin(); !begun) {
            return begun;
        }
        QStringList columns = form.columns;
        const QStringList known = m_source.columnsOf(form.name);
        columns.removeIf([&known](const QString &name) { return !known.contains(name); });
        const Result<bool> whole =
            m_source.readTable(form.name, columns, [&](const QVariantList &row) {
                return transfer.setDown(columns, row);
            });
        if (!whole) {
            return tl::unexpected(whole.error());
        }
        // Valves of the past may lie in freed pages; they are better than none.
        const bool fromPages =
            !*whole && (form.holds != nullptr || form.name == QLatin1String("valves"));
        const Status loose = fromPages ? addLoose(form, transfer) : Status{};
        return loose.and_then([&] {
            return transfer.finish(*whole, *whole ? QStringList() : m_source.indexedIds(form.name));
        });
    }

    Status addLoose(const TableForm &form, TableTransfer &transfer)
    {
        if (!m_loose) {
            Result<LooseRows> read = looseRows(m_source);
            if (!read) {
                return tl::unexpected(read.error());
            }
            m_loose = std::move(*read);
        }
        transfer.looseFromHere();
        // A valve from before nut and lid were kept is two columns shorter.
        const qsizetype fewest = form.columns.size() - (form.holds == nullptr ? 2 : 0);
        for (qsizetype count = fewest; count <= form.columns.size(); ++count) {
            const QStringList columns = form.columns.mid(0, count);
            for (const QVariantList &row : m_loose->value(count)) {
                if (!looksLike(form, row)) {
                    continue;
                }
                if (Status set = transfer.setDown(columns, row); !set) {
                    return set;
                }
            }
        }
        return {};
    }

    // Enough to keep rows of other tables with as many columns from being listed as damaged ones.
    static bool looksLike(const TableForm &form, const QVariantList &row)
    {
        constexpr qsizetype uuidLength = 36;
        constexpr qsizetype hashLength = 64;
        const bool hasId = row.front().toString().size() == uuidLength;
        const bool hashLast = row.back().toString().size() == hashLength;
        const bool idSecond = row.at(1).toString().size() == uuidLength;
        if (form.name == QLatin1String("valves")) {
            return hasId && !row.at(1).toString().isEmpty();
        }
        if (form.name == QLatin1String("log_rows")) {
            return hasId && hashLast && row.at(3).typeId() == QMetaType::LongLong;
        }
        if (form.name == QLatin1String("half_typed")) { // named, not numbered
            return !row.front().toString().isEmpty() && hashLast &&
                   row.at(2).typeId() == QMetaType::LongLong;
        }
        return hasId && hashLast && idSecond;
    }

    const DamagedSource &m_source;
    Connection &m_to;
    Recovery &m_recovery;
    std::optional<LooseRows> m_loose;
};

/// What the stores themselves cannot read: said, not mended.
Status judgeNewFile(const QString &path, Recovery &recovery)
{
    const auto project = Project::open(path);
    if (!project) {
        return tl::unexpected(project.error());
    }
    const auto faults = (*project)->verify();
    if (!faults) {
        return tl::unexpected(faults.error());
    }
    for (const QString &fault : *faults) {
        recovery.notes << QStringLiteral("In the new file: ") + fault;
    }
    return {};
}

void bringPhotos(const QString &from, const QString &to)
{
    const QDir source(baseOf(from) + QStringLiteral(".photos"));
    const QString target = baseOf(to) + QStringLiteral(".photos");
    if (!source.exists() || !makeFolder(target)) {
        return; // a photo that is missing is named when the new file is judged
    }
    for (const QString &name : source.entryList(QDir::Files)) {
        QFile::copy(source.filePath(name), target + QLatin1Char('/') + name);
    }
    (void)flushToDisk(target);
}

Status recoverInto(const DamagedSource &source, const QString &to, Recovery &recovery)
{
    auto connection = Connection::create(to, shippedMigrations());
    if (!connection) {
        return tl::unexpected(connection.error());
    }
    return (*connection)->transaction([&] {
        return Recovering(source, **connection, recovery).run();
    });
}

void removeNewFile(const QString &to)
{
    QFile::remove(to);
    QFile::remove(to + QStringLiteral("-journal"));
}

} // namespace

bool Recovery::isWhole() const
{
    return doubtful.empty() && notes.isEmpty() &&
           std::ranges::all_of(tables, [](const RecoveredTable &table) { return table.whole; });
}

int Recovery::rowsIn(const QString &table) const
{
    const auto found = std::ranges::find(tables, table, &RecoveredTable::table);
    return found == tables.end() ? 0 : found->rows;
}

Result<Recovery> recoverProject(const QString &from, const QString &to)
{
    const QFileInfo source(from);
    if (!source.isFile() || source.size() == 0) {
        return fail(ErrorCode::NotFound,
                    QStringLiteral("There is no file %1, or nothing is in it. Choose the damaged "
                                   "project file.")
                        .arg(QDir::toNativeSeparators(from)));
    }
    if (Status place = checkNewFile(to); !place) {
        return tl::unexpected(place.error());
    }
    Recovery recovery;
    recovery.from = source.absoluteFilePath();
    recovery.to = QFileInfo(to).absoluteFilePath();
    DamagedSource damaged;
    if (Status opened = damaged.open(recovery.from, recovery.to); !opened) {
        return tl::unexpected(opened.error());
    }
    if (damaged.headerWasMended()) {
        recovery.notes << QStringLiteral("The file's header was not as it must be; it was read as "
                                         "a project's header is.");
    }
    if (Status done = recoverInto(damaged, recovery.to, recovery); !done) {
        removeNewFile(recovery.to);
        return tl::unexpected(done.error());
    }
    const int rows =
        std::accumulate(recovery.tables.begin(), recovery.tables.end(), 0,
                        [](int sum, const RecoveredTable &table) { return sum + table.rows; });
    if (rows == 0) {
        removeNewFile(recovery.to);
        return fail(ErrorCode::Damaged,
                    QStringLiteral("Not one row of %1 could be read. It was left as it is. Keep "
                                   "it, and restore the newest back-up.")
                        .arg(QDir::toNativeSeparators(from)));
    }
    bringPhotos(recovery.from, recovery.to);
    if (Status judged = judgeNewFile(recovery.to, recovery); !judged) {
        removeNewFile(recovery.to);
        return tl::unexpected(judged.error());
    }
    return recovery;
}

QJsonObject toJson(const Recovery &recovery)
{
    QJsonArray tables;
    for (const RecoveredTable &table : recovery.tables) {
        tables.append(QJsonObject{{QStringLiteral("table"), table.table},
                                  {QStringLiteral("rows"), table.rows},
                                  {QStringLiteral("doubtful"), table.doubtful},
                                  {QStringLiteral("read_whole"), table.whole},
                                  {QStringLiteral("rows_carry_a_hash"), table.hashed}});
    }
    QJsonArray doubtful;
    for (const DoubtfulRow &row : recovery.doubtful) {
        doubtful.append(QJsonObject{{QStringLiteral("table"), row.table},
                                    {QStringLiteral("what"), row.what},
                                    {QStringLiteral("content"), row.content}});
    }
    return {{QStringLiteral("from"), recovery.from},
            {QStringLiteral("to"), recovery.to},
            {QStringLiteral("whole"), recovery.isWhole()},
            {QStringLiteral("tables"), tables},
            {QStringLiteral("doubtful"), doubtful},
            {QStringLiteral("notes"), QJsonArray::fromStringList(recovery.notes)}};
}

Result<QString> keepRecoveryReport(const Recovery &recovery)
{
    QString path = baseOf(recovery.to) + QStringLiteral(".recovery.json");
    return writeDurably(path, QJsonDocument(toJson(recovery)).toJson()).map([&path] {
        return std::move(path);
    });
}

} // namespace keyround
