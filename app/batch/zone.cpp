// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"

#include "app/commands/work_zone.h"
#include "app/print/zone_files.h"
#include "core/reports/zone_sheet.h"
#include "core/workzone/set_up_words.h"

#include <QJsonArray>

#include <algorithm>

namespace keyround::batch {

namespace {

QString optionFor(SiteQuestion question)
{
    return keyFor(question).replace(QLatin1Char('_'), QLatin1Char('-'));
}

std::vector<SiteQuestion> allQuestions()
{
    std::vector<SiteQuestion> all;
    for (int i = 0; i < siteQuestionCount; ++i) {
        all.push_back(static_cast<SiteQuestion>(i));
    }
    return all;
}

void describeSetUp(QCommandLineParser &parser)
{
    parser.setApplicationDescription(QObject::tr(
        "set-up: the temporary traffic control set-up offered for a valve, with cones, signs, "
        "tapers and people. What is answered here is remembered for the street (lid and sight: for "
        "the valve). It helps a trained person decide: the road authority's rules, the permit and "
        "the person on site decide."));
    addProjectOption(parser);
    parser.addOption(
        {QStringLiteral("valve"), QObject::tr("which valve"), QStringLiteral("NUMBER")});
    for (const SiteQuestion question : allQuestions()) {
        QStringList offered;
        for (const SiteAnswer &answer : answersTo(question, UnitSystem::Us)) {
            offered << answer.words;
        }
        parser.addOption(
            {optionFor(question),
             QStringLiteral("%1 (%2)").arg(wordsFor(question), offered.join(QStringLiteral("; "))),
             QStringLiteral("ANSWER")});
    }
    addJsonOption(parser);
    parser.addOption({QStringLiteral("sheet"), QObject::tr("write the work zone on paper"),
                      QStringLiteral("OUT.pdf")});
}

/// Remembers the answers of the command line.
Done takeAnswers(const QCommandLineParser &parser, Session &session, const Valve &valve)
{
    for (const SiteQuestion question : allQuestions()) {
        const QString option = optionFor(question);
        if (!parser.isSet(option)) {
            continue;
        }
        const Result<double> answer = readAnswer(question, parser.value(option), session.units());
        if (!answer) {
            return wrongUse(QStringLiteral("--%1: %2").arg(option, answer.error().message));
        }
        if (const Status kept = answerSite(session, valve, question, *answer); !kept) {
            return failed(kept.error());
        }
    }
    return exitDone;
}

QJsonObject partJson(const ZonePart &part)
{
    const bool isTaper = part.kind == ZonePart::Kind::Taper;
    const QString kind = isTaper                               ? QStringLiteral("taper")
                         : part.kind == ZonePart::Kind::Buffer ? QStringLiteral("buffer")
                                                               : QStringLiteral("work_space");
    return {{QStringLiteral("part"), kind},
            {QStringLiteral("taper"), isTaper ? wordFor(part.taper) : QString()},
            {QStringLiteral("feet"), part.length.value},
            {QStringLiteral("spacing_feet"), part.spacing.value},
            {QStringLiteral("cones"), part.cones},
            {QStringLiteral("why"), part.why}};
}

QJsonObject setUpJson(const Valve &valve, const StopSite &stop, const SetUp &setUp)
{
    QJsonArray parts;
    for (const ZonePart &part : setUp.parts) {
        parts.append(partJson(part));
    }
    QJsonArray signs;
    for (const ZoneSign &sign : setUp.signs) {
        signs.append(QJsonObject{{QStringLiteral("legend"), sign.legend},
                                 {QStringLiteral("before_feet"), sign.before.value},
                                 {QStringLiteral("approach"), sign.approach}});
    }
    return {{QStringLiteral("valve"), valve.number},
            {QStringLiteral("street"), stop.streetName},
            {QStringLiteral("application"), setUp.application.number},
            {QStringLiteral("application_name"), setUp.application.name},
            {QStringLiteral("why"), setUp.why},
            {QStringLiteral("duration"), wordFor(setUp.duration)},
            {QStringLiteral("parts"), parts},
            {QStringLiteral("signs"), signs},
            {QStringLiteral("cones"), setUp.cones},
            {QStringLiteral("flaggers"), setUp.flaggers},
            {QStringLiteral("people"), setUp.people},
            {QStringLiteral("set_up_minutes"), setUp.setUpMinutes},
            {QStringLiteral("take_down_minutes"), setUp.takeDownMinutes},
            {QStringLiteral("changed"), QJsonArray::fromStringList(changeWords(setUp))},
            {QStringLiteral("doubts"), QJsonArray::fromStringList(setUp.doubts)},
            {QStringLiteral("cautions"), QJsonArray::fromStringList(setUp.cautions)}};
}

void describeLoad(QCommandLineParser &parser)
{
    parser.setApplicationDescription(
        QObject::tr("load-list: what the truck must carry for a round, and which stops need it."));
    addProjectOption(parser);
    addRoundOptions(parser, QStringLiteral("date"));
    addJsonOption(parser);
    parser.addOption({QStringLiteral("sheet"), QObject::tr("write the list on paper"),
                      QStringLiteral("OUT.pdf")});
    parser.addOption({QStringLiteral("zones"),
                      QObject::tr("write the work zones of all stops on paper"),
                      QStringLiteral("OUT.pdf")});
}

QJsonArray numbersJson(Session &session, const std::vector<ValveId> &ids)
{
    QJsonArray numbers;
    for (const ValveId &id : ids) {
        const Valve *valve = session.valve(id);
        numbers.append(valve == nullptr ? QString() : valve->number);
    }
    return numbers;
}

} // namespace

Done runSetUp(const QStringList &arguments)
{
    QCommandLineParser parser;
    describeSetUp(parser);
    if (auto parsed = parse(parser, QStringLiteral("set-up"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    if (!parser.isSet(QStringLiteral("valve"))) {
        return wrongUse(QObject::tr("say which valve: --valve NUMBER"));
    }
    auto opened = openSession(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    const QString number = parser.value(QStringLiteral("valve"));
    const Valve *known = session.valveByNumber(number);
    if (known == nullptr) {
        return failed(QObject::tr("no valve %1 is in the project").arg(number));
    }
    const Valve valve = *known;
    if (Done taken = takeAnswers(parser, session, valve); !taken) {
        return taken;
    }
    const StopSite stop = siteFor(session, valve);
    if (!stop.questions.empty()) {
        QStringList options;
        for (const SiteQuestion question : stop.questions) {
            options << QStringLiteral("--%1: %2").arg(optionFor(question), wordsFor(question));
        }
        return failed(QObject::tr("not known yet of valve %1 on %2:\n%3")
                          .arg(number, stop.streetName, options.join(QLatin1Char('\n'))));
    }
    const Result<SetUp> setUp = setUpFor(session, valve, stop);
    if (!setUp) {
        return failed(setUp.error());
    }
    say(QObject::tr("Valve %1, %2: %3 (%4)")
            .arg(number, stop.streetName, headlineOf(*setUp), setUp->why));
    say(siteWords(stop.known, session.units()));
    for (const SetUpLine &line : linesOf(*setUp, session.units())) {
        say(QStringLiteral("%1\t%2\t%3").arg(line.what, line.amount, line.why));
    }
    std::ranges::for_each(changeWords(*setUp), say);
    std::ranges::for_each(setUp->doubts, complain);
    std::ranges::for_each(setUp->cautions, complain);
    if (parser.isSet(QStringLiteral("sheet"))) {
        if (Status written = writeZoneSheet(session, valve, parser.value(QStringLiteral("sheet")));
            !written) {
            return failed(written.error());
        }
    }
    return writeJson(parser, setUpJson(valve, stop, *setUp));
}

Done runLoadList(const QStringList &arguments)
{
    QCommandLineParser parser;
    describeLoad(parser);
    if (auto parsed = parse(parser, QStringLiteral("load-list"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    auto opened = openSession(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    const auto round = roundOf(parser, session, QStringLiteral("date"));
    if (!round) {
        return tl::unexpected(round.error());
    }
    QJsonArray lines;
    for (const LoadLine &line : loadListOf(session, *round)) {
        const QJsonArray stops = numbersJson(session, line.stops);
        say(QStringLiteral("%1\t%2\t%3 stops").arg(line.amount, line.what).arg(stops.size()));
        lines.append(
            QJsonObject{{QStringLiteral("what"), line.what},
                        {QStringLiteral("amount"), line.amount},
                        {QStringLiteral("stops"), stops},
                        {QStringLiteral("deciding"), numbersJson(session, line.deciding)}});
    }
    complain(QObject::tr("The road authority's rules, the permit and the person on site decide "
                         "what a stop needs."));
    const auto write = [&](const QString &option, auto writer) -> Done {
        if (!parser.isSet(option)) {
            return exitDone;
        }
        if (Status written = writer(session, round->id, parser.value(option)); !written) {
            return failed(written.error());
        }
        return exitDone;
    };
    if (Done sheet = write(QStringLiteral("sheet"), writeLoadSheet); !sheet) {
        return sheet;
    }
    if (Done zones = write(QStringLiteral("zones"), writeRoundZones); !zones) {
        return zones;
    }
    return writeJson(parser, {{QStringLiteral("date"), round->date.toString(Qt::ISODate)},
                              {QStringLiteral("crew"), round->crew},
                              {QStringLiteral("lines"), lines}});
}

} // namespace keyround::batch
