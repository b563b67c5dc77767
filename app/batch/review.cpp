// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"

#include "app/batch/review_json.h"
#include "app/charts/chart.h"
#include "app/charts/figure_pictures.h"
#include "app/models/services_more.h"
#include "app/print/board_files.h"
#include "core/exchange/write_files.h"
#include "core/inventory/value_parsers.h"
#include "core/reports/review_tables.h"

#include <array>

namespace keyround::batch {

namespace {

enum class Figure { Pace, Condition, Changes, Ageing, Turns, Next };

struct Named
{
    const char *key;
    int value;
};
constexpr std::array figures{Named{"pace", static_cast<int>(Figure::Pace)},
                             Named{"condition", static_cast<int>(Figure::Condition)},
                             Named{"changes", static_cast<int>(Figure::Changes)},
                             Named{"ageing", static_cast<int>(Figure::Ageing)},
                             Named{"turns", static_cast<int>(Figure::Turns)},
                             Named{"next", static_cast<int>(Figure::Next)}};
constexpr std::array lengths{Named{"month", static_cast<int>(PeriodLength::Month)},
                             Named{"quarter", static_cast<int>(PeriodLength::Quarter)},
                             Named{"year", static_cast<int>(PeriodLength::Year)}};
constexpr std::array ageings{Named{"all", static_cast<int>(AgeingBy::All)},
                             Named{"type", static_cast<int>(AgeingBy::Type)},
                             Named{"size-class", static_cast<int>(AgeingBy::SizeClass)},
                             Named{"size", static_cast<int>(AgeingBy::Size)},
                             Named{"type-and-size", static_cast<int>(AgeingBy::TypeAndSize)},
                             Named{"decade", static_cast<int>(AgeingBy::InstallDecade)}};

template <std::size_t N> QString keysOf(const std::array<Named, N> &names)
{
    QStringList keys;
    for (const Named &name : names) {
        keys << QLatin1String(name.key);
    }
    return keys.join(QLatin1Char('|'));
}

template <typename Kind, std::size_t N>
Outcome<Kind> choiceOf(const QCommandLineParser &parser, const QString &option,
                       const std::array<Named, N> &names)
{
    for (const Named &name : names) {
        if (parser.value(option) == QLatin1String(name.key)) {
            return static_cast<Kind>(name.value);
        }
    }
    return wrongUse(
        QObject::tr("--%1 takes %2, not \"%3\"").arg(option, keysOf(names), parser.value(option)));
}

void describe(QCommandLineParser &parser)
{
    parser.setApplicationDescription(
        QObject::tr("review: the office's figures: are we on pace, is it getting better, what went "
                    "out and came back, which kind fails at what age, whose counts drift, what "
                    "next. Filters may be given more than once."));
    addProjectOption(parser);
    const auto option = [&parser](const char *name, const QString &what, const QString &value,
                                  const QString &usual = {}) {
        parser.addOption({QLatin1String(name), what, value, usual});
    };
    option("figure", QObject::tr("which"), keysOf(figures));
    option("from", QObject::tr("first day (else the first visit)"), QStringLiteral("DATE"));
    option("to", QObject::tr("last day (else today)"), QStringLiteral("DATE"));
    option("on", QObject::tr("as on this day (else today)"), QStringLiteral("DATE"));
    option("by", QObject::tr("length of the periods"), keysOf(lengths), QStringLiteral("quarter"));
    option("zone", QObject::tr("only valves of this zone"), QStringLiteral("ZONE"));
    option("size", QObject::tr("only valves of this size"), QStringLiteral("SIZE"));
    option("type", QObject::tr("only valves of this type"), QStringLiteral("TYPE"));
    option("surface", QObject::tr("only valves under this surface"), QStringLiteral("SURFACE"));
    option("role", QObject::tr("only valves of this role"), QStringLiteral("ROLE"));
    option("installed", QObject::tr("only valves installed in these years"),
           QStringLiteral("FIRST..LAST"));
    option("group", QObject::tr("ageing: which valves together"), keysOf(ageings),
           QStringLiteral("type-and-size"));
    option("valve", QObject::tr("turns: the counts of one valve"), QStringLiteral("NUMBER"));
    option("months", QObject::tr("next: one interval for all, looked ahead with"),
           QStringLiteral("N"));
    option("crew-days", QObject::tr("next: crew-days more a month, looked ahead with"),
           QStringLiteral("N"), QStringLiteral("2"));
    addJsonOption(parser);
    option("csv", QObject::tr("write the figure as CSV"), QStringLiteral("OUT"));
    option("png", QObject::tr("write the chart"), QStringLiteral("OUT.png"));
    option("report", QObject::tr("write the board report over the span; needs no figure"),
           QStringLiteral("OUT.pdf"));
}

template <typename Value, typename Parse>
Outcome<QList<Value>> valuesOf(const QCommandLineParser &parser, const QString &option, Parse parse)
{
    QList<Value> values;
    const QStringList texts = parser.values(option);
    for (const QString &text : texts) {
        const Result<std::optional<Value>> value = parse(text);
        if (!value) {
            return wrongUse(QObject::tr("--%1: %2").arg(option, value.error().message));
        }
        values << value->value_or(Value{});
    }
    return values;
}

Outcome<bool> setYears(ValveFilter &filter, const QString &text)
{
    if (text.isEmpty()) {
        return true;
    }
    const QStringList ends = text.split(QStringLiteral(".."));
    const Result<std::optional<int>> from = parseYear(ends.value(0));
    const Result<std::optional<int>> to = parseYear(ends.value(ends.size() - 1));
    const bool known = from && to && (from->has_value() || to->has_value());
    if (ends.size() > 2 || !known || (*from && *to && **from > **to)) {
        return wrongUse(QObject::tr("--installed takes years such as 1960..1979, 1960.. or ..1979, "
                                    "not \"%1\"")
                            .arg(text));
    }
    filter.installedFrom = *from;
    filter.installedTo = *to;
    return true;
}

Outcome<ValveFilter> filterFrom(const QCommandLineParser &parser, UnitSystem units)
{
    const BareSize bare = units == UnitSystem::Metric ? BareSize::Millimetres : BareSize::Inches;
    const auto sizes =
        valuesOf<NominalSize>(parser, QStringLiteral("size"),
                              [bare](const QString &text) { return parseSize(text, bare); });
    const auto types = valuesOf<ValveType>(parser, QStringLiteral("type"), parseValveType);
    const auto roles = valuesOf<ValveRole>(parser, QStringLiteral("role"), parseValveRole);
    if (!sizes || !types || !roles) {
        return tl::unexpected(!sizes ? sizes.error() : !types ? types.error() : roles.error());
    }
    ValveFilter filter;
    filter.zones = parser.values(QStringLiteral("zone"));
    filter.sizes = *sizes;
    filter.types = *types;
    filter.roles = *roles;
    filter.surfaces = parser.values(QStringLiteral("surface"));
    if (const auto set = setYears(filter, parser.value(QStringLiteral("installed"))); !set) {
        return tl::unexpected(set.error());
    }
    return filter;
}

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

/// The answer in words, for files, and for scripts.
struct Answered
{
    QStringList words;
    ReportTable table;
    QJsonObject json;
    ChartPicture picture;
};

Outcome<Span> spanFrom(const QCommandLineParser &parser, Session &session)
{
    QDate first = session.today();
    for (const ValveHistory &history : session.histories()) {
        if (!history.visits.empty()) {
            first = std::min(first, history.visits.front().visit.arrived.localDate());
        }
    }
    const auto from = dateOption(parser, QStringLiteral("from"), first);
    const auto to = dateOption(parser, QStringLiteral("to"), session.today());
    if (!from || !to) {
        return tl::unexpected(!from ? from.error() : to.error());
    }
    if (*from > *to) {
        return wrongUse(QObject::tr("--from must not be later than --to"));
    }
    return Span{*from, *to};
}

Outcome<Answered> paceAnswer(const Task &task)
{
    const Pace figure = paceOf(task.valves, task.session.histories(),
                               task.session.settings().policy, task.span, task.session.today());
    return Answered{
        {figure.sentence}, paceTable(figure), reviewJson(figure), paceYearsPicture(figure)};
}

Outcome<Answered> conditionAnswer(const Task &task)
{
    const ConditionOverTime figure =
        conditionOverTime(task.valves, task.session.histories(), task.span, task.length);
    return Answered{{figure.sentence},
                    conditionOverTimeTable(figure),
                    reviewJson(figure),
                    sharePicture(figure)};
}

Outcome<Answered> changesAnswer(const Task &task)
{
    const ConditionChanges figure =
        conditionChanges(task.valves, task.session.histories(), task.span, task.length);
    return Answered{
        {figure.sentence},
        changeTable(figure, task.valves, task.session.histories(), task.session.units()),
        reviewJson(figure, task.numberOf()),
        changesPicture(figure)};
}

Outcome<Answered> ageingAnswer(const Task &task)
{
    const auto by = choiceOf<AgeingBy>(task.parser, QStringLiteral("group"), ageings);
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
    return Answered{words, ageingTable(figure), reviewJson(figure, task.numberOf()),
                    ageingPicture(figure).picture};
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
        return Answered{{figure.sentence},
                        valveTurnsTable(figure),
                        reviewJson(figure),
                        valveTurnsPicture(figure, number)};
    }
    const FleetTurns figure = fleetTurns(task.valves, task.session.histories(), task.span);
    return Answered{{figure.sentence},
                    driftTable(figure, task.valves, task.session.units()),
                    reviewJson(figure, task.numberOf()),
                    figure.groups.empty() ? ChartPicture{} : fleetTurnsPicture(figure, 0).picture};
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
                    whatNextTable(entries, task.valves, session.units()),
                    reviewJson(entries, ahead, task.numberOf()),
                    whatNextPicture(entries, task.valves, session.units()).picture};
}

