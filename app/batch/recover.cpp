// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/recover.h"
#include "app/batch/console.h"

namespace keyround::batch {

namespace {

void describe(QCommandLineParser &parser)
{
    parser.setApplicationDescription(
        QObject::tr("recover: reads what can still be read of a damaged project file into a new "
                    "one, and lists what was doubtful."));
    addProjectOption(parser);
    parser.addOption({QStringLiteral("to"), QObject::tr("the new project file to make"),
                      QStringLiteral("NEW.keyround")});
    addJsonOption(parser);
}

void tellOf(const Recovery &recovery)
{
    for (const RecoveredTable &table : recovery.tables) {
        if (table.rows > 0 || table.doubtful > 0 || !table.whole) {
            say(QObject::tr("%1: %2 rows, %3 doubtful%4")
                    .arg(table.table)
                    .arg(table.rows)
                    .arg(table.doubtful)
                    .arg(table.whole ? QString() : QObject::tr("; not all of it could be read")));
        }
    }
    for (const DoubtfulRow &row : recovery.doubtful) {
        complain(QObject::tr("%1: %2").arg(row.table, row.what));
    }
    for (const QString &note : recovery.notes) {
        complain(note);
    }
}

} // namespace

Done runRecover(const QStringList &arguments)
{
    QCommandLineParser parser;
    describe(parser);
    if (auto parsed = parse(parser, QStringLiteral("recover"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    const QString from = parser.value(QStringLiteral("project"));
    const QString to = parser.value(QStringLiteral("to"));
    if (from.isEmpty() || to.isEmpty()) {
        return wrongUse(QObject::tr("say which file is damaged and which to make: recover "
                                    "--project FILE --to NEW.keyround"));
    }
    const auto recovery = recoverProject(from, to);
    if (!recovery) {
        return failed(recovery.error());
    }
    tellOf(*recovery);
    const auto report = keepRecoveryReport(*recovery);
    if (!report) {
        return failed(report.error());
    }
    say(recovery->isWhole()
            ? QObject::tr("Made %1; nothing was doubtful. Report: %2").arg(to, *report)
            : QObject::tr("Made %1; %2 rows are doubtful. Report: %3")
                  .arg(to)
                  .arg(recovery->doubtful.size())
                  .arg(*report));
    return writeJson(parser, toJson(*recovery));
}

} // namespace keyround::batch
