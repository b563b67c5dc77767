// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/day_packet.h"

#include "app/commands/round_commands.h"
#include "app/commands/work_zone.h"
#include "app/map/map_painter.h"
#include "app/models/notice_words.h"
#include "app/print/field_pages.h"
#include "app/print/notice_files.h"
#include "app/print/page_furniture.h"
#include "app/print/sheet_printer.h"
#include "app/print/zone_files.h"
#include "core/reports/day_log.h"
#include "core/workzone/set_up_words.h"

#include <algorithm>

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

QString counted(std::size_t count, const QString &one, const QString &many)
{
    return count == 0   ? QObject::tr("no %1").arg(many)
           : count == 1 ? QObject::tr("1 %1").arg(one)
                        : QObject::tr("%1 %2").arg(count).arg(many);
}

QString setUpWords(const SetUp &setUp)
{
    return QStringList{
        headlineOf(setUp),
        counted(static_cast<std::size_t>(setUp.cones), QObject::tr("cone"), QObject::tr("cones")),
        counted(setUp.signs.size(), QObject::tr("sign"), QObject::tr("signs")),
        counted(static_cast<std::size_t>(setUp.flaggers), QObject::tr("flagger"),
                QObject::tr("flaggers"))}
        .join(QStringLiteral(", "));
}

using Parts = std::vector<PaperPart>;

Status addRoute(Session &session, const Round &round, Parts &parts)
{
    const Result<DayPlan> plan = timesOf(session, round);
    if (!plan) {
        return tl::unexpected(plan.error());
    }
    Sheet sheet = routeSheet(round, *plan, session.valves(), session.histories(),
                             session.settings().utility, session.units(), extrasOf(session, round));
    auto content = std::make_shared<MapContent>(gatherMap(session));
    content->route = mapRouteOf(session, round);
    // On paper the stops must stand out, also in grey: the other valves are left off.
    content->valves.clear();
    content->valveIndex = {};
    const SheetPicture map = [content](QPainter &painter, const QRectF &area) {
        paintMap(painter, area, *content, viewOfRoute(*content, content->route, area.size()));
    };
    parts.push_back(paperOf(SheetPart{std::move(sheet), map, 1.0}));
    return {};
}

Status addField(Session &session, const Round &round, Parts &parts)
{
    return timesOf(session, round).map([&](const DayPlan &plan) {
        parts.push_back(paperOf(fieldSheet(round, plan, session.valves(), session.histories(),
                                           session.units(), extrasOf(session, round))));
    });
}

Status addLoad(Session &session, const Round &round, Parts &parts)
{
    return loadSheetOf(session, round.id).map([&parts](Sheet &&sheet) {
        parts.push_back(paperOf(SheetPart{std::move(sheet), {}, 1.0}));
    });
}

Status addZones(Session &session, const Round &round, Parts &parts)
{
    return roundZoneParts(session, round.id).map([&parts](std::vector<SheetPart> &&zones) {
        for (SheetPart &zone : zones) {
            parts.push_back(paperOf(std::move(zone)));
        }
    });
}

/// With the words of the first wording for calls, where it can be filled in.
Status addCalls(Session &session, const Round &round, Parts &parts)
{
    const Result<std::vector<NoticeJob>> jobs = noticeJobsOf(session, round);
    if (!jobs) {
        return tl::unexpected(jobs.error());
    }
    NoticePrint print;
    const std::vector<NoticeTemplate> &list = session.settings().noticeTemplates.list;
    const auto call = std::ranges::find(list, NoticeForm::Call, &NoticeTemplate::form);
    if (call != list.end()) {
        print.wordings = {*call};
    }
    for (const NoticeJob &job : *jobs) {
        Result<Sheet> sheet = callSheet(session, job, print);
        if (!sheet) {
            sheet = callSheet(session, job, {});
        }
        if (!sheet) {
            return tl::unexpected(sheet.error());
        }
        parts.push_back(paperOf(SheetPart{std::move(*sheet), {}, 1.0}));
    }
    return {};
}

