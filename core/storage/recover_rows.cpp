// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/recover_rows.h"

#include "core/storage/edit_hash.h"
#include "core/storage/half_typed_store.h"
#include "core/storage/log_store.h"
#include "core/storage/statement.h"
#include "core/storage/visit_check.h"

#include <QSet>
#include <QSqlDatabase>
#include <QSqlQuery>

namespace keyround {

namespace {

const QString valveColumn = QStringLiteral("valve_id");

bool visitHolds(const Statement &row)
{
    return readVisit(row).has_value();
}

bool editHolds(const Statement &row)
{
    ValveEdit edit;
    return readEdit(row, edit) && editHash(edit, row.stamp(10)) == row.text(11);
}

void giveHash(TableForm &form)
{
    if (form.name == QLatin1String("visits")) {
        form.holds = visitHolds;
        form.checkedColumns = visitColumns();
    } else if (form.name == QLatin1String("valve_edits")) {
        form.holds = editHolds;
        form.checkedColumns = editColumns();
    } else if (form.name == QLatin1String("log_rows")) {
        form.holds = logRowMatchesHash;
        form.checkedColumns = logColumns();
    } else if (form.name == QLatin1String("stop_drafts")) {
        form.holds = draftMatchesHash;
        form.checkedColumns = draftColumns();
    } else if (form.name == QLatin1String("half_typed")) {
        form.holds = halfTypedMatchesHash;
        form.checkedColumns = halfTypedColumns();
    }
}

QSqlQuery queryOn(const Connection &connection)
{
    QSqlQuery query(QSqlDatabase::database(connection.name(), false));
    query.setForwardOnly(true);
    return query;
}

} // namespace

Result<std::vector<TableForm>> tableForms(const QString &connection)
{
    auto forms = readAll<TableForm>(
        connection,
        QStringLiteral("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE "
                       "'sqlite%' AND name <> 'schema_version' ORDER BY rowid"),
        [](const Statement &row, TableForm &form) -> Status {
            form.name = row.text(0);
            return {};
        });
    if (!forms) {
        return forms;
    }
    for (TableForm &form : *forms) {
        const Status read =
            readRows(connection, QStringLiteral("PRAGMA table_info(\"%1\")").arg(form.name),
                     [&form](const Statement &row) -> Status {
                         form.columns << row.text(1);
                         return {};
                     });
        if (!read) {
            return tl::unexpected(read.error());
        }
        giveHash(form);
    }
    return forms;
}

TableTransfer::TableTransfer(Connection &to, TableForm form, Recovery &recovery)
    : m_to(to), m_form(std::move(form)), m_recovery(recovery)
{
    m_counts.table = m_form.name;
    m_counts.hashed = m_form.holds != nullptr;
}

Status TableTransfer::begin()
{
    return runOnce(m_to.name(), QStringLiteral("DROP TABLE IF EXISTS temp.set_down"))
        .and_then([this] {
            return runOnce(m_to.name(),
                           QStringLiteral("CREATE TEMP TABLE set_down AS SELECT * FROM %1 WHERE 0")
                               .arg(m_form.name));
        });
}

Status TableTransfer::setDown(const QStringList &columns, const QVariantList &values)
{
    QStringList marks;
    for (qsizetype i = 0; i < columns.size(); ++i) {
        marks << QStringLiteral("?");
    }
    QSqlQuery query = queryOn(m_to);
    query.prepare(QStringLiteral("INSERT INTO temp.set_down (%1) VALUES (%2)")
                      .arg(columns.join(QLatin1Char(',')), marks.join(QLatin1Char(','))));
    for (const QVariant &value : values) {
        query.addBindValue(value);
    }
    if (!query.exec()) {
        return tl::unexpected(storageError(query.lastError()));
    }
    ++m_setDown;
    return {};
}

QString TableTransfer::contentOf(qlonglong rowid) const
{
    QSqlQuery query = queryOn(m_to);
    query.exec(QStringLiteral("SELECT * FROM temp.set_down WHERE rowid = %1").arg(rowid));
    QStringList parts;
    if (query.next()) {
        for (int column = 0; column < m_form.columns.size(); ++column) {
            parts << QStringLiteral("%1: %2").arg(m_form.columns.at(column),
                                                  query.value(column).toString());
        }
    }
    return parts.join(QLatin1Char('\n'));
}

QString TableTransfer::firstText(qlonglong rowid) const
{
    const auto text = readText(m_to.name(), QStringLiteral("SELECT %1 FROM temp.set_down WHERE "
                                                           "rowid = %2")
                                                .arg(m_form.columns.front())
                                                .arg(rowid));
    return text ? text->value_or(QString()) : QString();
}

void TableTransfer::doubt(qlonglong rowid, const QString &why)
{
    ++m_counts.doubtful;
    m_recovery.doubtful.push_back(
        {m_form.name, QStringLiteral("%1 %2").arg(firstText(rowid), why), contentOf(rowid)});
}

// Read a second time, from the pages: the same row is there already.
bool TableTransfer::isKnown(qlonglong rowid) const
{
    const auto known = readText(
        m_to.name(),
        QStringLiteral("SELECT 1 FROM %1 AS there, temp.set_down AS here WHERE "
                       "here.rowid = %2 AND there.%3 = here.%3%4")
            .arg(m_form.name)
            .arg(rowid)
            .arg(m_form.columns.front(), m_form.name == QLatin1String("stop_drafts")
                                             ? QStringLiteral(" AND there.valve_id = here.valve_id")
                                             : QString()));
    return known && known->has_value();
}

Status TableTransfer::makeMissingValve(qlonglong rowid)
{
    if (!m_form.columns.contains(valveColumn)) {
        return {};
    }
    const auto missing = readText(
        m_to.name(), QStringLiteral("SELECT valve_id FROM temp.set_down WHERE rowid = %1 AND "
                                    "valve_id NOT IN (SELECT id FROM valves)")
                         .arg(rowid));
    if (!missing || !missing->has_value()) {
        return {};
    }
    const QString number = QStringLiteral("lost-") + (*missing)->right(12);
    m_recovery.doubtful.push_back(
        {QStringLiteral("valves"),
         QStringLiteral("%1 could not be read; its rows hang on a valve named %2 until it is "
                        "known again")
             .arg(**missing, number),
         QString()});
    return runOnce(
        m_to.name(),
        QStringLiteral("INSERT INTO valves (id, number, address, ties, size_quarter_inches, kind, "
                       "closes, normally, role, surface, zone, critical_customers, remarks, "
                       "retired) SELECT ?, ?, '', '', 0, 'unknown', 'clockwise', 'open', "
                       "'other', '', '', '', 'made when a damaged file was recovered', 0"),
        **missing, number);
}

Status TableTransfer::takeOver(qlonglong rowid)
{
    const QString columns = m_form.columns.join(QLatin1Char(','));
    Status stored = makeMissingValve(rowid).and_then([&] {
        return runOnce(m_to.name(),
                       QStringLiteral("INSERT INTO %1 (%2) SELECT %2 FROM temp.set_down WHERE "
                                      "rowid = %3")
                           .arg(m_form.name, columns)
                           .arg(rowid));
    });
    if (stored) {
        ++m_counts.rows;
        return {};
    }
    if (stored.error().code != ErrorCode::BadInput) {
        return stored; // the disk, not the row
    }
    doubt(rowid, QStringLiteral("does not fit the file: %1").arg(stored.error().message));
    return {};
}

Status TableTransfer::judge()
{
    const QString checked =
        m_form.holds != nullptr ? m_form.checkedColumns : m_form.columns.join(QLatin1Char(','));
    const auto last = static_cast<int>(m_form.columns.size());
    struct Judged
    {
        qlonglong rowid = 0;
        bool holds = true;
    };
    const auto rows = readAll<Judged>(
        m_to.name(),
        QStringLiteral("SELECT %1, rowid FROM temp.set_down ORDER BY rowid").arg(checked),
        [this, last](const Statement &row, Judged &judged) -> Status {
            judged = {row.bigint(last), m_form.holds == nullptr || m_form.holds(row)};
            return {};
        });
    if (!rows) {
        return tl::unexpected(rows.error());
    }
    for (const Judged &row : *rows) {
        const bool isRepeat = m_looseAfter && row.rowid > *m_looseAfter && isKnown(row.rowid);
        if (isRepeat) {
            continue;
        }
        if (!row.holds) {
            doubt(row.rowid, QStringLiteral("does not match its hash; it was left out"));
        } else if (Status taken = takeOver(row.rowid); !taken) {
            return taken;
        }
    }
    return {};
}

Status TableTransfer::finish(bool whole, const QStringList &indexedIds)
{
    m_counts.whole = whole;
    Status judged = judge();
    if (!judged) {
        return judged;
    }
    if (!whole && m_form.columns.contains(QStringLiteral("id"))) {
        QSet<QString> there;
        for (const QString &from : {m_form.name, QStringLiteral("temp.set_down")}) {
            Status read = readRows(m_to.name(), QStringLiteral("SELECT id FROM %1").arg(from),
                                   [&there](const Statement &row) -> Status {
                                       there.insert(row.text(0));
                                       return {};
                                   });
            if (!read) {
                return read;
            }
        }
        for (const QString &id : indexedIds) {
            if (!there.contains(id)) {
                ++m_counts.doubtful;
                m_recovery.doubtful.push_back(
                    {m_form.name,
                     QStringLiteral("%1 is named in the table's index, and cannot be read").arg(id),
                     QString()});
            }
        }
    }
    m_recovery.tables.push_back(m_counts);
    return {};
}

} // namespace keyround
