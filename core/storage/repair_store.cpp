// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/repair_store.h"

#include "core/storage/codes.h"
#include "core/storage/day_json.h"
#include "core/storage/log_fields.h"
#include "core/storage/project.h"

#include <QJsonArray>

namespace keyround {

namespace {

const QString eventKind = QStringLiteral("repair");
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

void put(QJsonObject &json, const char *key, const QString &text)
{
    if (!text.isEmpty()) {
        json[QLatin1String(key)] = text;
    }
}

template <typename Tag> void put(QJsonObject &json, const char *key, const Id<Tag> &id)
{
    if (!id.isNull()) {
        json[QLatin1String(key)] = id.text();
    }
}

template <typename Tag> void take(const QJsonObject &json, const char *key, Id<Tag> &id)
{
    id = Id<Tag>::fromText(textIn(json, key));
}

LogRow rowOf(const RepairEvent &event)
{
    QJsonObject json{{QStringLiteral("step"), keyFor(event.step)}};
    put(json, "on", event.on.toString(Qt::ISODate));
    put(json, "number", event.number);
    put(json, "valve", event.valve);
    put(json, "department", event.department);
    if (!event.findings.isEmpty()) {
        json[QStringLiteral("findings")] = QJsonArray::fromStringList(event.findings);
    }
    put(json, "visit", event.visit);
    put(json, "tick", event.tick);
    put(json, "party", event.party);
    put(json, "how", event.how);
    put(json, "words", event.words);
    put(json, "replacement", event.replacement);
    put(json, "undoes", event.undoes);
    putMoment(json, event.at);
    putWho(json, event);
    return {event.id.uuid, eventKind, event.request.text(), event.stamp, json};
}

Result<RepairEvent> eventFrom(const LogRow &row)
{
    RepairEvent event;
    event.id = RepairEventId{row.id};
    event.request = RequestId::fromText(row.subject);
    const QString key = textIn(row.body, "step");
    const std::optional<RepairStep> step = repairStepFromKey(key);
    if (!step) {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("A step of a repair is of the kind \"%1\", which does not "
                                   "exist. The file is damaged: open the newest back-up.")
                        .arg(key));
    }
    event.step = *step;
    event.on = dateIn(row.body, "on");
    event.number = textIn(row.body, "number");
    take(row.body, "valve", event.valve);
    event.department = textIn(row.body, "department");
    for (const auto &each : row.body.value(QLatin1String("findings")).toArray()) {
        event.findings << each.toString();
    }
    take(row.body, "visit", event.visit);
    take(row.body, "tick", event.tick);
    event.party = textIn(row.body, "party");
    event.how = textIn(row.body, "how");
    event.words = textIn(row.body, "words");
    take(row.body, "replacement", event.replacement);
    take(row.body, "undoes", event.undoes);
    event.at = momentIn(row.body);
    takeWho(row, event);
    return event;
}

/// All rows of a kind, each read; the first that cannot be is the error.
template <typename Read>
auto readRowsOf(const QString &connection, const QString &kind, Read read)
    -> Result<std::vector<typename decltype(read(LogRow()))::value_type>>
{
    const auto rows = logRows(connection, kind);
    if (!rows) {
        return tl::unexpected(rows.error());
    }
    std::vector<typename decltype(read(LogRow()))::value_type> all;
    all.reserve(rows->size());
    for (const LogRow &row : *rows) {
        auto one = read(row);
        if (!one) {
            return tl::unexpected(one.error());
        }
        all.push_back(std::move(*one));
    }
    return all;
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
    return readRowsOf(m_connection, replacementKind, replacementFrom);
}

Status RepairStore::add(const std::vector<RepairEvent> &events)
{
    return m_project.transaction([&]() -> Status {
        for (const RepairEvent &event : events) {
            if (event.request.isNull()) {
                return fail(ErrorCode::BadInput,
                            QStringLiteral("A step of a repair was not stored: it names no "
                                           "request."));
            }
            if (Status added = addLogRow(m_project, m_connection, rowOf(event)); !added) {
                return added;
            }
        }
        return {};
    });
}

Result<std::vector<RepairEvent>> RepairStore::events() const
{
    return readRowsOf(m_connection, eventKind, eventFrom);
}

} // namespace keyround