Status addLog(Session &session, const Round &round, Parts &parts)
{
    Sheet log = dayLog(round, session.valves(), session.histories(), session.settings().utility,
                       session.units());
    if (!log.table.rows.empty()) {
        parts.push_back(paperOf(SheetPart{std::move(log), {}, 1.0}));
    }
    return {};
}

Status addPart(Session &session, const Round &round, DayPart part, Parts &parts)
{
    switch (part) {
    case DayPart::Route:
        return addRoute(session, round, parts);
    case DayPart::Field:
        return addField(session, round, parts);
    case DayPart::Load:
        return addLoad(session, round, parts);
    case DayPart::Zones:
        return addZones(session, round, parts);
    case DayPart::Calls:
        return addCalls(session, round, parts);
    case DayPart::Log:
        break;
    }
    return addLog(session, round, parts);
}

constexpr DayPart allParts[]{DayPart::Route, DayPart::Field, DayPart::Load,
                             DayPart::Zones, DayPart::Calls, DayPart::Log};

} // namespace

QString wordsFor(DayPart part)
{
    switch (part) {
    case DayPart::Route:
        return QObject::tr("Route sheet with map");
    case DayPart::Field:
        return QObject::tr("Field sheets");
    case DayPart::Load:
        return QObject::tr("Load list");
    case DayPart::Zones:
        return QObject::tr("Work zones");
    case DayPart::Calls:
        return QObject::tr("Call lists");
    case DayPart::Log:
        break;
    }
    return QObject::tr("Day log");
}

QString keyFor(DayPart part)
{
    switch (part) {
    case DayPart::Route:
        return QStringLiteral("route");
    case DayPart::Field:
        return QStringLiteral("field");
    case DayPart::Load:
        return QStringLiteral("load");
    case DayPart::Zones:
        return QStringLiteral("zones");
    case DayPart::Calls:
        return QStringLiteral("calls");
    case DayPart::Log:
        break;
    }
    return QStringLiteral("log");
}

std::optional<DayPart> dayPartFromKey(const QString &key)
{
    for (const DayPart part : allParts) {
        if (key == keyFor(part)) {
            return part;
        }
    }
    return std::nullopt;
}

StopExtrasById extrasOf(Session &session, const Round &round)
{
    StopExtrasById extras;
    for (const ValveId &id : round.stops) {
        const Valve *valve = session.valve(id);
        if (valve == nullptr) {
            continue;
        }
        StopExtras extra;
        if (const Result<SetUp> setUp = setUpFor(session, *valve)) {
            extra.setUp = setUpWords(*setUp);
        }
        if (!session.mains().empty()) {
            const QString who = whoLosesWater(session, id);
            const QString told =
                noticeStanding(session, id, QDateTime(round.date, round.shift.from)).words;
            extra.told = QStringList{who, told}.join(QLatin1Char(' ')).trimmed();
        }
        extras.insert(id, extra);
    }
    return extras;
}

Result<std::vector<PaperPart>> dayPaper(Session &session, const RoundId &id,
                                        const std::vector<DayPart> &wanted)
{
    const Result<Round> round = found(session, id);
    if (!round) {
        return tl::unexpected(round.error());
    }
    Parts parts;
    for (const DayPart part : wanted) {
        if (Status added = addPart(session, *round, part, parts); !added) {
            return tl::unexpected(added.error());
        }
    }
    if (parts.empty()) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("There is nothing to print of this: nobody loses water by the "
                                "round, or nothing was recorded yet."));
    }
    return parts;
}

std::vector<DayPart> packetOf(Session &session, const RoundId &id)
{
    std::vector<DayPart> parts(std::begin(allParts), std::end(allParts));
    const Round *round = session.round(id);
    if (round == nullptr || round->state == RoundState::Planned) {
        parts.pop_back();
    }
    return parts;
}

Status writeDayPacket(Session &session, const RoundId &id, const std::vector<DayPart> &wanted,
                      const QString &path)
{
    return dayPaper(session, id, wanted).and_then([&](const std::vector<PaperPart> &parts) {
        const Round *round = session.round(id);
        const QString title =
            QObject::tr("%1, %2").arg(round->date.toString(Qt::ISODate), round->crew);
        return writePaper(title, parts, furnitureOf(session), {}, path);
    });
}

} // namespace keyround
