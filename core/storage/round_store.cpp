// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/round_store.h"

#include "core/storage/codes.h"
#include "core/storage/day_json.h"
#include "core/storage/project.h"
#include "core/storage/statement.h"

#include <QJsonDocument>
#include <QSet>

namespace keyround {

namespace {

const QString columns = QStringLiteral("id, held_on, crew, shift_from, shift_to, start_latitude, "
                                       "start_longitude, finish_latitude, finish_longitude, state, "
                                       "breaks, first_pinned, last_pinned, told");

QString breaksText(const std::vector<ShiftBreak> &breaks)
{
    return QString::fromUtf8(QJsonDocument(toJson(breaks)).toJson(QJsonDocument::Compact));
}

Status readBreaks(const QString &text, Round &round)
{
    const QJsonDocument document = QJsonDocument::fromJson(text.toUtf8());
    if (!document.isArray()) {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("The breaks of the round of %1 (%2) cannot be read: they were "
                                   "damaged on the disk. Keep this file, and open the newest "
                                   "back-up.")
                        .arg(round.date.toString(Qt::ISODate), round.crew));
    }
    return breaksFromJson(document.array()).map([&round](std::vector<ShiftBreak> &&breaks) {
        round.breaks = std::move(breaks);
    });
}

Status readRound(const Statement &row, Round &round)
{
    round.id = RoundId::fromText(row.text(0));
    round.date = QDate::fromString(row.text(1), Qt::ISODate);
    round.crew = row.text(2);
    round.shift = Shift{storedTimeFrom(row.text(3)), storedTimeFrom(row.text(4))};
    round.start = row.place(5);
    round.finish = row.place(7);
    round.firstIsPinned = row.truth(11);
    round.lastIsPinned = row.truth(12);
    round.isTold = row.truth(13);
    return fromKey(row.text(9), round.state).and_then([&] {
        return readBreaks(row.text(10), round);
    });
}

template <typename... Values>
Result<std::vector<Round>> readRounds(const QString &connection, const QString &condition,
                                      const Values &...values)
{
    auto rounds =
        readAll<Round>(connection,
                       QStringLiteral("SELECT %1 FROM rounds %2 ORDER BY held_on DESC, id DESC")
                           .arg(columns, condition),
                       readRound, values...);
    if (!rounds) {
        return rounds;
    }
    Result<Statement> stops = Statement::prepare(
        connection,
        QStringLiteral("SELECT valve_id, must_go, held_to_next FROM round_stops WHERE round_id = ? "
                       "ORDER BY place_in_order"));
    if (!stops) {
        return tl::unexpected(stops.error());
    }
    for (Round &round : *rounds) {
        const Status status = stops->run(round.id.text()).and_then([&] {
            return stops->each([&round](const Statement &row) -> Status {
                const ValveId valve = ValveId::fromText(row.text(0));
                round.stops.push_back(valve);
                if (row.truth(1)) {
                    round.mustGo.insert(valve);
                }
                if (row.truth(2)) {
                    round.heldToNext.insert(valve);
                }
                return {};
            });
        });
        if (!status) {
            return tl::unexpected(status.error());
        }
    }
    return rounds;
}

QString nameOf(const Round &round)
{
    return QStringLiteral("The round of %1 (%2)").arg(round.date.toString(Qt::ISODate), round.crew);
}

Status checkRound(const Round &round)
{
    if (round.id.isNull() || !round.date.isValid() || !round.shift.from.isValid() ||
        !round.shift.to.isValid()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("A round was not stored: it needs an id, a date and a shift."));
    }
    for (const ShiftBreak &each : round.breaks) {
        if (Status sound = checkBreak(each); !sound) {
            return sound;
        }
    }
    QSet<ValveId> seen;
    for (const ValveId &valve : round.stops) {
        if (seen.contains(valve)) {
            return fail(ErrorCode::BadInput,
                        nameOf(round) +
                            QStringLiteral(" has one valve twice. Take one of the stops out."));
        }
        seen.insert(valve);
    }
    return checkPlace(round.start, nameOf(round)).and_then([&] {
        return checkPlace(round.finish, nameOf(round));
    });
}

Status finishedStays(const Round &round)
{
    return fail(ErrorCode::Refused,
                nameOf(round) +
                    QStringLiteral(" is finished and stays as it is. Plan a new round instead."));
}

Status putStops(const QString &connection, const Round &round)
{
    Result<Statement> insert = Statement::prepare(
        connection, QStringLiteral("INSERT INTO round_stops (round_id, place_in_order, valve_id, "
                                   "must_go, held_to_next) VALUES (?, ?, ?, ?, ?)"));
    if (!insert) {
        return tl::unexpected(insert.error());
    }
    int place = 0;
    for (const ValveId &valve : round.stops) {
        if (Status status =
                insert->run(round.id.text(), ++place, valve.text(), round.mustGo.contains(valve),
                            round.heldToNext.contains(valve));
            !status) {
            return status;
        }
    }
    return {};
}

