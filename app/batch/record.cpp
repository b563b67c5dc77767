// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"

#include "app/commands/import_layer.h"
#include "app/commands/visit_commands.h"
#include "app/print/round_files.h"
#include "core/storage/round_store.h"

#include <QJsonArray>

#include <algorithm>

namespace keyround::batch {

namespace {

void describe(QCommandLineParser &parser)
{
    parser.setApplicationDescription(
        QObject::tr("record: records visits from a CSV file, judges each count, and, with --round, "
                    "enters them into that day's round. Recording a file twice adds nothing."));
    addProjectOption(parser);
    parser.addOption(
        {QStringLiteral("visits"), QObject::tr("one visit a row"), QStringLiteral("RESULTS.csv")});
    parser.addOption({QStringLiteral("round"), QObject::tr("the day of the round they belong to"),
                      QStringLiteral("DATE")});
    parser.addOption({QStringLiteral("crew"), QObject::tr("whose round, where a day has several"),
                      QStringLiteral("NAME")});
    parser.addOption(
        {QStringLiteral("finish"),
         QObject::tr("the round is over: what was not done goes back to the due list")});
    parser.addOption({QStringLiteral("log"), QObject::tr("write the day's log (needs --round)"),
                      QStringLiteral("OUT.csv")});
    addJsonOption(parser);
}

Outcome<RoundId> roundFrom(const QCommandLineParser &parser, Session &session)
{
    const auto date = dateOption(parser, QStringLiteral("round"), {});
    if (!date) {
        return tl::unexpected(date.error());
    }
    if (date->isNull()) {
        if (parser.isSet(QStringLiteral("finish")) || parser.isSet(QStringLiteral("log"))) {
            return wrongUse(QObject::tr("--finish and --log need --round DATE"));
        }
        return RoundId{};
    }
    const QString crew = parser.value(QStringLiteral("crew"));
    QStringList crews;
    RoundId found;
    for (const Round &round : session.rounds()) {
        if (round.date == *date && (crew.isEmpty() || round.crew == crew)) {
            crews << round.crew;
            found = round.id;
        }
    }
    const QString day = date->toString(Qt::ISODate);
    if (crews.isEmpty()) {
        return failed(
            QObject::tr("There is no round on %1. Draw one up first: plan --on %1").arg(day));
    }
    if (crews.size() > 1) {
        return wrongUse(QObject::tr("%1 has several rounds (%2): say which with --crew NAME")
                            .arg(day, crews.join(QStringLiteral(", "))));
    }
    return found;
}

QJsonObject visitJson(Session &session, const ValveId &id, const VisitId &visitId)
{
    const ValveHistory &history = session.history(id);
    const auto read = std::ranges::find_if(
        history.visits, [&](const ReadVisit &each) { return each.visit.id == visitId; });
    QJsonObject json{{QStringLiteral("valve"), session.valve(id)->number}};
    if (read != history.visits.end()) {
        json.insert(QStringLiteral("date"), read->visit.arrived.localDate().toString(Qt::ISODate));
        json.insert(QStringLiteral("counted"), read->judgement.counted.turns());
        json.insert(QStringLiteral("verdict"), wordFor(read->judgement.verdict));
        json.insert(QStringLiteral("baseline"), wordsFor(read->judgement.baseline));
        json.insert(QStringLiteral("condition"), keyFor(read->after));
        json.insert(QStringLiteral("full_cycle"), read->fullCycle);
    }
    return json;
}

QJsonArray numbersJson(Session &session, const std::vector<ValveId> &valves)
{
    QJsonArray array;
    for (const ValveId &id : valves) {
        const Valve *valve = session.valve(id);
        array.append(valve != nullptr ? valve->number : QString());
    }
    return array;
}

QJsonObject outcomeJson(Session &session, const Round &round)
{
    const RoundOutcome outcome = outcomeOf(session, round);
    return {{QStringLiteral("date"), round.date.toString(Qt::ISODate)},
            {QStringLiteral("crew"), round.crew},
            {QStringLiteral("state"), wordFor(round.state)},
            {QStringLiteral("done"), numbersJson(session, outcome.done)},
            {QStringLiteral("not_done"), numbersJson(session, outcome.notDone)},
            {QStringLiteral("left_not_normal"), numbersJson(session, outcome.leftAbnormal)},
            {QStringLiteral("went_out"), numbersJson(session, outcome.newlyBad)},
            {QStringLiteral("new_defects"), numbersJson(session, outcome.newDefects)}};
}

Outcome<ImportPlan> planVisits(const QCommandLineParser &parser, Session &session,
                               const RoundId &round)
{
    ReadRequest request;
    request.path = parser.value(QStringLiteral("visits"));
    auto plan = prepareImport(session, LayerKind::Visits, request);
    if (!plan) {
        return failed(plan.error());
    }
    for (Visit &visit : std::get<std::vector<Visit>>(plan->rows)) {
        visit.round = round;
    }
    return std::move(*plan);
}

/// Moves the round on and writes the log, when a round is meant.
Done followUp(const QCommandLineParser &parser, Session &session, const RoundId &id)
{
    if (id.isNull()) {
        return exitDone;
    }
    if (session.round(id)->state == RoundState::Planned) {
        if (const Status state = session.project().rounds().setState(id, RoundState::UnderWay);
            !state) {
            return failed(state.error());
        }
        Q_EMIT session.notifier().roundsChanged();
    }
    if (parser.isSet(QStringLiteral("finish"))) {
        const auto backup = finishRound(session, id);
        if (!backup) {
            return failed(backup.error());
        }
        say(QObject::tr("Round finished; back-up in %1").arg(*backup));
    }
    if (parser.isSet(QStringLiteral("log"))) {
        const Status written = writeDayLog(session, id, parser.value(QStringLiteral("log")));
        if (!written) {
            return failed(written.error());
        }
    }
    return exitDone;
}

} // namespace

Done runRecord(const QStringList &arguments)
{
    QCommandLineParser parser;
    describe(parser);
    if (auto parsed = parse(parser, QStringLiteral("record"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    if (!parser.isSet(QStringLiteral("visits"))) {
        return wrongUse(QObject::tr("--visits RESULTS.csv is needed"));
    }
    auto opened = openSession(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    const auto round = roundFrom(parser, session);
    if (!round) {
        return tl::unexpected(round.error());
    }
    if (!round->isNull() && session.round(*round)->date > session.today()) {
        session.setDay(session.round(*round)->date); // a day tried out ahead of time
    }
    const auto plan = planVisits(parser, session, *round);
    if (!plan) {
        return tl::unexpected(plan.error());
    }
    complainOf(plan->warnings, QObject::tr("note"));
    complainOf(plan->rejected, QObject::tr("not taken"));
    if (const Status applied = applyImport(session, *plan); !applied) {
        return failed(applied.error());
    }
    if (const Done followed = followUp(parser, session, *round); !followed) {
        return failed(
            QObject::tr("The visits are recorded, but: %1").arg(followed.error().message));
    }
    QJsonArray visits;
    for (const Visit &visit : std::get<std::vector<Visit>>(plan->rows)) {
        visits.append(visitJson(session, visit.valve, visit.id));
    }
    say(QObject::tr("%1 visits recorded, %2 were there already, %3 rows not taken")
            .arg(plan->diff.added.size())
            .arg(plan->diff.unchanged.size())
            .arg(plan->rejected.size()));
    QJsonObject json{{QStringLiteral("recorded"), plan->diff.added.size()},
                     {QStringLiteral("already_recorded"), plan->diff.unchanged.size()},
                     {QStringLiteral("visits"), visits},
                     {QStringLiteral("rejected"), notesJson(plan->rejected)},
                     {QStringLiteral("warnings"), notesJson(plan->warnings)}};
    if (!round->isNull()) {
        json.insert(QStringLiteral("round"), outcomeJson(session, *session.round(*round)));
    }
    return writeJson(parser, json);
}

} // namespace keyround::batch
