// SPDX-License-Identifier: GPL-3.0-or-later
// What next, and what if.
#include "app/charts/figure_pictures.h"
#include "app/charts/group_looks.h"
#include "app/shell/style.h"
#include "core/reports/review_tables.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace keyround {

namespace {

/// More than these the eye cannot tell apart; the rest stands in the list below.
constexpr size_t mostDrawn = 1500;

QHash<ValveId, QString> numbersOf(const std::vector<Valve> &valves)
{
    QHash<ValveId, QString> numbers;
    numbers.reserve(static_cast<qsizetype>(valves.size()));
    for (const Valve &valve : valves) {
        numbers.insert(valve.id, valve.number);
    }
    return numbers;
}

/// A line of like risk: chance times services is the same all along it.
ChartSeries riskLine(double risk, double mostServices, Qt::PenStyle stroke)
{
    ChartSeries line;
    line.kind = ChartSeries::Kind::Line;
    line.name = chartSay("risk %1 services").arg(risk, 0, 'f', risk < 10 ? 1 : 0);
    line.colour = look::quietInk;
    line.thickness = 1.0;
    line.stroke = stroke;
    constexpr int steps = 60;
    const double from = std::max(0.005, risk / (mostServices * 1.05));
    for (int step = 0; step <= steps; ++step) {
        const double chance = std::exp(std::log(from) * (1.0 - step / double(steps)));
        addPoint(line, chance, risk / chance);
    }
    return line;
}

ChartPicture chanceClasses(const std::vector<RiskEntry> &entries)
{
    ChartPicture picture;
    picture.title = chartSay("Chance that a valve is out of condition by now");
    std::array<int, 10> counts{};
    for (const RiskEntry &entry : entries) {
        ++counts[static_cast<size_t>(std::clamp(static_cast<int>(entry.chanceOut * 10.0), 0, 9))];
    }
    ChartSeries bars;
    bars.kind = ChartSeries::Kind::Boxes;
    bars.name = chartSay("valves");
    bars.colour = okabe::blue;
    int most = 0;
    for (int tenth = 0; tenth < 10; ++tenth) {
        const int count = counts[static_cast<size_t>(tenth)];
        addBox(bars, tenth - columnWidth / 2, tenth + columnWidth / 2, 0, count);
        most = std::max(most, count);
        const QString name = QStringLiteral("%1\u2013%2 %").arg(tenth * 10).arg(tenth * 10 + 10);
        picture.x.names << name;
        picture.items.push_back(
            columnItem(tenth, chartSay("Chance %1: %2 valves").arg(name).arg(count)));
    }
    picture.series.push_back(std::move(bars));
    picture.x.scale = ChartAxis::Scale::Names;
    picture.x.label = chartSay("Chance by now");
    fitColumns(picture.x, 10);
    picture.y = {chartSay("Valves"), ChartAxis::Scale::Whole, {}, 0, headroom(most)};
    return picture;
}

void addEntries(ChartPicture &picture, const std::vector<RiskEntry> &entries,
                const std::vector<Valve> &valves)
{
    const QHash<ValveId, QString> numbers = numbersOf(valves);
    ChartSeries reckoned =
        pointSeries(chartSay("judged by like valves"), okabe::blue, PointShape::Disc, 5.0);
    ChartSeries guessed =
        pointSeries(chartSay("a guess, by all valves"), okabe::blue, PointShape::Ring, 5.0);
    ChartSeries known =
        pointSeries(chartSay("known to be out"), okabe::vermilion, PointShape::Square, 5.0);
    for (size_t i = 0; i < std::min(entries.size(), mostDrawn); ++i) {
        const RiskEntry &entry = entries[i];
        addPoint(entry.isKnownOut ? known
                 : entry.isGuess  ? guessed
                                  : reckoned,
                 entry.chanceOut, entry.services.value_or(0));
        ChartItem item;
        item.x = item.x2 = entry.chanceOut;
        item.y = item.y2 = entry.services.value_or(0);
        item.words = chartSay("Valve %1, risk %2\n%3")
                         .arg(numbers.value(entry.due.valve))
                         .arg(entry.risk, 0, 'f', 1)
                         .arg(entry.words);
        picture.items.push_back(item);
    }
    for (ChartSeries *series : {&reckoned, &guessed, &known}) {
        if (!series->x.empty()) {
            picture.series.push_back(std::move(*series));
        }
    }
    if (entries.size() > mostDrawn) {
        picture.note +=
            QLatin1Char(' ') + chartSay("Drawn: the %1 of highest risk.").arg(mostDrawn);
    }
}

} // namespace