Outcome<Answered> answerTo(Figure figure, const Task &task)
{
    switch (figure) {
    case Figure::Pace:
        return paceAnswer(task);
    case Figure::Condition:
        return conditionAnswer(task);
    case Figure::Changes:
        return changesAnswer(task);
    case Figure::Ageing:
        return ageingAnswer(task);
    case Figure::Turns:
        return turnsAnswer(task);
    case Figure::Next:
        break;
    }
    return nextAnswer(task);
}

Done writeAnswer(const Task &task, Answered answered)
{
    for (const QString &words : answered.words) {
        say(words);
    }
    if (!task.filterWords.isEmpty()) {
        say(QObject::tr("Counted: %1.").arg(task.filterWords));
    }
    if (task.parser.isSet(QStringLiteral("csv"))) {
        const ReportTable table = counted(std::move(answered.table), task.filterWords);
        const Status written = writeCsv(task.parser.value(QStringLiteral("csv")),
                                        {table.columns, {table.rows.begin(), table.rows.end()}});
        if (!written) {
            return failed(written.error());
        }
    }
    if (task.parser.isSet(QStringLiteral("png"))) {
        if (!task.filterWords.isEmpty()) {
            answered.picture.filterWords = QObject::tr("Counted: %1").arg(task.filterWords);
        }
        const Status written = savePng(answered.picture, task.parser.value(QStringLiteral("png")));
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
    describe(parser);
    if (auto parsed = parse(parser, QStringLiteral("review"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    const auto figure = choiceOf<Figure>(parser, QStringLiteral("figure"), figures);
    const auto length = choiceOf<PeriodLength>(parser, QStringLiteral("by"), lengths);
    const bool reportAlone =
        parser.isSet(QStringLiteral("report")) && !parser.isSet(QStringLiteral("figure"));
    if (!length || (!figure && !reportAlone)) {
        return tl::unexpected(!length ? length.error() : figure.error());
    }
    auto opened = openSession(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    const auto day = dateOption(parser, QStringLiteral("on"), session.today());
    const auto filter = filterFrom(parser, session.units());
    if (!day || !filter) {
        return tl::unexpected(!day ? day.error() : filter.error());
    }
    session.setDay(*day);
    const auto span = spanFrom(parser, session);
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
