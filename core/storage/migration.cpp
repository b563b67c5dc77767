// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/migration.h"

#include "core/storage/statement.h"

#include <QFile>
#include <QRegularExpression>

// Q_INIT_RESOURCE must stand outside of every namespace; without it a static library's resources
// are dropped by the linker.
static void initSchemaResource()
{
    Q_INIT_RESOURCE(schema);
}

namespace keyround {

namespace {

QString resourceText(const QString &name)
{
    QFile file(QStringLiteral(":/schema/") + name);
    const bool opened = file.open(QIODevice::ReadOnly);
    Q_ASSERT_X(opened, "resourceText", "a schema file is missing from the program");
    return opened ? QString::fromUtf8(file.readAll()) : QString();
}

// Where the quoted text that opens at `from` ends (past the closing quote).
qsizetype endOfQuoted(const QString &script, qsizetype from)
{
    const QChar quote = script[from];
    const qsizetype close = script.indexOf(quote, from + 1);
    return close < 0 ? script.size() : close + 1;
}

// A trigger's own statements end in semicolons too: it is whole when END stands before the last.
bool isWhole(const QString &statement)
{
    static const QRegularExpression trigger(QStringLiteral("^\\s*CREATE\\s+TRIGGER\\b"),
                                            QRegularExpression::CaseInsensitiveOption);
    static const QRegularExpression ended(QStringLiteral("\\bEND\\s*$"),
                                          QRegularExpression::CaseInsensitiveOption);
    return !trigger.match(statement).hasMatch() || ended.match(statement).hasMatch();
}

} // namespace

QStringList splitScript(const QString &script)
{
    QStringList statements;
    QString statement;
    for (qsizetype at = 0; at < script.size();) {
        const QChar c = script[at];
        if (c == QLatin1Char('\'') || c == QLatin1Char('"')) {
            const qsizetype end = endOfQuoted(script, at);
            statement += QStringView(script).mid(at, end - at);
            at = end;
        } else if (c == QLatin1Char('-') && script.mid(at, 2) == QLatin1String("--")) {
            const qsizetype end = script.indexOf(QLatin1Char('\n'), at);
            at = end < 0 ? script.size() : end;
        } else if (c == QLatin1Char(';') && isWhole(statement)) {
            statements << statement.trimmed();
            statement.clear();
            ++at;
        } else {
            statement += c;
            ++at;
        }
    }
    if (!statement.trimmed().isEmpty()) {
        statements << statement.trimmed();
    }
    return statements;
}

const std::vector<Migration> &shippedMigrations()
{
    static const std::vector<Migration> migrations = [] {
        initSchemaResource();
        std::vector<Migration> steps;
        steps.push_back(
            {1, splitScript(resourceText(QStringLiteral("0001_first.sql"))) +
                    splitScript(resourceText(QStringLiteral("0001_first.sqlite.sql")))});
        steps.push_back({2, splitScript(resourceText(QStringLiteral("0002_round_decisions.sql")))});
        steps.push_back(
            {3, splitScript(resourceText(QStringLiteral("0003_mains_and_log.sql"))) +
                    splitScript(resourceText(QStringLiteral("0003_mains_and_log.sqlite.sql")))});
        steps.push_back({4, splitScript(resourceText(QStringLiteral("0004_work_zones.sql")))});
        steps.push_back({5, splitScript(resourceText(QStringLiteral("0005_draft_hash.sql")))});
        steps.push_back({6, splitScript(resourceText(QStringLiteral("0006_contact_dates.sql")))});
        steps.push_back({7, splitScript(resourceText(QStringLiteral("0007_half_typed.sql")))});
        return steps;
    }();
    return migrations;
}

Status runMigrations(const QString &connection, const std::vector<Migration> &migrations, int from)
{
    int reached = from;
    for (const Migration &migration : migrations) {
        if (migration.version <= from) {
            continue;
        }
        Q_ASSERT_X(migration.version == reached + 1, "runMigrations", "a step is missing");
        for (const QString &sql : migration.statements) {
            if (Status status = runOnce(connection, sql); !status) {
                return status;
            }
        }
        if (Status status = runOnce(connection,
                                    QStringLiteral("INSERT INTO schema_version (version, program) "
                                                   "VALUES (?, ?)"),
                                    migration.version, QStringLiteral(KEYROUND_VERSION));
            !status) {
            return status;
        }
        reached = migration.version;
    }
    // A PRAGMA takes no bound values; the number is our own.
    return runOnce(connection, QStringLiteral("PRAGMA user_version = %1").arg(reached));
}

} // namespace keyround
