// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"

#include "app/commands/round_commands.h"
#include "app/print/round_files.h"
#include "core/storage/round_store.h"

#include <QFile>
#include <QJsonArray>

#include <algorithm>

namespace keyround::batch {

namespace {

void describe(QCommandLineParser &parser)
{
    parser.setApplicationDescription(
        QObject::tr("plan: draws up a crew's round for a day from what is due and keeps it in the "
                    "project. A planned round of that crew and day is drawn up anew."));
    addProjectOption(parser);
    parser.addOption({QStringLiteral("on"), QObject::tr("the day"), QStringLiteral("YYYY-MM-DD")});
    parser.addOption({QStringLiteral("crew"), QObject::tr("whose round"), QStringLiteral("NAME")});
    parser.addOption({QStringLiteral("start"), QObject::tr("where it starts (else the yard)"),
                      QStringLiteral("LAT,LON")});
    parser.addOption({QStringLiteral("finish"), QObject::tr("where it ends (else the start)"),
                      QStringLiteral("LAT,LON")});
    parser.addOption(
        {QStringLiteral("shift"), QObject::tr("from when to when"), QStringLiteral("HH:MM-HH:MM")});
    parser.addOption({QStringLiteral("valves"), QObject::tr("only these valves: one number a line"),
                      QStringLiteral("LIST.txt")});
    addJsonOption(parser);
    parser.addOption(
        {QStringLiteral("gpx"), QObject::tr("write the route as GPX 1.1"), QStringLiteral("OUT")});
    parser.addOption(
        {QStringLiteral("sheet"), QObject::tr("write the route sheet"), QStringLiteral("OUT.pdf")});
    parser.addOption({QStringLiteral("map"), QObject::tr("write the map with the route"),
                      QStringLiteral("OUT.png")});
}

Outcome<Shift> shiftFrom(const QString &text, const Shift &fallback)
{
    if (text.isEmpty()) {
        return fallback;
    }
    const QStringList parts = text.split(QLatin1Char('-'));
    const auto time = [&](qsizetype index) {
        return QTime::fromString(parts.value(index).trimmed(), QStringLiteral("H:mm"));
    };
    const Shift shift{time(0), time(1)};
    if (parts.size() != 2 || !shift.from.isValid() || !shift.to.isValid() ||
        shift.from >= shift.to) {
        return wrongUse(
            QObject::tr("--shift takes times such as 07:00-15:30, the earlier first, not \"%1\"")
                .arg(text));
    }
    return shift;
}

/// The places the round starts and ends at: as told, else the yard.
Outcome<std::pair<GeoPoint, GeoPoint>> endsFrom(const QCommandLineParser &parser, Session &session)
{
    std::optional<GeoPoint> start = session.settings().yard;
    if (parser.isSet(QStringLiteral("start"))) {
        const auto told =
            placeFrom(parser.value(QStringLiteral("start")), QStringLiteral("--start"));
        if (!told) {
            return tl::unexpected(told.error());
        }
        start = *told;
    }
    if (!start) {
        return wrongUse(QObject::tr("this project has no yard yet: give --start LAT,LON"));
    }
    GeoPoint finish = *start;
    if (parser.isSet(QStringLiteral("finish"))) {
        const auto told =
            placeFrom(parser.value(QStringLiteral("finish")), QStringLiteral("--finish"));
        if (!told) {
            return tl::unexpected(told.error());
        }
        finish = *told;
    }
    return std::pair{*start, finish};
}

Outcome<std::vector<ValveId>> valvesFrom(const QString &path, Session &session)
{
    std::vector<ValveId> valves;
    if (path.isEmpty()) {
        return valves;
    }
    QFile file(path);
    if (!file.open(QIODevice::ReadOnly)) {
        return failed(QObject::tr("Cannot read %1: %2").arg(path, file.errorString()));
    }
    QStringList unknown;
    for (const QString &line : QString::fromUtf8(file.readAll()).split(QLatin1Char('\n'))) {
        const QString number = line.trimmed();
        if (number.isEmpty()) {
            continue;
        }
        if (const Valve *valve = session.valveByNumber(number)) {
            valves.push_back(valve->id);
        } else {
            unknown << number;
        }
    }
    if (!unknown.isEmpty()) {
        return failed(QObject::tr("%1 names valves that are not in the inventory: %2")
                          .arg(path, unknown.join(QStringLiteral(", "))));
    }
    if (valves.empty()) {
        return failed(QObject::tr("%1 names no valve.").arg(path));
    }
    return valves;
}

/// The day as asked for; with the id of the crew's planned round of that day when there is one.
Outcome<Round> dayFrom(const QCommandLineParser &parser, Session &session)
{
    Round day;
    day.date = session.today();
    day.crew = parser.value(QStringLiteral("crew"));
    if (day.crew.isEmpty()) {
        day.crew = crewNames(session.settings()).value(0);
    }
    const auto shift = shiftFrom(parser.value(QStringLiteral("shift")), session.settings().shift);
    if (!shift) {
        return tl::unexpected(shift.error());
    }
    day.shift = *shift;
    const auto ends = endsFrom(parser, session);
    if (!ends) {
        return tl::unexpected(ends.error());
    }
    std::tie(day.start, day.finish) = *ends;
    for (const Round &round : session.rounds()) {
        if (round.date == day.date && round.crew == day.crew) {
            if (round.state != RoundState::Planned) {
                return failed(
                    QObject::tr("The round of %1 on %2 is %3 and is not drawn up again.")
                        .arg(day.crew, day.date.toString(Qt::ISODate), wordFor(round.state)));
            }
            day.id = round.id;
        }
    }
    return day;
}

QString clock(const QTime &time)
{
    return time.toString(QStringLiteral("HH:mm"));
}

QJsonObject toJson(Session &session, const DrawnUpRound &drawn)
{
    QJsonArray stops;
    for (const PlannedStop &stop : drawn.plan.stops) {
        const Valve &valve = *session.valve(stop.valve);
        stops.append(QJsonObject{{QStringLiteral("valve"), valve.number},
                                 {QStringLiteral("lat"), valve.place.latitude},
                                 {QStringLiteral("lon"), valve.place.longitude},
                                 {QStringLiteral("arrive"), clock(stop.arrive)},
                                 {QStringLiteral("leave"), clock(stop.leave)},
                                 {QStringLiteral("drive_seconds"), stop.driveSeconds},
                                 {QStringLiteral("drive_metres"), stop.driveMetres},
                                 {QStringLiteral("stop_minutes"), stop.stopMinutes}});
    }
    QJsonArray leftOut;
    for (const LeftOut &left : drawn.plan.leftOut) {
        leftOut.append(QJsonObject{{QStringLiteral("valve"), session.valve(left.valve)->number},
                                   {QStringLiteral("reason"), left.reason}});
    }
    return {{QStringLiteral("date"), drawn.round.date.toString(Qt::ISODate)},
            {QStringLiteral("crew"), drawn.round.crew},
            {QStringLiteral("travel"), wordFor(drawn.plan.travel)},
            {QStringLiteral("stops"), stops},
            {QStringLiteral("return_seconds"), drawn.plan.returnSeconds},
            {QStringLiteral("drive_seconds"), drawn.plan.driveSeconds},
            {QStringLiteral("drive_metres"), drawn.plan.driveMetres},
            {QStringLiteral("finish"), clock(drawn.plan.finish)},
            {QStringLiteral("left_out"), leftOut},
            {QStringLiteral("notes"), QJsonArray::fromStringList(drawn.plan.notes)}};
}

/// Why nothing came of it; such a round is not kept.
QString noStops(const DrawnUpRound &drawn)
{
    QStringList why{QObject::tr("No stop fits this round, and none was kept.")};
    if (!drawn.plan.leftOut.empty()) {
        why << QObject::tr("The first of %1 valves left out: %2")
                   .arg(drawn.plan.leftOut.size())
                   .arg(drawn.plan.leftOut.front().reason);
    }
    why << drawn.plan.notes;
    why << QObject::tr("Look at the shift, the start and the finish.");
    return why.join(QLatin1Char(' '));
}

Done writeFiles(const QCommandLineParser &parser, Session &session, const RoundId &round)
{
    using Writer = Status (*)(Session &, const RoundId &, const QString &);
    const std::initializer_list<std::pair<QString, Writer>> files{
        {QStringLiteral("gpx"), writeRouteGpx},
        {QStringLiteral("sheet"), writeRouteSheet},
        {QStringLiteral("map"), writeRouteMap}};
    for (const auto &[option, write] : files) {
        if (!parser.isSet(option)) {
            continue;
        }
        if (const Status written = write(session, round, parser.value(option)); !written) {
            return failed(QObject::tr("The round is kept in the project, but: %1")
                              .arg(written.error().message));
        }
    }
    return exitDone;
}

void sayPlan(Session &session, const DrawnUpRound &drawn)
{
    int number = 0;
    for (const PlannedStop &stop : drawn.plan.stops) {
        const Valve &valve = *session.valve(stop.valve);
        say(QStringLiteral("%1\t%2-%3\t%4\t%5")
                .arg(QString::number(++number), clock(stop.arrive), clock(stop.leave), valve.number,
                     valve.address));
    }
    complain(QObject::tr("%1 on %2: %3 stops, %4 driving (%5), back at %6; %7 left out")
                 .arg(drawn.round.crew, drawn.round.date.toString(Qt::ISODate),
                      QString::number(drawn.plan.stops.size()),
                      durationText({drawn.plan.driveSeconds}), wordFor(drawn.plan.travel),
                      clock(drawn.plan.finish), QString::number(drawn.plan.leftOut.size())));
    std::ranges::for_each(drawn.plan.notes, complain);
}

} // namespace

Done runPlan(const QStringList &arguments)
{
    QCommandLineParser parser;
    describe(parser);
    if (auto parsed = parse(parser, QStringLiteral("plan"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    const auto date = dateOption(parser, QStringLiteral("on"), {});
    if (!date) {
        return tl::unexpected(date.error());
    }
    auto opened = openSession(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    session.setDay(*date);
    const auto day = dayFrom(parser, session);
    if (!day) {
        return tl::unexpected(day.error());
    }
    const auto only = valvesFrom(parser.value(QStringLiteral("valves")), session);
    if (!only) {
        return tl::unexpected(only.error());
    }
    const auto drawn = drawUpRound(session, *day, *only);
    if (!drawn) {
        return failed(drawn.error());
    }
    if (drawn->plan.stops.empty()) {
        return failed(noStops(*drawn));
    }
    if (const Status stored = session.project().rounds().put(drawn->round); !stored) {
        return failed(stored.error());
    }
    Q_EMIT session.notifier().roundsChanged();
    sayPlan(session, *drawn);
    if (Done written = writeFiles(parser, session, drawn->round.id); !written) {
        return written;
    }
    return writeJson(parser, toJson(session, *drawn));
}

} // namespace keyround::batch
