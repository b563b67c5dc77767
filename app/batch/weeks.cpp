// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"

#include "app/batch/plan_words.h"
#include "app/commands/coming_days.h"

#include <QJsonArray>

#include <algorithm>

namespace keyround::batch {

namespace {

constexpr int mostDays = 60;

void describe(QCommandLineParser &parser)
{
    parser.setApplicationDescription(
        QObject::tr("weeks: draws up the working days to come for all crews from what is due. Days "
                    "that people were told of keep their stops. Stores nothing without --keep."));
    addProjectOption(parser);
    parser.addOption(
        {QStringLiteral("from"), QObject::tr("the first day"), QStringLiteral("YYYY-MM-DD")});
    parser.addOption({QStringLiteral("days"), QObject::tr("working days of each crew (5)"),
                      QStringLiteral("N")});
    parser.addOption({QStringLiteral("crew"), QObject::tr("only this crew; may be given again"),
                      QStringLiteral("NAME")});
    addJsonOption(parser);
    addCsvOption(parser, QObject::tr("write a line a stop"));
    parser.addOption({QStringLiteral("keep"), QObject::tr("store the rounds in the project")});
}

Outcome<int> daysFrom(const QCommandLineParser &parser)
{
    const QString text = parser.value(QStringLiteral("days"));
    if (text.isEmpty()) {
        return DaysWanted{}.days;
    }
    bool isNumber = false;
    const int days = text.toInt(&isNumber);
    if (!isNumber || days < 1 || days > mostDays) {
        return wrongUse(QObject::tr("--days takes a whole number from 1 to %1, not \"%2\"")
                            .arg(QString::number(mostDays), text));
    }
    return days;
}

Outcome<QStringList> crewsFrom(const QCommandLineParser &parser, Session &session)
{
    const QStringList known = crewNames(session.settings());
    QStringList crews = parser.values(QStringLiteral("crew"));
    crews.removeDuplicates();
    for (const QString &crew : crews) {
        if (!known.contains(crew, Qt::CaseInsensitive)) {
            return failed(QObject::tr("This project has no crew \"%1\". It has: %2")
                              .arg(crew, known.join(QStringLiteral(", "))));
        }
    }
    return crews;
}

void sayDays(Session &session, const ComingDays &days)
{
    std::size_t done = 0;
    for (const ComingDay &day : days.days) {
        say(QStringLiteral("%1\t%2\t%3")
                .arg(day.round.date.toString(Qt::ISODate), day.round.crew,
                     QObject::tr("%1 stops, %2, back at %3")
                         .arg(QString::number(day.plan.stops.size()), drivingWords(day.plan),
                              clock(day.plan.finish))));
        for (const QString &line : stopLines(session, day.plan)) {
            say(QLatin1Char('\t') + line);
        }
        done += day.plan.stops.size();
        for (const QString &note : day.plan.notes) {
            complain(QStringLiteral("%1, %2: %3")
                         .arg(day.round.date.toString(Qt::ISODate), day.round.crew, note));
        }
    }
    complain(QObject::tr("%1 crew days: %2 stops, %3 driving; %4 left out, %5 moved to another day "
                         "or crew")
                 .arg(QString::number(days.days.size()), QString::number(done),
                      durationText({days.driveSeconds}), QString::number(days.leftOut.size()),
                      QString::number(days.moved)));
}

QJsonObject weeksJson(Session &session, const ComingDays &days, bool kept)
{
    QJsonArray rounds;
    for (const ComingDay &day : days.days) {
        rounds.append(toJson(session, day.round, day.plan));
    }
    return {{QStringLiteral("days"), rounds},
            {QStringLiteral("left_out"), toJson(session, days.leftOut)},
            {QStringLiteral("priority"), days.priority},
            {QStringLiteral("drive_seconds"), days.driveSeconds},
            {QStringLiteral("moved"), days.moved},
            {QStringLiteral("kept"), kept}};
}

CsvTable toCsv(Session &session, const ComingDays &days)
{
    CsvTable table{{QStringLiteral("date"), QStringLiteral("crew"), QStringLiteral("stop"),
                    QStringLiteral("valve"), QStringLiteral("address"), QStringLiteral("arrive"),
                    QStringLiteral("begin"), QStringLiteral("leave")},
                   {}};
    for (const ComingDay &day : days.days) {
        int number = 0;
        for (const PlannedStop &stop : day.plan.stops) {
            const Valve *valve = session.valve(stop.valve);
            table.rows.push_back({day.round.date.toString(Qt::ISODate), day.round.crew,
                                  QString::number(++number), valve ? valve->number : QString(),
                                  valve ? valve->address : QString(), clock(stop.arrive),
                                  clock(stop.begin), clock(stop.leave)});
        }
    }
    return table;
}

Done drawUp(const QCommandLineParser &parser, Session &session, const DaysWanted &wanted)
{
    const auto days = drawUpComingDays(session, wanted);
    if (!days) {
        return failed(days.error());
    }
    const bool keeps = parser.isSet(QStringLiteral("keep"));
    if (keeps) {
        if (const Status kept = keepComingDays(session, *days); !kept) {
            return failed(kept.error());
        }
    }
    sayDays(session, *days);
    if (const auto written = writeCsvAsked(parser, toCsv(session, *days)); !written) {
        return failed(keeps ? QObject::tr("The rounds are kept in the project, but: %1")
                                  .arg(written.error().message)
                            : written.error().message);
    }
    return writeJson(parser, weeksJson(session, *days, keeps));
}

} // namespace

Done runWeeks(const QStringList &arguments)
{
    QCommandLineParser parser;
    describe(parser);
    if (auto parsed = parse(parser, QStringLiteral("weeks"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    const auto first = dateOption(parser, QStringLiteral("from"), {});
    if (!first) {
        return tl::unexpected(first.error());
    }
    const auto count = daysFrom(parser);
    if (!count) {
        return tl::unexpected(count.error());
    }
    auto opened = openSession(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    session.setDay(*first);
    const auto crews = crewsFrom(parser, session);
    if (!crews) {
        return tl::unexpected(crews.error());
    }
    return drawUp(parser, session, {session.today(), *count, *crews});
}

} // namespace keyround::batch
