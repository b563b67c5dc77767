// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"
#include "app/commands/shut_commands.h"
#include "app/print/shut_files.h"
#include "core/reports/shut_sheet.h"

#include <QJsonArray>

#include <algorithm>

namespace keyround::batch {

namespace {

void describe(QCommandLineParser &parser)
{
    parser.setApplicationDescription(
        QObject::tr("shut: which valves shut off a valve's own stretch, a main or a place, with "
                    "what is known of each valve, and who is without water then. Connectivity, not "
                    "pressure: the utility's own operators decide."));
    addProjectOption(parser);
    parser.addOption({QStringLiteral("valve"), QObject::tr("shut this one valve, for exercising"),
                      QStringLiteral("NUMBER")});
    parser.addOption(
        {QStringLiteral("main"), QObject::tr("a break on this main"), QStringLiteral("NUMBER")});
    parser.addOption({QStringLiteral("at"),
                      QObject::tr("a break on the main nearest to this place"),
                      QStringLiteral("LAT,LON")});
    parser.addOption({QStringLiteral("stuck"),
                      QObject::tr("take this valve as not to be closed; may be given again"),
                      QStringLiteral("NUMBER")});
    parser.addOption({QStringLiteral("on"), QObject::tr("the day that a cycle's age is counted to"),
                      QStringLiteral("YYYY-MM-DD")});
    addJsonOption(parser);
    parser.addOption({QStringLiteral("sheet"), QObject::tr("write the shut on paper"),
                      QStringLiteral("OUT.pdf")});
}

/// What was known of the valves, with those that --stuck names taken as stuck.
Outcome<ValveStates> statesFor(const QCommandLineParser &parser, Session &session)
{
    ValveStates states = session.valveStates();
    for (const QString &number : parser.values(QStringLiteral("stuck"))) {
        const NetIndex valve = session.network().network.valve(number);
        if (valve == noIndex) {
            return failed(QObject::tr("--stuck: no valve %1 is on a main").arg(number));
        }
        states[valve].holds = Holds::DoesNotTurn;
        states[valve].why = QObject::tr("taken as stuck, as asked");
    }
    return states;
}

QJsonArray stepsJson(const PipeNetwork &network, const std::vector<ShutStep> &steps)
{
    QJsonArray array;
    for (const ShutStep &step : steps) {
        array.append(QJsonObject{{QStringLiteral("valve"), network.valves[step.valve].number},
                                 {QStringLiteral("why"), step.why}});
    }
    return array;
}

template <typename Rows>
QJsonArray numbersJson(const Rows &rows, const std::vector<NetIndex> &indices)
{
    QJsonArray array;
    for (const NetIndex index : indices) {
        array.append(rows[index].number);
    }
    return array;
}

QJsonObject planJson(const PipeNetwork &network, const ShutPlan &plan)
{
    QJsonArray failures;
    for (const IfItFails &failure : plan.ifFails) {
        failures.append(
            QJsonObject{{QStringLiteral("valve"), network.valves[failure.valve].number},
                        {QStringLiteral("instead"), numbersJson(network.valves, failure.instead)},
                        {QStringLiteral("services_more"), failure.more.services},
                        {QStringLiteral("words"), failure.words}});
    }
    return {{QStringLiteral("at"), plan.at.words},
            {QStringLiteral("close"), stepsJson(network, plan.close)},
            {QStringLiteral("close_dead_side"), stepsJson(network, plan.closeDeadSide)},
            {QStringLiteral("already_closed"), stepsJson(network, plan.alreadyClosed)},
            {QStringLiteral("passed_over"), stepsJson(network, plan.passedOver)},
            {QStringLiteral("services_out"), plan.out.services},
            {QStringLiteral("services_out_beyond"), plan.outBeyond.services},
            {QStringLiteral("critical_out"), numbersJson(network.services, plan.criticalOut)},
            {QStringLiteral("hydrants_out"), numbersJson(network.hydrants, plan.hydrantsOut)},
            {QStringLiteral("source_lost"), numbersJson(network.sources, plan.sourcesLost)},
            {QStringLiteral("if_fails"), failures},
            {QStringLiteral("reopen"), stepsJson(network, plan.reopen)},
            {QStringLiteral("notes"), QJsonArray::fromStringList(plan.notes)},
            {QStringLiteral("caution"), connectivityCaution()}};
}

void sayPlan(const PipeNetwork &network, const ShutPlan &plan)
{
    say(QObject::tr("Shut: %1").arg(plan.at.words));
    const auto list = [&network](const QString &what, const std::vector<ShutStep> &steps) {
        for (const ShutStep &step : steps) {
            say(QStringLiteral("%1\t%2\t%3")
                    .arg(what, network.valves[step.valve].number, step.why));
        }
    };
    list(QObject::tr("close"), plan.close);
    list(QObject::tr("close against drain-back"), plan.closeDeadSide);
    list(QObject::tr("already closed"), plan.alreadyClosed);
    list(QObject::tr("passed over"), plan.passedOver);
    for (const IfItFails &failure : plan.ifFails) {
        say(failure.words);
    }
    say(QObject::tr("Without water: %1 in the shut, %2 beyond it")
            .arg(loadWords(plan.out), loadWords(plan.outBeyond)));
    std::ranges::for_each(plan.notes, complain);
    complain(connectivityCaution());
}

Done shutBreak(const QCommandLineParser &parser, Session &session, const BreakAt &at,
               const ValveStates &states)
{
    const PipeNetwork &network = session.network().network;
    const ShutPlan plan = shutFor(session, at, states);
    sayPlan(network, plan);
    if (parser.isSet(QStringLiteral("sheet"))) {
        if (Status written = writeShutSheet(session, plan, parser.value(QStringLiteral("sheet")));
            !written) {
            return failed(written.error());
        }
    }
    return writeJson(parser, planJson(network, plan));
}

Done shutValve(const QCommandLineParser &parser, Session &session, NetIndex valve,
               const ValveStates &states)
{
    const PipeNetwork &network = session.network().network;
    const NetValve &placed = network.valves[valve];
    const SingleShut shut = shutOne(network, states, valve);
    const QJsonArray step{QJsonObject{{QStringLiteral("valve"), placed.number},
                                      {QStringLiteral("why"), QObject::tr("shut for exercising")}}};
    say(QObject::tr("Valve %1 shut alone: %2 without water")
            .arg(placed.number, loadWords(shut.out)));
    complain(connectivityCaution());
    return writeJson(
        parser, {{QStringLiteral("at"), QObject::tr("valve %1 alone").arg(placed.number)},
                 {QStringLiteral("close"), states[valve].closed ? QJsonArray() : step},
                 {QStringLiteral("close_dead_side"), QJsonArray()},
                 {QStringLiteral("already_closed"), states[valve].closed ? step : QJsonArray()},
                 {QStringLiteral("passed_over"), QJsonArray()},
                 {QStringLiteral("services_out"), shut.out.services},
                 {QStringLiteral("services_out_beyond"), 0},
                 {QStringLiteral("critical_out"), numbersJson(network.services, shut.critical)},
                 {QStringLiteral("hydrants_out"), numbersJson(network.hydrants, shut.hydrants)},
                 {QStringLiteral("source_lost"), QJsonArray()},
                 {QStringLiteral("caution"), connectivityCaution()}});
}

Outcome<BreakAt> breakFrom(const QCommandLineParser &parser, Session &session)
{
    const PipeNetwork &network = session.network().network;
    Result<BreakAt> at = [&]() -> Result<BreakAt> {
        if (parser.isSet(QStringLiteral("main"))) {
            return breakOnMain(network, parser.value(QStringLiteral("main")), {}, session.units());
        }
        const auto place = placeFrom(parser.value(QStringLiteral("at")), QStringLiteral("--at"));
        if (!place) {
            return fail(ErrorCode::BadInput, place.error().message);
        }
        return breakNear(network, *place, breakReach, session.units());
    }();
    if (!at) {
        return failed(at.error());
    }
    return std::move(*at);
}

Status checkNetwork(Session &session)
{
    for (const NetworkNote &note : session.network().report.notes) {
        if (note.kind == NetworkNoteKind::NoMains || note.kind == NetworkNoteKind::NoSource) {
            return fail(ErrorCode::NotFound, note.message);
        }
    }
    return {};
}

} // namespace

Done runShut(const QStringList &arguments)
{
    QCommandLineParser parser;
    describe(parser);
    if (auto parsed = parse(parser, QStringLiteral("shut"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    const int asked = int(parser.isSet(QStringLiteral("valve"))) +
                      int(parser.isSet(QStringLiteral("main"))) +
                      int(parser.isSet(QStringLiteral("at")));
    if (asked != 1) {
        return wrongUse(QObject::tr("say what to shut: one of --valve, --main and --at"));
    }
    auto opened = openSessionOn(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    if (Status sound = checkNetwork(session); !sound) {
        return failed(sound.error());
    }
    const auto states = statesFor(parser, session);
    if (!states) {
        return tl::unexpected(states.error());
    }
    if (parser.isSet(QStringLiteral("valve"))) {
        const QString number = parser.value(QStringLiteral("valve"));
        const NetIndex valve = session.network().network.valve(number);
        if (valve == noIndex) {
            return failed(QObject::tr("no valve %1 is on a main").arg(number));
        }
        return shutValve(parser, session, valve, *states);
    }
    const auto at = breakFrom(parser, session);
    if (!at) {
        return tl::unexpected(at.error());
    }
    return shutBreak(parser, session, *at, *states);
}

Done runSingleShuts(const QStringList &arguments)
{
    QCommandLineParser parser;
    parser.setApplicationDescription(
        QObject::tr("single-shuts: for every valve how many services lose water when it alone is "
                    "shut, and how many more do if it sticks when something breaks beside it (all "
                    "of the larger shut's)."));
    addProjectOption(parser);
    addCsvOption(parser, QObject::tr("where to write"));
    if (auto parsed = parse(parser, QStringLiteral("single-shuts"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    if (!parser.isSet(QStringLiteral("csv"))) {
        return wrongUse(QObject::tr("say where to write: --csv OUT"));
    }
    auto opened = openSession(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    if (Status sound = checkNetwork(session); !sound) {
        return failed(sound.error());
    }
    const PipeNetwork &network = session.network().network;
    const SingleShuts &shuts = session.singleShuts();
    const std::vector<ValveImportance> &importances = session.importances();
    CsvTable table;
    table.header = {QStringLiteral("valve"), QStringLiteral("services_out"),
                    QStringLiteral("critical_out"), QStringLiteral("services_more_if_stuck")};
    for (NetIndex valve = 0; valve < network.valves.size(); ++valve) {
        const Load &out = shuts.of(valve);
        table.rows.push_back({network.valves[valve].number, QString::number(out.services),
                              QString::number(out.critical),
                              QString::number(importances[valve].outIfStuck.services)});
    }
    if (auto written = writeCsvAsked(parser, table); !written) {
        return written;
    }
    complain(QObject::tr("%1 valves on mains; %2 are not, and not in the table")
                 .arg(network.valves.size())
                 .arg(session.valves().size() - network.valves.size()));
    complain(connectivityCaution());
    return exitDone;
}

} // namespace keyround::batch