WhatNextPicture whatNextPicture(const std::vector<RiskEntry> &entries,
                                const std::vector<Valve> &valves, UnitSystem units)
{
    WhatNextPicture made;
    ChartPicture &picture = made.picture;
    int most = 0;
    bool isNetworkKnown = false;
    double highest = 0;
    for (const RiskEntry &entry : entries) {
        isNetworkKnown = isNetworkKnown || entry.services;
        most = std::max(most, entry.services.value_or(0));
        highest = std::max(highest, entry.risk);
    }
    if (!entries.empty() && most == 0) {
        picture = chanceClasses(entries);
        picture.note = isNetworkKnown
                           ? chartSay("None of them leaves a service more without water.")
                           : chartSay("How many services lose water is not known: bring in mains "
                                      "and services, and the risk stands here.");
        made.isByChance = true;
    } else {
        picture.title = chartSay("Where a failure is likely, and where it hurts");
        picture.note = chartSay("To the right: more likely out of condition by now. Up: more "
                                "services without water. On a thin line the risk is the same.");
        if (highest > 0) {
            picture.series.push_back(riskLine(highest * 0.5, most, Qt::SolidLine));
            picture.series.push_back(riskLine(highest * 0.2, most, Qt::DashLine));
        }
        picture.x = {chartSay("Chance of being out of condition by now"),
                     ChartAxis::Scale::Share,
                     {},
                     0,
                     1.03};
        picture.y = {chartSay("Services more without water"),
                     ChartAxis::Scale::Whole,
                     {},
                     -0.02 * most,
                     headroom(most)};
        addEntries(picture, entries, valves);
    }
    picture.fileStem = QStringLiteral("what-next");
    picture.figures = whatNextTable(
        {entries.begin(),
         entries.begin() + static_cast<qsizetype>(std::min(entries.size(), mostDrawn))},
        valves, units);
    picture.rowsAreItems = !made.isByChance;
    if (entries.empty()) {
        picture.emptyWords = chartSay("No valve wants a visit, and none waits for repair.");
    }
    return made;
}

ChartPicture outlookPicture(const Outlook &figure)
{
    ChartPicture picture;
    picture.fileStem = QStringLiteral("outlook");
    picture.title = chartSay("Share of valves out of condition in the years to come, by plan");
    picture.note = chartSay("Means of %1 runs; bars: the middle 90 % of them. Found or not found "
                            "yet.")
                       .arg(figure.settings.runs);
    picture.figures = outlookTable(figure);
    if (figure.plans.empty() || figure.plans.front().years.empty()) {
        picture.emptyWords = chartSay("There is nothing to look ahead from yet: it takes visits "
                                      "that found valves failed. Record rounds in the Truck, or "
                                      "bring in past visits.");
        return picture;
    }
    const std::vector<OutlookYear> &years = figure.plans.front().years;
    std::vector<QStringList> words(years.size());
    double highest = 0;
    const size_t plans = std::min(figure.plans.size(), groupLooks.size());
    for (size_t plan = 0; plan < plans; ++plan) {
        const OutlookResult &result = figure.plans[plan];
        const GroupLook &look = groupLooks[plan];
        ChartSeries line;
        line.kind = ChartSeries::Kind::Line;
        line.name = result.plan.name;
        line.colour = look.colour;
        line.stroke = look.stroke;
        line.shape = look.shape;
        line.thickness = 2.0;
        line.size = 5.0;
        ChartSeries spread;
        spread.kind = ChartSeries::Kind::Whiskers;
        spread.colour = look.colour;
        spread.thickness = 1.2;
        // Side by side, so that the bars of two plans do not cover each other.
        const double aside =
            (static_cast<double>(plan) - (static_cast<double>(plans) - 1) / 2) * 0.09;
        for (size_t year = 0; year < std::min(years.size(), result.years.size()); ++year) {
            const OutlookYear &at = result.years[year];
            const double x = static_cast<double>(year) + aside;
            addPoint(line, x, at.out);
            highest = std::max({highest, at.out, at.spread.to});
            if (year > 0) {
                spread.x.push_back(x);
                spread.y.push_back(at.spread.from);
                spread.y2.push_back(at.spread.to);
            }
            words[year] << chartSay("%1: %2 (%3 to %4)")
                               .arg(result.plan.name, shareText(at.out, 1),
                                    shareText(at.spread.from, 1), shareText(at.spread.to, 1));
        }
        picture.series.push_back(std::move(spread));
        picture.series.push_back(std::move(line));
    }
    for (size_t year = 0; year < years.size(); ++year) {
        const QString name =
            year == 0 ? chartSay("today") : years[year].end.toString(QStringLiteral("yyyy-MM"));
        picture.x.names << name;
        picture.items.push_back(
            columnItem(static_cast<double>(year),
                       name + QLatin1Char('\n') + words[year].join(QLatin1Char('\n'))));
    }
    picture.x.scale = ChartAxis::Scale::Names;
    picture.x.label = chartSay("End of the year");
    fitColumns(picture.x, static_cast<int>(years.size()));
    picture.y = {chartSay("Out of condition, found or not"),
                 ChartAxis::Scale::Share,
                 {},
                 0,
                 std::min(1.02, std::max(0.1, highest * 1.15))};
    return picture;
}

} // namespace keyround
