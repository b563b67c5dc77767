// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/condition_picture.h"
#include "app/charts/figure_pictures.h"
#include "app/charts/group_looks.h"
#include "app/shell/style.h"
#include "core/reports/review_tables.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

QString lengthWords(PeriodLength length)
{
    switch (length) {
    case PeriodLength::Month:
        return chartSay("month");
    case PeriodLength::Quarter:
        return chartSay("quarter");
    case PeriodLength::Year:
        break;
    }
    return chartSay("year");
}

QString shareWords(const BandPeriod &period)
{
    QStringList lines{QStringLiteral("%1: %2").arg(period.counts.period, period.words)};
    if (period.limits) {
        lines << chartSay("Limits for so many valves: %1 to %2")
                     .arg(shareText(period.limits->from, 1), shareText(period.limits->to, 1));
    }
    if (period.standsOut) {
        lines << chartSay("This period stands out.");
    }
    return lines.join(QLatin1Char('\n'));
}

/// The series of a share chart, in the order of painting.
struct ShareSeries
{
    ChartSeries limits;
    ChartSeries centre;
    ChartSeries whiskers;
    ChartSeries path;
    ChartSeries sample =
        pointSeries(chartSay("share of a sample"), okabe::blue, PointShape::Disc, 4.5);
    ChartSeries all =
        pointSeries(chartSay("all were visited"), okabe::blue, PointShape::Square, 4.5);
    ChartSeries out =
        pointSeries(chartSay("stands out"), okabe::vermilion, PointShape::Diamond, 6.5);

    explicit ShareSeries(const ConditionOverTime &figure)
    {
        const double last = static_cast<double>(figure.periods.size()) - 0.5;
        limits.name = chartSay("limits of chance");
        limits.colour = faint(look::quietInk, 36);
        limits.outlined = false;
        centre = levelLine(chartSay("share over all: %1").arg(shareText(figure.centre)),
                           figure.centre, -0.5, last, look::quietInk, Qt::DashLine);
        whiskers.kind = ChartSeries::Kind::Whiskers;
        whiskers.name = chartSay("95 % interval of a sample");
        whiskers.colour = okabe::blue;
        path.kind = ChartSeries::Kind::Line;
        path.colour = faint(okabe::blue, 150);
        path.thickness = 1.0;
    }

    void add(double at, const BandPeriod &period)
    {
        if (period.limits) {
            addBox(limits, at - 0.5, at + 0.5, period.limits->from, period.limits->to);
        }
        addPoint(path, at, period.share.value_or(std::nan("")));
        if (!period.share) {
            return;
        }
        if (period.interval) {
            whiskers.x.push_back(at);
            whiskers.y.push_back(period.interval->from);
            whiskers.y2.push_back(period.interval->to);
        }
        addPoint(period.standsOut                   ? out
                 : period.kind == ShareKind::Sample ? sample
                                                    : all,
                 at, *period.share);
    }

    [[nodiscard]] double lowest() const
    {
        double low = 1.0;
        for (const auto *values : {&limits.y, &whiskers.y, &out.y, &all.y, &sample.y}) {
            for (const double value : *values) {
                low = std::min(low, value);
            }
        }
        return low;
    }
};

} // namespace

ChartPicture conditionOverTimePicture(const ConditionOverTime &figure)
{
    ChartPicture picture = conditionPicture(figure.series());
    picture.title =
        chartSay("Condition of the valves at the end of each %1").arg(lengthWords(figure.length));
    picture.figures = conditionOverTimeTable(figure);
    for (size_t i = 0; i < figure.periods.size(); ++i) {
        picture.items[i].words += QLatin1Char('\n') + figure.periods[i].words;
    }
    return picture;
}

ChartPicture sharePicture(const ConditionOverTime &figure)
{
    ChartPicture picture;
    picture.fileStem = QStringLiteral("share-serviceable");
    picture.title = chartSay("Share serviceable of the valves visited in each %1")
                        .arg(lengthWords(figure.length));
    picture.note = chartSay("Points outside of the limits are more than chance (p-chart, three "
                            "standard errors); bars: Wilson's 95 % interval where it is a sample.");
    picture.figures = conditionOverTimeTable(figure);
    picture.rowsAreItems = true;
    ShareSeries series(figure);
    for (size_t i = 0; i < figure.periods.size(); ++i) {
        const BandPeriod &period = figure.periods[i];
        const double at = static_cast<double>(i);
        series.add(at, period);
        picture.x.names << period.counts.period;
        picture.items.push_back(columnItem(at, shareWords(period)));
    }
    const bool nothing = series.sample.x.empty() && series.all.x.empty() && series.out.x.empty();
    const double low = series.lowest();
    picture.series.push_back(std::move(series.limits));
    picture.series.push_back(std::move(series.centre));
    picture.series.push_back(std::move(series.path));
    for (ChartSeries *each : {&series.whiskers, &series.sample, &series.all, &series.out}) {
        if (!each->x.empty()) {
            picture.series.push_back(std::move(*each));
        }
    }
    picture.x.scale = ChartAxis::Scale::Names;
    picture.x.mayLeaveOut = true;
    picture.x.label =
        figure.periods.empty() ? QString() : periodAxisWords(figure.periods.front().counts.period);
    fitColumns(picture.x, static_cast<int>(figure.periods.size()));
    picture.y = {chartSay("Serviceable, of those visited"),
                 ChartAxis::Scale::Share,
                 {},
                 std::max(0.0, std::floor(low * 10.0 - 0.2) / 10.0),
                 1.02};
    if (nothing) {
        picture.emptyWords = chartSay("No valve was visited in this span. Choose a longer one, or "
                                      "record rounds in the Truck.");
    }
    return picture;
}

} // namespace keyround
