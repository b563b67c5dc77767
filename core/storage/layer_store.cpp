// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/layer_store.h"

#include "core/storage/codes.h"
#include "core/storage/line_text.h"
#include "core/storage/project.h"
#include "core/storage/statement.h"

namespace keyround {

namespace {

// The id of a row that is known already stays: others may refer to it.
const QString putStreet = QStringLiteral(
    "INSERT INTO streets (id, street_key, name, kind, one_way, metres_per_second, drivable, "
    "junctions, line, lanes, lane_width_metres, divided) "
    "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) "
    "ON CONFLICT (street_key) DO UPDATE SET name = excluded.name, kind = excluded.kind, "
    "one_way = excluded.one_way, metres_per_second = excluded.metres_per_second, "
    "drivable = excluded.drivable, junctions = excluded.junctions, line = excluded.line, "
    "lanes = excluded.lanes, lane_width_metres = excluded.lane_width_metres, "
    "divided = excluded.divided");

const QString putMain = QStringLiteral(
    "INSERT INTO mains (id, number, size_quarter_inches, material, install_year, zone, line) "
    "VALUES (?, ?, ?, ?, ?, ?, ?) "
    "ON CONFLICT (number) DO UPDATE SET size_quarter_inches = excluded.size_quarter_inches, "
    "material = excluded.material, install_year = excluded.install_year, zone = excluded.zone, "
    "line = excluded.line");

const QString putHydrant = QStringLiteral(
    "INSERT INTO hydrants (id, number, latitude, longitude, address) VALUES (?, ?, ?, ?, ?) "
    "ON CONFLICT (number) DO UPDATE SET latitude = excluded.latitude, "
    "longitude = excluded.longitude, address = excluded.address");

const QString putService = QStringLiteral(
    "INSERT INTO services (id, number, latitude, longitude, address, customer, phone, "
    "main_number, critical, contact_since) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) "
    "ON CONFLICT (number) DO UPDATE SET latitude = excluded.latitude, "
    "longitude = excluded.longitude, address = excluded.address, "
    "contact_since = CASE WHEN services.customer = excluded.customer "
    "AND services.phone = excluded.phone THEN services.contact_since "
    "ELSE excluded.contact_since END, "
    "customer = excluded.customer, phone = excluded.phone, main_number = excluded.main_number, "
    "critical = excluded.critical");

const QString putSource = QStringLiteral(
    "INSERT INTO sources (id, number, name, kind, latitude, longitude) VALUES (?, ?, ?, ?, ?, ?) "
    "ON CONFLICT (number) DO UPDATE SET name = excluded.name, kind = excluded.kind, "
    "latitude = excluded.latitude, longitude = excluded.longitude");

Status checkNamed(const FeatureId &id, const QString &number, const QString &whose)
{
    if (number.isEmpty() || id.isNull()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1 has no number (or no id) and cannot be stored. Match the "
                                   "number's column, or fill it in the file.")
                        .arg(whose));
    }
    return {};
}

Status checkLine(const GeoLine &line, const QString &whose)
{
    for (const GeoPoint &point : line) {
        if (Status status = checkPlace(point, whose); !status) {
            return status;
        }
    }
    return {};
}

Status putRow(Statement &statement, const Street &row)
{
    const QString whose = QStringLiteral("Street %1").arg(row.key);
    const std::optional<double> width =
        row.laneWidth ? std::optional(row.laneWidth->value) : std::nullopt;
    return checkNamed(row.id, row.key, whose)
        .and_then([&] { return checkLine(row.line, whose); })
        .and_then(
            [&] { return checkFinite(row.metresPerSecond, whose + QStringLiteral("'s speed")); })
        .and_then([&] { return checkFinite(width, whose + QStringLiteral("'s lane width")); })
        .and_then([&] {
            return statement.run(row.id.text(), row.key, row.name, storedKey(row.kind),
                                 storedKey(row.oneWay), row.metresPerSecond, row.drivable,
                                 storedKey(row.junctions), lineText(row.line), row.lanes, width,
                                 row.isDivided);
        });
}

Status putRow(Statement &statement, const Main &row)
{
    const QString whose = QStringLiteral("Main %1").arg(row.number);
    return checkNamed(row.id, row.number, whose)
        .and_then([&] { return checkLine(row.line, whose); })
        .and_then([&] {
            return statement.run(row.id.text(), row.number, row.size.quarterInches, row.material,
                                 row.installYear, row.zone, lineText(row.line));
        });
}

Status putRow(Statement &statement, const Hydrant &row)
{
    const QString whose = QStringLiteral("Hydrant %1").arg(row.number);
    return checkNamed(row.id, row.number, whose)
        .and_then([&] { return checkPlace(row.place, whose); })
        .and_then([&] {
            return statement.run(row.id.text(), row.number, latitudeColumn(row.place),
                                 longitudeColumn(row.place), row.address);
        });
}

/// A service and the day on which its contact came in.
struct ServiceRow
{
    const Service &service;
    const QDate &contactsSince;
};

Status putRow(Statement &statement, const ServiceRow &dated)
{
    const Service &row = dated.service;
    const QString whose = QStringLiteral("Service %1").arg(row.number);
    return checkNamed(row.id, row.number, whose)
        .and_then([&] { return checkPlace(row.place, whose); })
        .and_then([&] {
            return statement.run(row.id.text(), row.number, latitudeColumn(row.place),
                                 longitudeColumn(row.place), row.address, row.customer, row.phone,
                                 row.mainNumber, row.critical,
                                 dated.contactsSince.toString(Qt::ISODate));
        });
}

