// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"

#include "app/batch/review_json.h"
#include "app/batch/review_request.h"
#include "app/charts/chart.h"
#include "app/charts/figure_pictures.h"
#include "app/models/services_more.h"
#include "app/print/board_files.h"
#include "core/reports/review_tables.h"

#include <utility>

namespace keyround::batch {

namespace {

/// What is asked, of which valves, over which time.
struct Task
{
    const QCommandLineParser &parser;
    Session &session;
    QString filterWords;
    std::vector<Valve> valves;
    Span span;
    PeriodLength length = PeriodLength::Quarter;

    [[nodiscard]] NumberOf numberOf() const
    {
        return [this](const ValveId &id) {
            const Valve *valve = session.valve(id);
            return valve == nullptr ? QString() : valve->number;
        };
    }
};

/// One of an answer's tables, with the chart that shows it.
struct NamedTable
{
    QString name; ///< as --table has it
    ReportTable table;
    ChartPicture picture;
};

/// The answer in words, for files, and for scripts.
struct Answered
{
    QStringList words;
    std::vector<NamedTable> tables; ///< the usual one first
    QJsonObject json;
};

NamedTable named(const char *name, ReportTable table, ChartPicture picture)
{
    return {QLatin1String(name), std::move(table), std::move(picture)};
}

Outcome<Answered> paceAnswer(const Task &task)
{
    const Pace figure = paceOf(task.valves, task.session.histories(),
                               task.session.settings().policy, task.span, task.session.today());
    return Answered{{figure.sentence},
                    {named("years", paceTable(figure), paceYearsPicture(figure)),
                     named("crew-days", crewDayTable(figure), crewDaysPicture(figure)),
                     named("minutes", minutesTable(figure), stopMinutesPicture(figure))},
                    reviewJson(figure)};
}

Outcome<Answered> conditionAnswer(const Task &task)
{
    const ConditionOverTime figure =
        conditionOverTime(task.valves, task.session.histories(), task.span, task.length);
    return Answered{{figure.sentence},
                    {named("periods", conditionOverTimeTable(figure), sharePicture(figure))},
                    reviewJson(figure)};
}

Outcome<Answered> changesAnswer(const Task &task)
{
    const ConditionChanges figure =
        conditionChanges(task.valves, task.session.histories(), task.span, task.length);
    const ChartPicture picture = changesPicture(figure);
    return Answered{
        {figure.sentence},
        {named("valves",
               changeTable(figure, task.valves, task.session.histories(), task.session.units()),
               picture),
         named("periods", changePeriodTable(figure), picture)},
        reviewJson(figure, task.numberOf())};
}

Outcome<Answered> ageingAnswer(const Task &task)
{
    const auto by = ageingOption(task.parser);
    if (!by) {
        return tl::unexpected(by.error());
    }
    const Ageing figure =
        ageingOf(task.valves, task.session.histories(), *by, task.session.units());
    QStringList words;
    for (const AgeingGroup &group : figure.groups) {
        words << group.reading;
    }
    if (words.isEmpty()) {
        words << figure.sentence;
    }
    words << figure.caution;
    const ChartPicture picture = ageingPicture(figure).picture;
    return Answered{words,
                    {named("curves", ageingTable(figure), picture),
                     named("readings", ageingReadings(figure), picture)},
                    reviewJson(figure, task.numberOf())};
}

Outcome<Answered> turnsAnswer(const Task &task)
{
    const QString number = task.parser.value(QStringLiteral("valve"));
    if (!number.isEmpty()) {
        const Valve *valve = task.session.valveByNumber(number);
        if (valve == nullptr) {
            return failed(QObject::tr("the project has no valve %1").arg(number));
        }
        const ValveTurns figure = valveTurns(task.session.history(valve->id), valve->id,
                                             task.session.settings().tolerance);
        return Answered{
            {figure.sentence},
            {named("counts", valveTurnsTable(figure), valveTurnsPicture(figure, number))},
            reviewJson(figure)};
    }
    const FleetTurns figure = fleetTurns(task.valves, task.session.histories(), task.span);
    const ChartPicture picture =
        figure.groups.empty() ? ChartPicture{} : fleetTurnsPicture(figure, 0).picture;
    return Answered{
        {figure.sentence},
        {named("valves", driftTable(figure, task.valves, task.session.units()), picture),
         named("kinds", turnsGroupTable(figure), picture)},
        reviewJson(figure, task.numberOf())};
}

Outcome<std::vector<OutlookPlan>> plansFor(const Task &task)
{
    bool good = false;
    const double days = task.parser.value(QStringLiteral("crew-days")).toDouble(&good);
    if (!good || days < 0) {
        return wrongUse(QObject::tr("--crew-days takes a number of days a month"));
    }
    std::vector<OutlookPlan> plans =
        usualPlans(task.valves, task.session.histories(), task.session.today(), days);
    if (task.parser.isSet(QStringLiteral("months"))) {
        const int months = task.parser.value(QStringLiteral("months")).toInt(&good);
        if (!good || months < 1) {
            return wrongUse(QObject::tr("--months takes a whole number of months"));
        }
        OutlookPlan plan = plans.front();
        plan.name = QObject::tr("every valve each %1 months").arg(months);
        plan.months = months;
        plans.push_back(plan);
    }
    return plans;
}

Outcome<Answered> nextAnswer(const Task &task)
{
    const auto plans = plansFor(task);
    if (!plans) {
        return tl::unexpected(plans.error());
    }
    Session &session = task.session;
    // The laws come from all valves: a filter asks where to go, not what is known.
    const LifeLaws laws = fitLifeLaws(session.valves(), session.histories());
    const std::vector<RiskEntry> entries =
        whatNext(session.dueList(), task.valves, session.histories(), laws, servicesMore(session),
                 session.today());
    const Outlook ahead = outlook(
        task.valves, session.histories(), session.settings().policy, laws, *plans, session.today(),
        settingsFrom(session.valves(), session.histories(), session.today()));
    return Answered{{whatNextSentence(entries), ahead.sentence, ahead.caution},
                    {named("risk", whatNextTable(entries, task.valves, session.units()),
                           whatNextPicture(entries, task.valves, session.units()).picture),
                     named("outlook", outlookTable(ahead), outlookPicture(ahead))},
                    reviewJson(entries, ahead, task.numberOf())};
}

Outcome<Answered> answerTo(ReviewFigure figure, const Task &task)
{
    switch (figure) {
    case ReviewFigure::Pace:
        return paceAnswer(task);
    case ReviewFigure::Condition:
        return conditionAnswer(task);
    case ReviewFigure::Changes:
        return changesAnswer(task);
    case ReviewFigure::Ageing:
        return ageingAnswer(task);
    case ReviewFigure::Turns:
        return turnsAnswer(task);
    case ReviewFigure::Next:
        break;
    }
    return nextAnswer(task);
}

/// The table that is asked for; the usual one where none is.
Outcome<NamedTable> tableOption(const QCommandLineParser &parser, std::vector<NamedTable> tables)
{
    const QString asked = parser.value(QStringLiteral("table"));
    QStringList names;
    for (NamedTable &each : tables) {
        if (asked.isEmpty() || each.name == asked) {
            return std::move(each);
        }
        names << each.name;
    }
    return wrongUse(
        QObject::tr("--figure %1 has the tables %2, not \"%3\"")
            .arg(parser.value(QStringLiteral("figure")), names.join(QLatin1Char('|')), asked));
}

Done writeAnswer(const Task &task, Answered answered)
{
    auto shown = tableOption(task.parser, std::move(answered.tables));
    if (!shown) {
        return tl::unexpected(shown.error());
    }
    for (const QString &words : answered.words) {
        say(words);
    }
    if (!task.filterWords.isEmpty()) {
        say(QObject::tr("Counted: %1.").arg(task.filterWords));
    }
    const ReportTable table = counted(std::move(shown->table), task.filterWords);
    if (auto written =
            writeCsvAsked(task.parser, {table.columns, {table.rows.begin(), table.rows.end()}});
        !written) {
        return written;
    }
    if (task.parser.isSet(QStringLiteral("png"))) {
        if (!task.filterWords.isEmpty()) {
            shown->picture.filterWords = QObject::tr("Counted: %1").arg(task.filterWords);
        }
        const Status written = savePng(shown->picture, task.parser.value(QStringLiteral("png")));
        if (!written) {
            return failed(written.error());
        }
    }
    answered.json.insert(QStringLiteral("figure"), task.parser.value(QStringLiteral("figure")));
    answered.json.insert(QStringLiteral("counted"), task.filterWords);
    answered.json.insert(QStringLiteral("from"), task.span.from.toString(Qt::ISODate));
    answered.json.insert(QStringLiteral("to"), task.span.to.toString(Qt::ISODate));
    return writeJson(task.parser, answered.json);
}

} // namespace

Done runReview(const QStringList &arguments)
{
    QCommandLineParser parser;
    describeReview(parser);
    if (auto parsed = parse(parser, QStringLiteral("review"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    const auto figure = figureOption(parser);
    const auto length = lengthOption(parser);
    const bool reportAlone =
        parser.isSet(QStringLiteral("report")) && !parser.isSet(QStringLiteral("figure"));
    if (!length || (!figure && !reportAlone)) {
        return tl::unexpected(!length ? length.error() : figure.error());
    }
    auto opened = openSessionOn(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    const auto filter = filterOption(parser, session.units());
    if (!filter) {
        return tl::unexpected(filter.error());
    }
    const auto span = spanOption(parser, session);
    if (!span) {
        return tl::unexpected(span.error());
    }
    if (parser.isSet(QStringLiteral("report"))) {
        const Status written = writeBoardReport(session, *filter, *span, *length,
                                                parser.value(QStringLiteral("report")));
        if (!written) {
            return failed(written.error());
        }
        if (reportAlone) {
            return exitDone;
        }
    }
    Task task{parser, session, filter->words(session.units()), filtered(session.valves(), *filter),
              *span,  *length};
    std::erase_if(task.valves, [](const Valve &valve) { return valve.retired; });
    if (task.valves.empty()) {
        return failed(
            task.filterWords.isEmpty()
                ? QObject::tr("the project has no valves yet; bring them in with load")
                : QObject::tr("no valve of the project is like that: %1").arg(task.filterWords));
    }
    auto answered = answerTo(*figure, task);
    if (!answered) {
        return tl::unexpected(answered.error());
    }
    return writeAnswer(task, std::move(*answered));
}

} // namespace keyround::batch