Status putRound(const QString &connection, const Round &round)
{
    return runOnce(
        connection,
        QStringLiteral("INSERT INTO rounds (%1) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, "
                       "?, ?, ?, ?) "
                       "ON CONFLICT (id) DO UPDATE SET held_on = excluded.held_on, "
                       "crew = excluded.crew, shift_from = excluded.shift_from, "
                       "shift_to = excluded.shift_to, "
                       "start_latitude = excluded.start_latitude, "
                       "start_longitude = excluded.start_longitude, "
                       "finish_latitude = excluded.finish_latitude, "
                       "finish_longitude = excluded.finish_longitude, "
                       "state = excluded.state, breaks = excluded.breaks, "
                       "first_pinned = excluded.first_pinned, "
                       "last_pinned = excluded.last_pinned, told = excluded.told")
            .arg(columns),
        round.id.text(), round.date.toString(Qt::ISODate), round.crew, storedTime(round.shift.from),
        storedTime(round.shift.to), latitudeColumn(round.start), longitudeColumn(round.start),
        latitudeColumn(round.finish), longitudeColumn(round.finish), storedKey(round.state),
        breaksText(round.breaks), round.firstIsPinned, round.lastIsPinned, round.isTold);
}

// How many rows of a table belong to the round.
Result<int> countOf(const QString &connection, const QString &table, const RoundId &id)
{
    return readText(connection,
                    QStringLiteral("SELECT COUNT(*) FROM %1 WHERE round_id = ?").arg(table),
                    id.text())
        .map([](const std::optional<QString> &count) { return count.value_or(QString()).toInt(); });
}

} // namespace

RoundStore::RoundStore(Project &project, QString connection)
    : m_project(project), m_connection(std::move(connection))
{
}

Result<std::vector<Round>> RoundStore::all() const
{
    return readRounds(m_connection, QString());
}

Result<Round> RoundStore::byId(const RoundId &id) const
{
    return readRounds(m_connection, QStringLiteral("WHERE id = ?"), id.text())
        .and_then([](std::vector<Round> &&rounds) -> Result<Round> {
            if (rounds.empty()) {
                return fail(ErrorCode::NotFound, QStringLiteral("There is no such round in this "
                                                                "project. Choose another."));
            }
            return std::move(rounds.front());
        });
}

Status RoundStore::put(const Round &round)
{
    return m_project.transaction([&]() -> Status {
        if (Status sound = checkRound(round); !sound) {
            return sound;
        }
        const Result<Round> before = byId(round.id);
        if (!before && before.error().code != ErrorCode::NotFound) {
            return tl::unexpected(before.error());
        }
        if (before && before->state == RoundState::Finished) {
            return finishedStays(*before);
        }
        return putRound(m_connection, round)
            .and_then([&] {
                return runOnce(m_connection,
                               QStringLiteral("DELETE FROM round_stops WHERE round_id = ?"),
                               round.id.text());
            })
            .and_then([&] { return putStops(m_connection, round); });
    });
}

Status RoundStore::setState(const RoundId &id, RoundState state)
{
    return m_project.transaction([&]() -> Status {
        const Result<Round> round = byId(id);
        if (!round) {
            return tl::unexpected(round.error());
        }
        if (round->state == state) {
            return {};
        }
        if (round->state == RoundState::Finished) {
            return finishedStays(*round);
        }
        return runOnce(m_connection, QStringLiteral("UPDATE rounds SET state = ? WHERE id = ?"),
                       storedKey(state), id.text());
    });
}

Status RoundStore::remove(const RoundId &id)
{
    return m_project.transaction([&]() -> Status {
        const Result<Round> round = byId(id);
        if (!round) {
            return tl::unexpected(round.error());
        }
        const Result<int> visits = countOf(m_connection, QStringLiteral("visits"), id);
        const Result<int> drafts = countOf(m_connection, QStringLiteral("stop_drafts"), id);
        if (!visits || !drafts) {
            return tl::unexpected(!visits ? visits.error() : drafts.error());
        }
        if (round->state != RoundState::Planned || *visits > 0 || *drafts > 0) {
            return fail(ErrorCode::Refused,
                        nameOf(*round) +
                            QStringLiteral(" is under way or has records and stays. Finish it "
                                           "instead."));
        }
        return runOnce(m_connection, QStringLiteral("DELETE FROM round_stops WHERE round_id = ?"),
                       id.text())
            .and_then([&] {
                return runOnce(m_connection, QStringLiteral("DELETE FROM rounds WHERE id = ?"),
                               id.text());
            });
    });
}

} // namespace keyround
