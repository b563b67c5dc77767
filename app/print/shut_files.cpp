// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/shut_files.h"

#include "app/map/map_painter.h"
#include "app/print/page_furniture.h"
#include "core/exchange/write_files.h"
#include "core/reports/shut_sheet.h"

namespace keyround {

namespace {

Sheet sheetOf(Session &session, const ShutPlan &plan)
{
    return shutSheet(session.network().network, plan, session.valves(), session.settings().utility,
                     session.units());
}

} // namespace

Status writeShutSheet(Session &session, const ShutPlan &plan, const QString &path)
{
    MapContent content = gatherMap(session);
    content.shut = mapShutOf(session.network().network, plan);
    // On paper the shut must stand out, also in grey: the other valves are left off.
    content.valves.clear();
    content.valveIndex = {};
    const SheetPicture map = [&](QPainter &painter, const QRectF &area) {
        PlaneBox box;
        for (const GeoPoint &point : content.shut.extent()) {
            box.take(content.plane.toPlane(point));
        }
        MapView view = viewOf(box.isEmpty() ? content.bounds : box, area.size(), 60.0);
        view.withKey = true;
        paintMap(painter, area, content, view);
    };
    return writeSheetPdf(sheetOf(session, plan), furnitureOf(session), map, path);
}

QString shutText(Session &session, const ShutPlan &plan)
{
    const Sheet sheet = sheetOf(session, plan);
    QStringList lines{sheet.title};
    lines << sheet.headerLines;
    lines << sheet.table.columns.mid(0, sheet.penColumnsFrom).join(QLatin1Char('\t'));
    for (const QStringList &row : sheet.table.rows) {
        lines << row.mid(0, sheet.penColumnsFrom).join(QLatin1Char('\t'));
    }
    lines << sheet.notes << sheet.cautions;
    return lines.join(QLatin1Char('\n'));
}

MapShut mapShutOf(const PipeNetwork &network, const ShutPlan &plan)
{
    MapShut shut;
    for (const NetIndex piece : plan.piecesOut) {
        shut.out.push_back(network.lineOf(network.pieces[piece]));
    }
    for (const NetIndex piece : plan.piecesBeyond) {
        shut.beyond.push_back(network.lineOf(network.pieces[piece]));
    }
    int number = 0;
    const auto add = [&](const std::vector<ShutStep> &steps, MapShut::Sign sign, bool numbered) {
        for (const ShutStep &step : steps) {
            const NetValve &valve = network.valves[step.valve];
            number += numbered ? 1 : 0;
            const bool doubtful = step.holds == Holds::Doubtful || step.holds == Holds::Unknown;
            shut.valves.push_back({valve.place,
                                   numbered ? QStringLiteral("%1 %2").arg(number).arg(valve.number)
                                            : QStringLiteral(" %1").arg(valve.number),
                                   sign, doubtful && sign != MapShut::Sign::PassedOver});
        }
    };
    add(plan.close, MapShut::Sign::Close, true);
    add(plan.closeDeadSide, MapShut::Sign::CloseDeadSide, true);
    add(plan.alreadyClosed, MapShut::Sign::AlreadyClosed, false);
    add(plan.passedOver, MapShut::Sign::PassedOver, false);
    if (plan.at.place.isValid()) {
        shut.flags.push_back({plan.at.place, QObject::tr("Break"), MapShut::Flag::Kind::Break});
    }
    for (const NetSource &source : network.sources) {
        if (source.place.isValid()) {
            shut.flags.push_back({source.place, source.name.isEmpty() ? source.number : source.name,
                                  MapShut::Flag::Kind::Source});
        }
    }
    return shut;
}

Status writeShutCsv(Session &session, const ShutPlan &plan, const QString &path)
{
    const ReportTable table = sheetOf(session, plan).table;
    return writeCsv(path, {table.columns, {table.rows.begin(), table.rows.end()}});
}

} // namespace keyround
