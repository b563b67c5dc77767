// SPDX-License-Identifier: GPL-3.0-or-later
// What the work takes: valves a day, minutes a stop.
#include "app/charts/figure_pictures.h"
#include "app/charts/group_looks.h"
#include "app/shell/style.h"
#include "core/reports/review_tables.h"

#include <algorithm>
#include <cmath>

namespace keyround {

ChartPicture crewDaysPicture(const Pace &pace)
{
    ChartPicture picture;
    picture.fileStem = QStringLiteral("crew-days");
    picture.title = chartSay("Valves visited by one crew on one day, by year");
    picture.note = chartSay("Days on which a crew visited at least one valve; their number stands "
                            "under the axis.");
    picture.figures = crewDayTable(pace);
    picture.rowsAreItems = true;
    ChartSeries bars;
    bars.kind = ChartSeries::Kind::Boxes;
    bars.name = chartSay("valves a day");
    bars.colour = okabe::blue;
    UnderAxisRow days;
    days.label = chartSay("crew-days");
    double most = 0;
    for (size_t i = 0; i < pace.years.size(); ++i) {
        const PaceYear &year = pace.years[i];
        const double at = static_cast<double>(i);
        addBox(bars, at - columnWidth / 2, at + columnWidth / 2, 0, year.valvesADay);
        most = std::max(most, year.valvesADay);
        days.at.push_back(at);
        days.numbers << QString::number(year.crewDays);
        const QString name =
            year.isWhole ? QString::number(year.year) : chartSay("%1 so far").arg(year.year);
        picture.x.names << name;
        picture.items.push_back(
            columnItem(at, chartSay("%1\nCrew-days: %2\nVisits: %3\nValves a day: %4")
                               .arg(name)
                               .arg(year.crewDays)
                               .arg(year.visits)
                               .arg(year.valvesADay, 0, 'f', 1)));
    }
    picture.series.push_back(std::move(bars));
    picture.underAxis.push_back(std::move(days));
    picture.x.scale = ChartAxis::Scale::Names;
    picture.x.label = chartSay("Year");
    fitColumns(picture.x, static_cast<int>(pace.years.size()));
    picture.y = {chartSay("Valves a day"), ChartAxis::Scale::Number, {}, 0, headroom(most)};
    if (most == 0) {
        picture.emptyWords = chartSay("No crew visited a valve in these years.");
    }
    return picture;
}

ChartPicture stopMinutesPicture(const Pace &pace)
{
    ChartPicture picture;
    picture.fileStem = QStringLiteral("minutes-a-stop");
    picture.title = chartSay("Minutes at a valve, by kind");
    picture.note = chartSay("From arriving to leaving. Box: the middle half of the visits; line: "
                            "the median.");
    picture.figures = minutesTable(pace);
    picture.rowsAreItems = true;
    ChartSeries boxes;
    boxes.kind = ChartSeries::Kind::Boxes;
    boxes.name = chartSay("middle half");
    boxes.colour = faint(okabe::sky, 130);
    ChartSeries medians;
    medians.kind = ChartSeries::Kind::Line;
    medians.name = chartSay("median");
    medians.colour = okabe::vermilion;
    medians.thickness = 3.0;
    UnderAxisRow visits;
    visits.label = chartSay("visits");
    double most = 0;
    for (size_t i = 0; i < pace.minutes.size(); ++i) {
        const PaceMinutes &kind = pace.minutes[i];
        const double at = static_cast<double>(i);
        addBox(boxes, at - 0.3, at + 0.3, kind.lowerQuartile, kind.upperQuartile);
        addPoint(medians, at - 0.3, kind.median);
        addPoint(medians, at + 0.3, kind.median);
        addPoint(medians, at + 0.3, std::nan(""));
        most = std::max(most, kind.upperQuartile);
        visits.at.push_back(at);
        visits.numbers << QString::number(kind.visits);
        // Kind over size: side by side they leave room for every column's name.
        picture.x.names << QString(kind.name).replace(QStringLiteral(", "), QStringLiteral("\n"));
        picture.items.push_back(
            columnItem(at, chartSay("%1\nVisits: %2\nMedian: %3 min\nMiddle half: %4 to %5 min")
                               .arg(kind.name)
                               .arg(kind.visits)
                               .arg(kind.median, 0, 'f', 0)
                               .arg(kind.lowerQuartile, 0, 'f', 0)
                               .arg(kind.upperQuartile, 0, 'f', 0)));
    }
    picture.series = {std::move(boxes), std::move(medians)};
    picture.underAxis.push_back(std::move(visits));
    picture.x.scale = ChartAxis::Scale::Names;
    picture.x.label = chartSay("Kind");
    fitColumns(picture.x, static_cast<int>(pace.minutes.size()));
    picture.y = {chartSay("Minutes"), ChartAxis::Scale::Number, {}, 0, headroom(most)};
    if (pace.minutes.empty()) {
        picture.emptyWords = chartSay("No visit of this time has both an arriving and a leaving.");
    }
    return picture;
}

} // namespace keyround
