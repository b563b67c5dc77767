// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/round_files.h"

#include "app/commands/round_commands.h"
#include "app/map/map_painter.h"
#include "app/print/day_packet.h"
#include "core/exchange/write_files.h"
#include "core/reports/day_log.h"
#include "core/reports/radio_list.h"

namespace keyround {

namespace {

Result<Round> found(Session &session, const RoundId &id)
{
    if (const Round *round = session.round(id)) {
        return *round;
    }
    return fail(ErrorCode::NotFound,
                QObject::tr("The round is no longer in this project. Choose another one."));
}

GpxWaypoint waypoint(const QString &name, const QString &description, const GeoPoint &place)
{
    return {name, description, place};
}

} // namespace

Status writeRouteSheet(Session &session, const RoundId &id, const QString &path)
{
    return writeDayPacket(session, id, {DayPart::Route}, path);
}

Status writeRouteGpx(Session &session, const RoundId &id, const QString &path)
{
    const auto round = found(session, id);
    if (!round) {
        return tl::unexpected(round.error());
    }
    const MapRoute route = mapRouteOf(session, *round);
    GpxRoute gpx;
    gpx.name = QObject::tr("%1, %2").arg(round->crew, round->date.toString(Qt::ISODate));
    gpx.made = session.now().local().toUTC();
    gpx.track = route.line;
    gpx.stops.push_back(waypoint(QObject::tr("Start"), {}, route.start));
    for (const MapRoute::Stop &stop : route.stops) {
        const Valve *valve = session.valve(stop.valve);
        gpx.stops.push_back(waypoint(valve->number, valve->address, stop.place));
    }
    gpx.stops.push_back(waypoint(QObject::tr("Finish"), {}, route.finish));
    return writeGpx(path, gpx);
}

Status writeRouteMap(Session &session, const RoundId &id, const QString &path)
{
    const auto round = found(session, id);
    if (!round) {
        return tl::unexpected(round.error());
    }
    return saveMapPng(session, mapRouteOf(session, *round), path);
}

Status writeRadioList(Session &session, const RoundId &id, const QString &path)
{
    const auto round = found(session, id);
    if (!round) {
        return tl::unexpected(round.error());
    }
    const auto plan = timesOf(session, *round);
    if (!plan) {
        return tl::unexpected(plan.error());
    }
    const QStringList lines =
        radioList(*round, *plan, session.valves(), session.histories(), session.units());
    return writeWhole(path, (lines.join(QLatin1Char('\n')) + QLatin1Char('\n')).toUtf8());
}

Status writeDayLog(Session &session, const RoundId &id, const QString &path)
{
    const auto round = found(session, id);
    if (!round) {
        return tl::unexpected(round.error());
    }
    const Sheet log = dayLog(*round, session.valves(), session.histories(),
                             session.settings().utility, session.units());
    return writeCsv(path, {log.table.columns, {log.table.rows.begin(), log.table.rows.end()}});
}

} // namespace keyround
