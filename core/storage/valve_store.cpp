// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/valve_store.h"

#include "core/storage/codes.h"
#include "core/storage/edit_hash.h"
#include "core/storage/statement.h"

#include <tuple>

namespace keyround {

namespace {

const QString columns = QStringLiteral(
    "id, number, latitude, longitude, address, ties, depth_to_nut_metres, size_quarter_inches, "
    "kind, listed_quarter_turns, closes, normally, role, install_year, surface, zone, "
    "critical_customers, remarks, retired, nut, lid");

const QString insertSql = QStringLiteral("INSERT INTO valves (%1) VALUES (?, ?, ?, ?, ?, ?, ?, ?, "
                                         "?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
                              .arg(columns);

const QString updateSql = QStringLiteral(
    "UPDATE valves SET number = ?, latitude = ?, longitude = ?, address = ?, ties = ?, "
    "depth_to_nut_metres = ?, size_quarter_inches = ?, kind = ?, listed_quarter_turns = ?, "
    "closes = ?, normally = ?, role = ?, install_year = ?, surface = ?, zone = ?, "
    "critical_customers = ?, remarks = ?, retired = ?, nut = ?, lid = ? "
    "WHERE id = ?");

// Statements take id first or last; the fields between are the same.
template <typename Before, typename After>
Status runWithFields(Statement &statement, const Valve &valve, Before before, After after)
{
    const std::optional<double> depth =
        valve.depthToNut ? std::optional<double>(valve.depthToNut->value) : std::nullopt;
    const std::optional<int> turns =
        valve.listedTurns ? std::optional<int>(valve.listedTurns->value) : std::nullopt;
    const auto fields = std::make_tuple(
        valve.number, latitudeColumn(valve.place), longitudeColumn(valve.place), valve.address,
        valve.ties, depth, valve.size.quarterInches, storedKey(valve.type), turns,
        storedKey(valve.closes), storedKey(valve.normally), storedKey(valve.role),
        valve.installYear, valve.surface, valve.zone, valve.criticalCustomers, valve.remarks,
        valve.retired, valve.nut, valve.lid);
    return std::apply([&statement](const auto &...value) { return statement.run(value...); },
                      std::tuple_cat(before, fields, after));
}

Status readValve(const Statement &row, Valve &valve)
{
    valve.id = ValveId::fromText(row.text(0));
    valve.number = row.text(1);
    valve.place = row.place(2);
    valve.address = row.text(4);
    valve.ties = row.text(5);
    if (const auto depth = row.optionalReal(6)) {
        valve.depthToNut = Metres{*depth};
    }
    valve.size = NominalSize{row.integer(7)};
    if (const auto turns = row.optionalInteger(9)) {
        valve.listedTurns = QuarterTurns{*turns};
    }
    valve.installYear = row.optionalInteger(13);
    valve.surface = row.text(14);
    valve.zone = row.text(15);
    valve.criticalCustomers = row.text(16);
    valve.remarks = row.text(17);
    valve.retired = row.truth(18);
    valve.nut = row.text(19);
    valve.lid = row.text(20);
    return fromKey(row.text(8), valve.type)
        .and_then([&] { return fromKey(row.text(10), valve.closes); })
        .and_then([&] { return fromKey(row.text(11), valve.normally); })
        .and_then([&] { return fromKey(row.text(12), valve.role); });
}

Status checkValve(const Valve &valve)
{
    if (valve.id.isNull()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Valve %1 has no id and was not stored.").arg(valve.number));
    }
    if (valve.number.isEmpty()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("A valve without a number cannot be stored. Give it a number."));
    }
    const QString whose = QStringLiteral("Valve %1").arg(valve.number);
    return checkPlace(valve.place, whose).and_then([&] {
        return checkFinite(valve.depthToNut ? std::optional<double>(valve.depthToNut->value)
                                            : std::nullopt,
                           whose + QStringLiteral("'s depth to the nut"));
    });
}

// The unique columns are two: the id and the number. People know the second.
Error explainTaken(Error error, const Valve &valve)
{
    if (error.code == ErrorCode::BadInput) {
        error.message = QStringLiteral("There is a valve %1 already (or one with the same id). "
                                       "Change the number, or edit the valve that is there.")
                            .arg(valve.number);
    }
    return error;
}

} // namespace

ValveStore::ValveStore(Project &project, QString connection)
    : m_project(project), m_connection(std::move(connection))
{
}

Result<std::vector<Valve>> ValveStore::all() const
{
    return readAll<Valve>(m_connection,
                          QStringLiteral("SELECT %1 FROM valves ORDER BY number").arg(columns),
                          readValve);
}

Result<Valve> ValveStore::byNumber(const QString &number) const
{
    auto found = readAll<Valve>(
        m_connection, QStringLiteral("SELECT %1 FROM valves WHERE number = ?").arg(columns),
        readValve, number);
    if (!found) {
        return tl::unexpected(found.error());
    }
    if (found->empty()) {
        return fail(ErrorCode::NotFound,
                    QStringLiteral("There is no valve %1 in this project. Check the number; "
                                   "leading zeros count.")
                        .arg(number));
    }
    return std::move(found->front());
}

Status ValveStore::add(const Valve &valve, const Author &author, const Moment &now,
                       const QString &why)
{
    return addAll({valve}, author, now, why);
}

Status ValveStore::addAll(const std::vector<Valve> &valves, const Author &author, const Moment &now,
                          const QString &why)
{
    return m_project.transaction([&]() -> Status {
        Result<Statement> insert = Statement::prepare(m_connection, insertSql);
        if (!insert) {
            return tl::unexpected(insert.error());
        }
        std::vector<ValveEdit> edits;
        edits.reserve(valves.size());
        for (const Valve &valve : valves) {
            if (Status sound = checkValve(valve); !sound) {
                return sound;
            }
            if (Status status = runWithFields(*insert, valve, std::make_tuple(valve.id.text()),
                                              std::make_tuple());
                !status) {
                return tl::unexpected(explainTaken(status.error(), valve));
            }
            edits.push_back({EditId{newUuid7(now.utcMilliseconds)}, valve.id, ValveField::Number,
                             QString(), valve.number, author, now, why});
        }
        return record(edits);
    });
}

Status ValveStore::update(const Valve &valve, const Author &author, const Moment &now,
                          const QString &why)
{
    return m_project.transaction([&]() -> Status {
        if (Status sound = checkValve(valve); !sound) {
            return sound;
        }
        Valve before;
        bool found = false;
        Status read = readRows(
            m_connection, QStringLiteral("SELECT %1 FROM valves WHERE id = ?").arg(columns),
            [&](const Statement &row) {
                found = true;
                return readValve(row, before);
            },
            valve.id.text());
        if (!read) {
            return read;
        }
        if (!found) {
            return fail(ErrorCode::NotFound,
                        QStringLiteral("Valve %1 is not in this project, so it was not changed. "
                                       "Add it first.")
                            .arg(valve.number));
        }
        std::vector<ValveEdit> edits;
        for (const ValveField field : differingFields(before, valve)) {
            edits.push_back({EditId{newUuid7(now.utcMilliseconds)}, valve.id, field,
                             valveFieldStored(before, field), valveFieldStored(valve, field),
                             author, now, why});
        }
        if (edits.empty()) {
            return {};
        }
        Result<Statement> update = Statement::prepare(m_connection, updateSql);
        if (!update) {
            return tl::unexpected(update.error());
        }
        if (Status status =
                runWithFields(*update, valve, std::make_tuple(), std::make_tuple(valve.id.text()));
            !status) {
            return tl::unexpected(explainTaken(status.error(), valve));
        }
        return record(edits);
    });
}

Status ValveStore::record(const std::vector<ValveEdit> &edits)
{
    Result<Statement> insert = Statement::prepare(
        m_connection,
        QStringLiteral("INSERT INTO valve_edits (id, valve_id, field, value_before, value_after, "
                       "person, device, made_utc_ms, made_offset_s, why, stamp, hash) VALUES (?, "
                       "?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"));
    if (!insert) {
        return tl::unexpected(insert.error());
    }
    for (const ValveEdit &edit : edits) {
        const Result<HybridTime> stamp = m_project.nextStamp(edit.when);
        if (!stamp) {
            return tl::unexpected(stamp.error());
        }
        Status status =
            insert->run(edit.id.text(), edit.valve.text(),
                        QString::fromLatin1(infoOf(edit.field).key), edit.before, edit.after,
                        edit.author.person, edit.author.device, edit.when.utcMilliseconds,
                        edit.when.offsetSeconds, edit.why, *stamp, editHash(edit, *stamp));
        if (!status) {
            return status;
        }
    }
    return {};
}

Result<std::vector<ValveEdit>> ValveStore::edits(const ValveId &valve) const
{
    return readAll<ValveEdit>(
        m_connection,
        QStringLiteral("SELECT %1 FROM valve_edits WHERE valve_id = ? ORDER BY stamp DESC, id DESC")
            .arg(editColumns()),
        readEdit, valve.text());
}

} // namespace keyround