Status putRow(Statement &statement, const Source &row)
{
    const QString whose = QStringLiteral("Source %1").arg(row.number);
    return checkNamed(row.id, row.number, whose)
        .and_then([&] { return checkPlace(row.place, whose); })
        .and_then([&] {
            return statement.run(row.id.text(), row.number, row.name, keyFor(row.kind),
                                 latitudeColumn(row.place), longitudeColumn(row.place));
        });
}

template <typename Row>
Status putRows(Project &project, const QString &connection, const QString &sql,
               const std::vector<Row> &rows)
{
    return project.transaction([&]() -> Status {
        Result<Statement> statement = Statement::prepare(connection, sql);
        if (!statement) {
            return tl::unexpected(statement.error());
        }
        for (const Row &row : rows) {
            if (Status status = putRow(*statement, row); !status) {
                return status;
            }
        }
        return {};
    });
}

Status readLine(const QString &text, GeoLine &line)
{
    return lineFromText(text).map([&line](GeoLine &&read) { line = std::move(read); });
}

} // namespace

LayerStore::LayerStore(Project &project, QString connection)
    : m_project(project), m_connection(std::move(connection))
{
}

Result<std::vector<Street>> LayerStore::streets() const
{
    return readAll<Street>(
        m_connection,
        QStringLiteral("SELECT id, street_key, name, kind, one_way, metres_per_second, drivable, "
                       "junctions, line, lanes, lane_width_metres, divided FROM streets "
                       "ORDER BY street_key"),
        [](const Statement &row, Street &street) {
            street.id = FeatureId::fromText(row.text(0));
            street.key = row.text(1);
            street.name = row.text(2);
            street.metresPerSecond = row.optionalReal(5);
            street.drivable = row.truth(6);
            street.lanes = row.optionalInteger(9);
            if (const auto width = row.optionalReal(10)) {
                street.laneWidth = Metres{*width};
            }
            if (const auto divided = row.optionalInteger(11)) {
                street.isDivided = *divided != 0;
            }
            return fromKey(row.text(3), street.kind)
                .and_then([&] { return fromKey(row.text(4), street.oneWay); })
                .and_then([&] { return fromKey(row.text(7), street.junctions); })
                .and_then([&] { return readLine(row.text(8), street.line); });
        });
}

Result<std::vector<Main>> LayerStore::mains() const
{
    return readAll<Main>(
        m_connection,
        QStringLiteral("SELECT id, number, size_quarter_inches, material, install_year, zone, line "
                       "FROM mains ORDER BY number"),
        [](const Statement &row, Main &main) {
            main.id = FeatureId::fromText(row.text(0));
            main.number = row.text(1);
            main.size = NominalSize{row.integer(2)};
            main.material = row.text(3);
            main.installYear = row.optionalInteger(4);
            main.zone = row.text(5);
            return readLine(row.text(6), main.line);
        });
}

Result<std::vector<Hydrant>> LayerStore::hydrants() const
{
    return readAll<Hydrant>(
        m_connection,
        QStringLiteral("SELECT id, number, latitude, longitude, address FROM hydrants "
                       "ORDER BY number"),
        [](const Statement &row, Hydrant &hydrant) -> Status {
            hydrant = {FeatureId::fromText(row.text(0)), row.text(1), row.place(2), row.text(4)};
            return {};
        });
}

Result<std::vector<Service>> LayerStore::services() const
{
    return readAll<Service>(
        m_connection,
        QStringLiteral("SELECT id, number, latitude, longitude, address, customer, phone, "
                       "main_number, critical FROM services ORDER BY number"),
        [](const Statement &row, Service &service) -> Status {
            service = {FeatureId::fromText(row.text(0)),
                       row.text(1),
                       row.place(2),
                       row.text(4),
                       row.text(5),
                       row.text(6),
                       row.text(7),
                       row.truth(8)};
            return {};
        });
}

Result<std::vector<Source>> LayerStore::sources() const
{
    return readAll<Source>(
        m_connection,
        QStringLiteral("SELECT id, number, name, kind, latitude, longitude FROM sources "
                       "ORDER BY number"),
        [](const Statement &row, Source &source) -> Status {
            source = {FeatureId::fromText(row.text(0)), row.text(1), row.text(2), SourceKind::Plant,
                      row.place(4)};
            const std::optional<SourceKind> kind = sourceKindFromKey(row.text(3));
            if (!kind) {
                return fail(ErrorCode::Damaged,
                            QStringLiteral("Source %1 is of the kind \"%2\", which does not exist. "
                                           "The file is damaged: open the newest back-up.")
                                .arg(source.number, row.text(3)));
            }
            source.kind = *kind;
            return {};
        });
}

Status LayerStore::put(const std::vector<Street> &rows)
{
    return putRows(m_project, m_connection, putStreet, rows);
}

Status LayerStore::put(const std::vector<Main> &rows)
{
    return putRows(m_project, m_connection, putMain, rows);
}

Status LayerStore::put(const std::vector<Hydrant> &rows)
{
    return putRows(m_project, m_connection, putHydrant, rows);
}

Status LayerStore::put(const std::vector<Service> &rows, const QDate &contactsSince)
{
    std::vector<ServiceRow> dated;
    for (const Service &service : rows) {
        dated.push_back({service, contactsSince});
    }
    return putRows(m_project, m_connection, putService, dated);
}

Status LayerStore::put(const std::vector<Source> &rows)
{
    return putRows(m_project, m_connection, putSource, rows);
}

Status LayerStore::removeSource(const QString &number)
{
    return m_project.transaction([&]() -> Status {
        return Statement::prepare(m_connection,
                                  QStringLiteral("DELETE FROM sources WHERE number = ?"))
            .and_then([&](Statement &&statement) { return statement.run(number); });
    });
}

} // namespace keyround
