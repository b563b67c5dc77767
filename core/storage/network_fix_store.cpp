// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/network_fix_store.h"

#include "core/storage/project.h"
#include "core/storage/statement.h"

namespace keyround {

namespace {

QString keyFor(LineEnd end)
{
    return end == LineEnd::First ? QStringLiteral("first") : QStringLiteral("last");
}

QString keyFor(Branch branch)
{
    switch (branch) {
    case Branch::TowardsFirst:
        return QStringLiteral("towards_first");
    case Branch::TowardsLast:
        return QStringLiteral("towards_last");
    case Branch::Nearest:
        break;
    }
    return {};
}

LineEnd endFrom(const QString &key)
{
    return key == QLatin1String("last") ? LineEnd::Last : LineEnd::First;
}

Branch branchFrom(const QString &key)
{
    if (key == QLatin1String("towards_first")) {
        return Branch::TowardsFirst;
    }
    return key == QLatin1String("towards_last") ? Branch::TowardsLast : Branch::Nearest;
}

/// One row of the table, whatever kind of decision it is.
struct FixRow
{
    QString kind;
    QString number;
    QString main;
    QString detail;
};

std::vector<FixRow> rowsOf(const NetworkFixes &fixes)
{
    std::vector<FixRow> rows;
    for (const auto &fix : fixes.valves) {
        rows.push_back({QStringLiteral("valve"), fix.valve, fix.main, keyFor(fix.branch)});
    }
    for (const auto &fix : fixes.joins) {
        rows.push_back({QStringLiteral("join"), fix.main, fix.other, keyFor(fix.end)});
    }
    for (const auto &fix : fixes.aparts) {
        rows.push_back({QStringLiteral("apart"), fix.main, fix.other, keyFor(fix.end)});
    }
    for (const auto &fix : fixes.crosses) {
        rows.push_back({QStringLiteral("cross"), fix.main, fix.other, QString()});
    }
    const auto takeOn = [&rows](const QString &kind, const std::vector<NetworkFixes::On> &list) {
        for (const auto &fix : list) {
            rows.push_back({kind, fix.number, fix.main, QString()});
        }
    };
    takeOn(QStringLiteral("service"), fixes.services);
    takeOn(QStringLiteral("hydrant"), fixes.hydrants);
    takeOn(QStringLiteral("source"), fixes.sources);
    return rows;
}

Status take(const FixRow &row, NetworkFixes &fixes)
{
    if (row.kind == QLatin1String("valve")) {
        fixes.valves.push_back({row.number, row.main, branchFrom(row.detail)});
    } else if (row.kind == QLatin1String("join")) {
        fixes.joins.push_back({row.number, endFrom(row.detail), row.main});
    } else if (row.kind == QLatin1String("apart")) {
        fixes.aparts.push_back({row.number, endFrom(row.detail), row.main});
    } else if (row.kind == QLatin1String("cross")) {
        fixes.crosses.push_back({row.number, row.main});
    } else if (row.kind == QLatin1String("service")) {
        fixes.services.push_back({row.number, row.main});
    } else if (row.kind == QLatin1String("hydrant")) {
        fixes.hydrants.push_back({row.number, row.main});
    } else if (row.kind == QLatin1String("source")) {
        fixes.sources.push_back({row.number, row.main});
    } else {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("A decision about the mains is of the kind \"%1\", which does "
                                   "not exist. The file is damaged: open the newest back-up.")
                        .arg(row.kind));
    }
    return {};
}

} // namespace

NetworkFixStore::NetworkFixStore(Project &project, QString connection)
    : m_project(project), m_connection(std::move(connection))
{
}

Result<NetworkFixes> NetworkFixStore::load() const
{
    NetworkFixes fixes;
    const Status status =
        readRows(m_connection,
                 QStringLiteral("SELECT kind, number, main, detail FROM network_fixes "
                                "ORDER BY kind, number, main, detail"),
                 [&fixes](const Statement &row) {
                     return take({row.text(0), row.text(1), row.text(2), row.text(3)}, fixes);
                 });
    return status.map([&fixes] { return std::move(fixes); });
}

Status NetworkFixStore::save(const NetworkFixes &fixes)
{
    return m_project.transaction([&]() -> Status {
        if (Status cleared = runOnce(m_connection, QStringLiteral("DELETE FROM network_fixes"));
            !cleared) {
            return cleared;
        }
        Result<Statement> insert = Statement::prepare(
            m_connection, QStringLiteral("INSERT INTO network_fixes (kind, number, main, detail) "
                                         "VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING"));
        if (!insert) {
            return tl::unexpected(insert.error());
        }
        for (const FixRow &row : rowsOf(fixes)) {
            if (Status status = insert->run(row.kind, row.number, row.main, row.detail); !status) {
                return status;
            }
        }
        return {};
    });
}

} // namespace keyround
