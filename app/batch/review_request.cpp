// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/review_request.h"

#include "core/inventory/value_parsers.h"

#include <algorithm>
#include <array>

namespace keyround::batch {

namespace {

struct Named
{
    const char *key;
    int value;
};
constexpr std::array figures{Named{"pace", static_cast<int>(ReviewFigure::Pace)},
                             Named{"condition", static_cast<int>(ReviewFigure::Condition)},
                             Named{"changes", static_cast<int>(ReviewFigure::Changes)},
                             Named{"ageing", static_cast<int>(ReviewFigure::Ageing)},
                             Named{"turns", static_cast<int>(ReviewFigure::Turns)},
                             Named{"next", static_cast<int>(ReviewFigure::Next)}};
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

} // namespace

void describeReview(QCommandLineParser &parser)
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
    addCsvOption(parser, QObject::tr("write the figure as CSV"));
    option("png", QObject::tr("write the chart"), QStringLiteral("OUT.png"));
    option(
        "table",
        QObject::tr("which of the figure's tables, with its chart: pace years|crew-days|minutes, "
                    "changes valves|periods, ageing curves|readings, turns valves|kinds, next "
                    "risk|outlook (else the first)"),
        QStringLiteral("NAME"));
    option("report", QObject::tr("write the board report over the span; needs no figure"),
           QStringLiteral("OUT.pdf"));
}

Outcome<ReviewFigure> figureOption(const QCommandLineParser &parser)
{
    return choiceOf<ReviewFigure>(parser, QStringLiteral("figure"), figures);
}

Outcome<PeriodLength> lengthOption(const QCommandLineParser &parser)
{
    return choiceOf<PeriodLength>(parser, QStringLiteral("by"), lengths);
}

Outcome<AgeingBy> ageingOption(const QCommandLineParser &parser)
{
    return choiceOf<AgeingBy>(parser, QStringLiteral("group"), ageings);
}

Outcome<ValveFilter> filterOption(const QCommandLineParser &parser, UnitSystem units)
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

Outcome<Span> spanOption(const QCommandLineParser &parser, Session &session)
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

} // namespace keyround::batch
