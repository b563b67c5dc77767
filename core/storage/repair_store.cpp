// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/repair_store.h"

#include "core/storage/codes.h"
#include "core/storage/day_json.h"
#include "core/storage/log_fields.h"

namespace keyround {

namespace {

const QString replacementKind = QStringLiteral("replacement");

LogRow rowOf(const Replacement &replacement)
{
    QJsonObject json{{QStringLiteral("on"), replacement.on.toString(Qt::ISODate)},
                     {QStringLiteral("old_type"), storedKey(replacement.oldType)},
                     {QStringLiteral("words"), replacement.words}};
    if (replacement.time.isValid()) {
        json[QStringLiteral("time")] = storedTime(replacement.time);
    }
    if (replacement.oldInstallYear) {
        json[QStringLiteral("old_install_year")] = *replacement.oldInstallYear;
    }
    if (replacement.oldListedTurns) {
        json[QStringLiteral("old_listed_quarter_turns")] = replacement.oldListedTurns->value;
    }
    if (replacement.oldSize.isKnown()) {
        json[QStringLiteral("old_size_quarter_inches")] = replacement.oldSize.quarterInches;
    }
    if (!replacement.undoes.isNull()) {
        json[QStringLiteral("undoes")] = idColumn(replacement.undoes.uuid);
    }
    putMoment(json, replacement.at);
    putWho(json, replacement);
    return {replacement.id.uuid, replacementKind, replacement.valve.text(), replacement.stamp,
            json};
}

Result<Replacement> replacementFrom(const LogRow &row)
{
    Replacement replacement;
    replacement.id = ReplacementId{row.id};
    replacement.valve = ValveId::fromText(row.subject);
    replacement.on = dateIn(row.body, "on");
    replacement.time = storedTimeFrom(textIn(row.body, "time"));
    if (const Status known = fromKey(textIn(row.body, "old_type"), replacement.oldType); !known) {
        return tl::unexpected(known.error());
    }
    if (const QJsonValue year = row.body.value(QLatin1String("old_install_year"));
        year.isDouble()) {
        replacement.oldInstallYear = year.toInt();
    }
    if (const QJsonValue turns = row.body.value(QLatin1String("old_listed_quarter_turns"));
        turns.isDouble()) {
        replacement.oldListedTurns = QuarterTurns{turns.toInt()};
    }
    replacement.oldSize =
        NominalSize{row.body.value(QLatin1String("old_size_quarter_inches")).toInt()};
    replacement.words = textIn(row.body, "words");
    replacement.undoes = ReplacementId::fromText(textIn(row.body, "undoes"));
    replacement.at = momentIn(row.body);
    takeWho(row, replacement);
    return replacement;
}

} // namespace

RepairStore::RepairStore(Project &project, QString connection)
    : m_project(project), m_connection(std::move(connection))
{
}

Status RepairStore::add(const Replacement &replacement)
{
    if (replacement.valve.isNull() || (replacement.undoes.isNull() && !replacement.on.isValid())) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("A replaced valve was not stored: it needs the valve and the "
                                   "day on which it was replaced."));
    }
    return addLogRow(m_project, m_connection, rowOf(replacement));
}

Result<std::vector<Replacement>> RepairStore::replacements() const
{
    const auto rows = logRows(m_connection, replacementKind);
    if (!rows) {
        return tl::unexpected(rows.error());
    }
    std::vector<Replacement> replacements;
    replacements.reserve(rows->size());
    for (const LogRow &row : *rows) {
        Result<Replacement> read = replacementFrom(row);
        if (!read) {
            return tl::unexpected(read.error());
        }
        replacements.push_back(std::move(*read));
    }
    return replacements;
}

} // namespace keyround
