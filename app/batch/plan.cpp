// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"

#include "app/batch/plan_request.h"
#include "app/batch/plan_words.h"
#include "app/commands/round_commands.h"
#include "app/print/round_files.h"
#include "core/storage/round_store.h"

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
    parser.addOption({QStringLiteral("must"),
                      QObject::tr("a valve that is never given up for others; may be given again"),
                      QStringLiteral("NUMBER")});
    parser.addOption({QStringLiteral("break"),
                      QObject::tr("a break that begins between two times (else the project's); may "
                                  "be given again; \"none\" for none"),
                      QStringLiteral("HH:MM-HH:MM/MINUTES")});
    addJsonOption(parser);
    parser.addOption({QStringLiteral("radio"), QObject::tr("write the round to be read aloud"),
                      QStringLiteral("OUT.txt")});
    parser.addOption(
        {QStringLiteral("gpx"), QObject::tr("write the route as GPX 1.1"), QStringLiteral("OUT")});
    parser.addOption(
        {QStringLiteral("sheet"), QObject::tr("write the route sheet"), QStringLiteral("OUT.pdf")});
    parser.addOption({QStringLiteral("map"), QObject::tr("write the map with the route"),
                      QStringLiteral("OUT.png")});
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
        {QStringLiteral("radio"), writeRadioList},
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
    std::ranges::for_each(stopLines(session, drawn.plan), say);
    complain(QObject::tr("%1 on %2: %3 stops, %4; back at %5; %6 left out")
                 .arg(drawn.round.crew, drawn.round.date.toString(Qt::ISODate),
                      QString::number(drawn.plan.stops.size()), drivingWords(drawn.plan),
                      clock(drawn.plan.finish), QString::number(drawn.plan.leftOut.size())));
    if (drawn.plan.waitSeconds >= 30) {
        complain(QObject::tr("%1 waiting").arg(durationText({drawn.plan.waitSeconds})));
    }
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
    return writeJson(parser, toJson(session, drawn->round, drawn->plan));
}

} // namespace keyround::batch
