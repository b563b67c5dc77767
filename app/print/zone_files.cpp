// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/zone_files.h"

#include "app/commands/work_zone.h"
#include "app/print/page_furniture.h"
#include "core/reports/load_sheet.h"
#include "core/reports/zone_sheet.h"

#include <QPainter>

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

SheetPart partOf(Session &session, const Valve &valve, const StopSite &stop, const SetUp &setUp)
{
    constexpr double half = 0.62; // the drawing's share of the first page
    const ZoneDrawing drawing = zoneDrawingOf(session, valve, setUp);
    return {zoneSheet(valve, stop.streetName, stop.known, setUp, session.settings().utility,
                      session.units()),
            [drawing](QPainter &painter, const QRectF &area) { paintZone(painter, area, drawing); },
            half};
}

} // namespace

ZoneDrawing zoneDrawingOf(Session &session, const Valve &valve, const SetUp &setUp)
{
    const StopSite stop = siteFor(session, valve);
    ZoneDrawing drawing = zoneDrawing(stop.site, setUp, session.units());
    ZoneGround ground = groundOf(session, valve);
    drawing.street = std::move(ground.street);
    drawing.lid = ground.lid;
    drawing.forward = ground.forward;
    drawing.drivesLeft = ground.drivesLeft;
    drawing.firstIsDeadEnd = ground.firstIsDeadEnd;
    drawing.lastIsDeadEnd = ground.lastIsDeadEnd;
    drawing.streetName = stop.streetName;
    return drawing;
}

Status writeZoneSheet(Session &session, const Valve &valve, const QString &path)
{
    const StopSite stop = siteFor(session, valve);
    const Result<SetUp> setUp = setUpFor(session, valve, stop);
    if (!setUp) {
        return tl::unexpected(setUp.error());
    }
    return writeSheetsPdf({partOf(session, valve, stop, *setUp)}, furnitureOf(session), path);
}

Result<std::vector<SheetPart>> roundZoneParts(Session &session, const RoundId &id)
{
    const auto round = found(session, id);
    if (!round) {
        return tl::unexpected(round.error());
    }
    std::vector<RoundZone> zones;
    std::vector<SheetPart> parts(1);
    for (LoadStop &each : loadStopsOf(session, *round)) {
        const StopSite stop = siteFor(session, each.valve);
        RoundZone zone{std::move(each), stop.streetName, {}};
        if (zone.stop.setUp) {
            parts.push_back(partOf(session, zone.stop.valve, stop, *zone.stop.setUp));
        } else {
            zone.notWorkedOut = setUpFor(session, zone.stop.valve, stop).error().message;
        }
        zones.push_back(std::move(zone));
    }
    parts.front().sheet =
        roundZoneSheet(*round, zones, session.settings().utility, session.units());
    return parts;
}

Status writeRoundZones(Session &session, const RoundId &id, const QString &path)
{
    return roundZoneParts(session, id).and_then([&](const std::vector<SheetPart> &parts) {
        return writeSheetsPdf(parts, furnitureOf(session), path);
    });
}

Result<Sheet> loadSheetOf(Session &session, const RoundId &id)
{
    return found(session, id).map([&session](const Round &round) {
        return loadSheet(round, loadListOf(session, round), session.settings().utility);
    });
}

Status writeLoadSheet(Session &session, const RoundId &id, const QString &path)
{
    const Result<Sheet> sheet = loadSheetOf(session, id);
    if (!sheet) {
        return tl::unexpected(sheet.error());
    }
    return writeSheetPdf(*sheet, furnitureOf(session), {}, path);
}

} // namespace keyround
