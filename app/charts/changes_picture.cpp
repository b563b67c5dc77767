// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/condition_picture.h"
#include "app/charts/figure_pictures.h"
#include "app/charts/group_looks.h"
#include "app/shell/style.h"
#include "core/reports/review_tables.h"

#include <algorithm>
#include <array>

namespace keyround {

namespace {

constexpr std::array outConditions{Condition::DoesNotShut, Condition::DoesNotTurn,
                                   Condition::CannotReach};

int countTo(const ConditionChanges &figure, const ChangePeriod &period, Condition condition)
{
    return static_cast<int>(std::ranges::count_if(
        period.wentOut, [&](size_t index) { return figure.all[index].change.to == condition; }));
}

QString wordsFor(const ConditionChanges &figure, const ChangePeriod &period)
{
    QStringList lines{
        chartSay("%1 (until %2)").arg(period.period, period.end.toString(Qt::ISODate)),
        chartSay("Restored: %1").arg(period.restored.size()),
        chartSay("Went out: %1").arg(period.wentOut.size())};
    for (const Condition condition : outConditions) {
        if (const int count = countTo(figure, period, condition); count > 0) {
            lines << QStringLiteral("  %1: %2").arg(wordFor(condition)).arg(count);
        }
    }
    lines << chartSay("Out of condition at the end: %1").arg(period.outAtEnd);
    return lines.join(QLatin1Char('\n'));
}

} // namespace

ChartPicture changesPicture(const ConditionChanges &figure)
{
    ChartPicture picture;
    picture.fileStem = QStringLiteral("went-out-came-back");
    picture.title = chartSay("Valves that came back (up) and that went out of condition (down)");
    picture.figures = changePeriodTable(figure);
    picture.rowsAreItems = true;
    ChartSeries restored = conditionSeriesLook(Condition::Serviceable);
    restored.name = chartSay("came back");
    std::array<ChartSeries, outConditions.size()> out;
    for (size_t i = 0; i < out.size(); ++i) {
        out[i] = conditionSeriesLook(outConditions[i]);
        out[i].name = chartSay("went out: %1").arg(wordFor(outConditions[i]));
    }
    size_t mostUp = 0;
    size_t mostDown = 0;
    for (size_t i = 0; i < figure.periods.size(); ++i) {
        const ChangePeriod &period = figure.periods[i];
        const double at = static_cast<double>(i);
        const double left = at - columnWidth / 2;
        const double right = at + columnWidth / 2;
        addBox(restored, left, right, 0, static_cast<double>(period.restored.size()));
        double foot = 0;
        for (size_t band = 0; band < out.size(); ++band) {
            const double deeper = foot - countTo(figure, period, outConditions[band]);
            addBox(out[band], left, right, deeper, foot);
            foot = deeper;
        }
        mostUp = std::max(mostUp, period.restored.size());
        mostDown = std::max(mostDown, period.wentOut.size());
        picture.x.names << period.period;
        picture.items.push_back(columnItem(at, wordsFor(figure, period)));
    }
    picture.series.push_back(std::move(restored));
    for (ChartSeries &series : out) {
        picture.series.push_back(std::move(series));
    }
    picture.series.push_back(levelLine(
        {}, 0, -0.6, static_cast<double>(figure.periods.size()) - 0.4, look::ink, Qt::SolidLine));
    picture.x.scale = ChartAxis::Scale::Names;
    picture.x.mayLeaveOut = true;
    picture.x.label =
        figure.periods.empty() ? QString() : periodAxisWords(figure.periods.front().period);
    fitColumns(picture.x, static_cast<int>(figure.periods.size()));
    const double room = std::max(1.0, 0.06 * static_cast<double>(mostUp + mostDown));
    picture.y = {chartSay("Valves"),
                 ChartAxis::Scale::BothWays,
                 {},
                 -static_cast<double>(mostDown) - room,
                 static_cast<double>(mostUp) + room};
    if (mostUp + mostDown == 0) {
        picture.emptyWords = chartSay("No valve went out of condition or came back in this span. "
                                      "Choose a longer one, or other valves.");
    }
    return picture;
}

} // namespace keyround
