// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/import_layer.h"

#include "core/storage/layer_store.h"
#include "core/storage/valve_store.h"

#include <QFileInfo>
#include <QSet>

#include <algorithm>
#include <type_traits>

namespace keyround {

namespace {

/// What the valve would be after the row: only the fields that the file has are taken.
Valve merged(const Valve &present, const ValveRow &row)
{
    Valve result = present;
    for (const ValveField field : row.given) {
        copyValveField(result, row.valve, field);
    }
    return result;
}

template <typename Row> bool sameButId(const Row &present, Row fresh)
{
    fresh.id = present.id;
    return present == fresh;
}

template <typename Row> GeoPoint placeOf(const Row &row)
{
    if constexpr (requires { row.line; }) {
        return row.line.empty() ? GeoPoint{} : row.line[row.line.size() / 2];
    } else {
        return row.place;
    }
}

template <typename Row> void takeOver(ImportPlan &plan, Imported<Row> &&imported)
{
    plan.rejected = std::move(imported.rejected);
    plan.warnings = std::move(imported.warnings);
    plan.columns = imported.columns;
}

/// Streets, mains, hydrants and services: one way for all.
template <typename Row, typename Key>
Result<ImportPlan> prepareFeatures(ImportPlan plan, Result<Imported<Row>> imported,
                                   const std::vector<Row> &present, Key key)
{
    if (!imported) {
        return tl::unexpected(imported.error());
    }
    plan.diff = diffLayer(
        present, imported->rows, [&](const Row &row) { return row.*key; },
        [&](const Row &row) { return row.*key; },
        [](const Row &old, const Row &fresh) { return sameButId(old, fresh); });
    std::ranges::transform(imported->rows, std::back_inserter(plan.places), placeOf<Row>);
    std::vector<Row> rows = std::move(imported->rows);
    takeOver(plan, std::move(*imported));
    plan.rows = std::move(rows);
    return plan;
}

Result<ImportPlan> prepareValves(Session &session, ImportPlan plan, const Progress &progress)
{
    auto imported = readValves(plan.request, progress);
    if (!imported) {
        return tl::unexpected(imported.error());
    }
    plan.diff = diffLayer(
        session.valves(), imported->rows, [](const Valve &valve) { return valve.number; },
        [](const ValveRow &row) { return row.valve.number; },
        [](const Valve &old, const ValveRow &row) { return merged(old, row) == old; });
    std::ranges::transform(imported->rows, std::back_inserter(plan.places),
                           [](const ValveRow &row) { return row.valve.place; });
    std::vector<ValveRow> rows = std::move(imported->rows);
    takeOver(plan, std::move(*imported));
    plan.rows = std::move(rows);
    return plan;
}

Result<ImportPlan> prepareVisits(Session &session, ImportPlan plan, const Progress &progress)
{
    auto imported = readVisits(plan.request, progress);
    if (!imported) {
        return tl::unexpected(imported.error());
    }
    QSet<QString> present;
    for (const Visit &visit : session.visits()) {
        present.insert(visit.id.text());
    }
    std::vector<Visit> rows;
    for (const VisitRow &row : imported->rows) {
        const Valve *valve = session.valveByNumber(row.valveNumber);
        if (valve == nullptr) {
            imported->rejected.push_back(
                {row.row, imported->columns.value(QStringLiteral("valve")), row.valveNumber,
                 QObject::tr("no valve of this number is in the inventory; import valves first")});
            continue;
        }
        if (const QDate date = row.visit.arrived.localDate(); date > session.today()) {
            imported->warnings.push_back(
                {row.row, imported->columns.value(QStringLiteral("date")),
                 date.toString(Qt::ISODate),
                 QObject::tr("the visit is dated after %1; it came in, but check the year")
                     .arg(session.today().toString(Qt::ISODate))});
        }
        Visit visit = row.visit;
        visit.valve = valve->id;
        (present.contains(visit.id.text()) ? plan.diff.unchanged : plan.diff.added)
            << visit.id.text();
        plan.places.push_back(valve->place);
        rows.push_back(std::move(visit));
    }
    takeOver(plan, std::move(*imported));
    plan.rows = std::move(rows);
    return plan;
}

void warnOfPlacement(Session &session, ImportPlan &plan)
{
    std::vector<GeoPoint> streetPoints;
    for (const Street &street : session.streets()) {
        streetPoints.insert(streetPoints.end(), street.line.begin(), street.line.end());
    }
    for (const QString &warning : placementWarnings(plan.places, streetPoints)) {
        plan.warnings.push_back({0, {}, {}, warning});
    }
}

/// Says which stretches of street cannot be driven to from the rest, and which have no part in
/// driving at all: the planner would otherwise wonder why a valve there is only estimated.
void warnOfStreets(Session &session, ImportPlan &plan)
{
    const DriveGraph graph = DriveGraph::build(std::get<std::vector<Street>>(plan.rows));
    const DriveGraphReport &report = graph.report();
    for (const DriveGraphReport::CutOff &piece : report.cutOff) {
        const QString name =
            piece.name.isEmpty() ? QObject::tr("a street without a name") : piece.name;
        plan.warnings.push_back(
            {0,
             {},
             name,
             QObject::tr("%1, %2 near %3, %4, is cut off: it cannot be driven to from the other "
                         "streets and back")
                 .arg(name, lengthText({piece.metres}, session.units()),
                      QString::number(piece.at.latitude, 'f', 5),
                      QString::number(piece.at.longitude, 'f', 5))});
    }
    if (report.leftOut > 0) {
        plan.warnings.push_back(
            {0,
             {},
             {},
             QObject::tr("%1 streets are kept for the map but not driven: closed to motor "
                         "vehicles, or without length")
                 .arg(report.leftOut)});
    }
}

Status writeValves(Session &session, const ImportPlan &plan, const std::vector<ValveRow> &rows,
                   const Progress &progress)
{
    ValveStore &store = session.project().valves();
    const QString why = QObject::tr("import %1").arg(QFileInfo(plan.request.path).fileName());
    const Moment now = session.now();
    double done = 0;
    for (const ValveRow &row : rows) {
        if (!report(progress, done++ / double(rows.size()), QObject::tr("Writing valves"))) {
            return fail(ErrorCode::Cancelled, QObject::tr("Stopped; nothing was imported."));
        }
        Status status;
        if (const Valve *present = session.valveByNumber(row.valve.number)) {
            const Valve after = merged(*present, row);
            status = after == *present ? Status{} : store.update(after, session.author(), now, why);
        } else {
            Valve fresh = row.valve;
            fresh.id = ValveId{newUuid7(now.utcMilliseconds)};
            status = store.add(fresh, session.author(), now, why);
        }
        if (!status) {
            return status;
        }
    }
    return {};
}

/// Visits that are there already are left alone: their ids come from the row's content.
Status writeVisits(Session &session, const ImportPlan &plan, std::vector<Visit> visits)
{
    const QSet<QString> present(plan.diff.unchanged.begin(), plan.diff.unchanged.end());
    std::erase_if(visits, [&](const Visit &visit) { return present.contains(visit.id.text()); });
    for (Visit &visit : visits) {
        visit.recordedBy = visit.recordedBy.isEmpty() ? session.author().person : visit.recordedBy;
        visit.device = QStringLiteral("import");
        if (auto added = session.project().visits().add(visit); !added) {
            return tl::unexpected(added.error());
        }
    }
    return {};
}

template <typename Row>
Status writeFeatures(Session &session, const ImportPlan &plan, std::vector<Row> rows,
                     QString Row::*key)
{
    const QSet<QString> unchanged(plan.diff.unchanged.begin(), plan.diff.unchanged.end());
    std::erase_if(rows, [&](const Row &row) { return unchanged.contains(row.*key); });
    for (Row &row : rows) {
        row.id = FeatureId{newUuid7(session.now().utcMilliseconds)};
    }
    if constexpr (std::is_same_v<Row, Service>) {
        return session.project().layers().put(rows, session.today());
    } else {
        return session.project().layers().put(rows);
    }
}

/// A field that was left without a column is remembered as such, or it would be guessed again.
Status rememberMatch(Session &session, const ImportPlan &plan)
{
    ColumnMatch match = plan.columns;
    for (const ImportField &field : importFields(plan.kind)) {
        if (!match.contains(field.key)) {
            match.insert(field.key, QString());
        }
    }
    return session.project().settings().saveColumnMatch(plan.layout, match);
}

Status writeRows(Session &session, const ImportPlan &plan, const Progress &progress)
{
    switch (plan.kind) {
    case LayerKind::Valves:
        return writeValves(session, plan, std::get<std::vector<ValveRow>>(plan.rows), progress);
    case LayerKind::Visits:
        return writeVisits(session, plan, std::get<std::vector<Visit>>(plan.rows));
    case LayerKind::Streets:
        return writeFeatures(session, plan, std::get<std::vector<Street>>(plan.rows), &Street::key);
    case LayerKind::Mains:
        return writeFeatures(session, plan, std::get<std::vector<Main>>(plan.rows), &Main::number);
    case LayerKind::Hydrants:
        return writeFeatures(session, plan, std::get<std::vector<Hydrant>>(plan.rows),
                             &Hydrant::number);
    case LayerKind::Services:
        return writeFeatures(session, plan, std::get<std::vector<Service>>(plan.rows),
                             &Service::number);
    case LayerKind::Sources:
        return writeFeatures(session, plan, std::get<std::vector<Source>>(plan.rows),
                             &Source::number);
    }
    return {};
}

} // namespace

size_t ImportPlan::rowCount() const
{
    return std::visit([](const auto &list) { return list.size(); }, rows);
}

ColumnMatch suggestedColumns(Session &session, LayerKind kind, const QStringList &columns)
{
    const ColumnMatch remembered = session.valueOr(
        session.project().settings().columnMatch(layoutKey(kind, columns)), ColumnMatch{});
    return remembered.isEmpty() ? guessColumns(kind, columns) : remembered;
}

Result<ImportPlan> prepareImport(Session &session, LayerKind kind, const ReadRequest &asked,
                                 const Progress &progress)
{
    const auto columns = columnsFor(kind, asked);
    if (!columns) {
        return tl::unexpected(columns.error());
    }
    ReadRequest request = asked;
    request.columns = suggestedColumns(session, kind, *columns);
    request.columns.insert(asked.columns); // what was asked for goes before what is remembered
    ImportPlan plan;
    plan.kind = kind;
    plan.request = request;
    plan.layout = layoutKey(kind, *columns);
    Result<ImportPlan> prepared = [&]() -> Result<ImportPlan> {
        switch (kind) {
        case LayerKind::Valves:
            return prepareValves(session, std::move(plan), progress);
        case LayerKind::Visits:
            return prepareVisits(session, std::move(plan), progress);
        case LayerKind::Streets:
            return prepareFeatures<Street>(std::move(plan), readStreets(request, progress),
                                           session.streets(), &Street::key);
        case LayerKind::Mains:
            return prepareFeatures<Main>(std::move(plan), readMains(request, progress),
                                         session.mains(), &Main::number);
        case LayerKind::Hydrants:
            return prepareFeatures<Hydrant>(std::move(plan), readHydrants(request, progress),
                                            session.hydrants(), &Hydrant::number);
        case LayerKind::Services:
            return prepareFeatures<Service>(std::move(plan), readServices(request, progress),
                                            session.services(), &Service::number);
        case LayerKind::Sources:
            return prepareFeatures<Source>(std::move(plan), readSources(request, progress),
                                           session.sources(), &Source::number);
        }
        return fail(ErrorCode::BadInput, QObject::tr("This kind of layer is not known."));
    }();
    if (prepared && kind == LayerKind::Streets) {
        warnOfStreets(session, *prepared);
    } else if (prepared && kind != LayerKind::Visits) {
        warnOfPlacement(session, *prepared);
    }
    return prepared;
}

Status applyImport(Session &session, const ImportPlan &plan, const Progress &progress)
{
    Status written = session.project().transaction([&]() -> Status {
        if (Status rows = writeRows(session, plan, progress); !rows) {
            return rows;
        }
        if (Status kept = rememberMatch(session, plan); !kept) {
            return kept;
        }
        if (!report(progress, 1.0, QObject::tr("Storing"))) {
            return fail(ErrorCode::Cancelled, QObject::tr("Stopped; nothing was imported."));
        }
        return {};
    });
    if (!written) {
        return written;
    }
    switch (plan.kind) {
    case LayerKind::Valves:
        Q_EMIT session.notifier().valvesChanged();
        break;
    case LayerKind::Visits:
        Q_EMIT session.notifier().visitsChanged();
        break;
    default:
        Q_EMIT session.notifier().layersChanged();
        break;
    }
    return {};
}

QString summaryOf(const ImportPlan &plan)
{
    QStringList parts{QObject::tr("%1 new").arg(plan.diff.added.size()),
                      QObject::tr("%1 changed").arg(plan.diff.changed.size()),
                      QObject::tr("%1 unchanged").arg(plan.diff.unchanged.size())};
    if (!plan.diff.missing.isEmpty()) {
        parts << QObject::tr("%1 not in the file (kept)").arg(plan.diff.missing.size());
    }
    if (!plan.rejected.empty()) {
        parts << (plan.rejected.size() == 1
                      ? QObject::tr("1 row not taken")
                      : QObject::tr("%1 rows not taken").arg(plan.rejected.size()));
    }
    return parts.join(QStringLiteral(", "));
}

} // namespace keyround
