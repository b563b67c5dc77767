// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/shut_store.h"

#include "core/storage/codes.h"
#include "core/storage/log_fields.h"

#include <QHash>

#include <algorithm>
#include <array>

namespace keyround {

namespace {

const QString shutKind = QStringLiteral("shut");
const QString tickKind = QStringLiteral("shut_step");
const QString noticeKind = QStringLiteral("notice");

LogRow rowOf(const ShutBegun &begun)
{
    QJsonObject json{{QStringLiteral("main"), begun.main}, {QStringLiteral("words"), begun.words}};
    if (begun.place.isValid()) {
        json[QStringLiteral("latitude")] = begun.place.latitude;
        json[QStringLiteral("longitude")] = begun.place.longitude;
    }
    putMoment(json, begun.at);
    putWho(json, begun);
    return {begun.id.uuid, shutKind, QString(), begun.stamp, json};
}

ShutBegun begunFrom(const LogRow &row)
{
    ShutBegun begun;
    begun.id = ShutId{row.id};
    begun.place = {row.body.value(QLatin1String("latitude")).toDouble(),
                   row.body.value(QLatin1String("longitude")).toDouble()};
    begun.main = textIn(row.body, "main");
    begun.words = textIn(row.body, "words");
    begun.at = momentIn(row.body);
    takeWho(row, begun);
    return begun;
}

constexpr std::array actions{ShutAction::Closed, ShutAction::DidNotHold, ShutAction::Reopened,
                             ShutAction::Noted, ShutAction::Ended};

LogRow rowOf(const ShutTick &tick)
{
    QJsonObject json{{QStringLiteral("action"), keyFor(tick.action)},
                     {QStringLiteral("valve"), idColumn(tick.valve.uuid)},
                     {QStringLiteral("words"), tick.words}};
    putMoment(json, tick.at);
    putWho(json, tick);
    return {tick.id.uuid, tickKind, tick.shut.text(), tick.stamp, json};
}

Result<ShutTick> tickFrom(const LogRow &row)
{
    ShutTick tick;
    tick.id = TickId{row.id};
    tick.shut = ShutId::fromText(row.subject);
    const QString key = textIn(row.body, "action");
    const auto *const action =
        std::ranges::find(actions, key, [](ShutAction one) { return keyFor(one); });
    if (action == actions.end()) {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("A step of a shut is of the kind \"%1\", which does not exist. "
                                   "The file is damaged: open the newest back-up.")
                        .arg(key));
    }
    tick.action = *action;
    tick.valve = ValveId::fromText(textIn(row.body, "valve"));
    tick.words = textIn(row.body, "words");
    tick.at = momentIn(row.body);
    takeWho(row, tick);
    return tick;
}

LogRow rowOf(const Notice &notice)
{
    QJsonObject json{{QStringLiteral("for_day"), notice.forDay.toString(Qt::ISODate)},
                     {QStringLiteral("services"), notice.services},
                     {QStringLiteral("how"), notice.how}};
    // Written only where they are said: rows of before keep their hash.
    if (notice.affected > 0) {
        json[QStringLiteral("affected")] = notice.affected;
    }
    if (!notice.wording.isEmpty()) {
        json[QStringLiteral("wording")] = notice.wording;
    }
    if (!notice.what.isEmpty()) {
        json[QStringLiteral("what")] = notice.what;
    }
    putMoment(json, notice.given);
    putWho(json, notice);
    return {notice.id.uuid, noticeKind, notice.valve.text(), notice.stamp, json};
}

Notice noticeFrom(const LogRow &row)
{
    Notice notice;
    notice.id = NoticeId{row.id};
    notice.valve = ValveId::fromText(row.subject);
    notice.given = momentIn(row.body);
    notice.forDay = QDate::fromString(textIn(row.body, "for_day"), Qt::ISODate);
    notice.services = row.body.value(QLatin1String("services")).toInt();
    notice.how = textIn(row.body, "how");
    notice.affected = row.body.value(QLatin1String("affected")).toInt();
    notice.wording = textIn(row.body, "wording");
    notice.what = textIn(row.body, "what");
    takeWho(row, notice);
    return notice;
}

} // namespace

ShutStore::ShutStore(Project &project, QString connection)
    : m_project(project), m_connection(std::move(connection))
{
}

Status ShutStore::begin(const ShutBegun &begun)
{
    return addLogRow(m_project, m_connection, rowOf(begun));
}

Status ShutStore::tick(const ShutTick &tick)
{
    return addLogRow(m_project, m_connection, rowOf(tick));
}

Status ShutStore::add(const Notice &notice)
{
    return addLogRow(m_project, m_connection, rowOf(notice));
}

Result<std::vector<ShutLog>> ShutStore::all() const
{
    const auto begun = logRows(m_connection, shutKind);
    if (!begun) {
        return tl::unexpected(begun.error());
    }
    const auto ticks = logRows(m_connection, tickKind);
    if (!ticks) {
        return tl::unexpected(ticks.error());
    }
    std::vector<ShutLog> logs;
    QHash<ShutId, std::size_t> byId;
    for (auto row = begun->rbegin(); row != begun->rend(); ++row) {
        byId.insert(ShutId{row->id}, logs.size());
        logs.push_back({begunFrom(*row), {}});
    }
    for (const LogRow &row : *ticks) {
        Result<ShutTick> tick = tickFrom(row);
        if (!tick) {
            return tl::unexpected(tick.error());
        }
        if (const auto log = byId.constFind(tick->shut); log != byId.constEnd()) {
            logs[*log].ticks.push_back(std::move(*tick));
        }
    }
    return logs;
}

Result<std::vector<Notice>> ShutStore::notices() const
{
    return logRows(m_connection, noticeKind).map([](const std::vector<LogRow> &rows) {
        std::vector<Notice> notices;
        std::ranges::transform(rows, std::back_inserter(notices), noticeFrom);
        return notices;
    });
}

} // namespace keyround
