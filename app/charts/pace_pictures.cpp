// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/figure_pictures.h"
#include "app/charts/group_looks.h"
#include "app/shell/style.h"
#include "core/reports/review_tables.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr double narrow = 0.44;

struct PaceColumn
{
    QString name;
    PaceCounts counts;
    double projected = 0; ///< full cycles more by the year's end, at the pace
};

QString numberText(double value)
{
    return QString::number(std::round(value), 'f', 0);
}

QString wordsFor(const PaceColumn &column)
{
    QStringList lines{column.name, chartSay("Valves: %1").arg(column.counts.valves),
                      chartSay("Inspected: %1").arg(column.counts.inspected),
                      chartSay("Full cycles: %1").arg(column.counts.cycles),
                      chartSay("Target: %1").arg(numberText(column.counts.target))};
    if (column.counts.target > 0) {
        lines << chartSay("Of the target: %1").arg(shareText(column.counts.share()));
    }
    if (column.projected >= 0.5) {
        lines << chartSay("Full cycles by the year's end at this pace: %1")
                     .arg(numberText(column.counts.cycles + column.projected));
    }
    return lines.join(QLatin1Char('\n'));
}

ChartSeries boxes(const char *name, const QColor &colour, Pattern pattern)
{
    ChartSeries series;
    series.kind = ChartSeries::Kind::Boxes;
    series.name = chartSay(name);
    series.colour = colour;
    series.pattern = pattern;
    return series;
}

/// Wide and light: inspected. Narrow and dark before it: full cycles, with what the pace still
/// brings hatched on top. A thick line across: the target.
ChartPicture paceColumns(const std::vector<PaceColumn> &columns)
{
    ChartPicture picture;
    picture.fileStem = QStringLiteral("pace");
    ChartSeries inspected = boxes(QT_TRANSLATE_NOOP("Chart", "valves inspected"),
                                  faint(okabe::sky, 110), Pattern::None);
    ChartSeries cycles =
        boxes(QT_TRANSLATE_NOOP("Chart", "full cycles"), okabe::blue, Pattern::None);
    ChartSeries more = boxes(QT_TRANSLATE_NOOP("Chart", "by the year's end at this pace"),
                             look::card, Pattern::Rising);
    ChartSeries target;
    target.kind = ChartSeries::Kind::Line;
    target.name = chartSay("target of the policy");
    target.colour = okabe::vermilion;
    target.thickness = 3.0;
    double most = 0;
    for (size_t i = 0; i < columns.size(); ++i) {
        const PaceColumn &column = columns[i];
        const double at = static_cast<double>(i);
        const double done = column.counts.cycles;
        addBox(inspected, at - columnWidth / 2, at + columnWidth / 2, 0, column.counts.inspected);
        addBox(cycles, at - narrow / 2, at + narrow / 2, 0, done);
        if (column.projected >= 0.5) {
            addBox(more, at - narrow / 2, at + narrow / 2, done, done + column.projected);
        }
        addPoint(target, at - 0.47, column.counts.target);
        addPoint(target, at + 0.47, column.counts.target);
        addPoint(target, at + 0.47, std::nan(""));
        most = std::max({most, static_cast<double>(column.counts.inspected),
                         done + column.projected, column.counts.target});
        picture.x.names << column.name;
        picture.items.push_back(columnItem(at, wordsFor(column)));
    }
    const bool anyMore = !more.x.empty();
    picture.series = {std::move(inspected), std::move(cycles)};
    if (anyMore) {
        picture.series.push_back(std::move(more));
    }
    picture.series.push_back(std::move(target));
    picture.x.scale = ChartAxis::Scale::Names;
    fitColumns(picture.x, static_cast<int>(columns.size()));
    picture.y = {chartSay("Valves in the year"), ChartAxis::Scale::Whole, {}, 0, headroom(most)};
    if (columns.empty()) {
        picture.emptyWords = chartSay("There is nothing to count yet.");
    }
    return picture;
}

} // namespace

ChartPicture paceYearsPicture(const Pace &pace)
{
    std::vector<PaceColumn> columns;
    for (const PaceYear &year : pace.years) {
        PaceColumn column;
        column.name = QString::number(year.year);
        column.counts = year.all;
        if (!year.isWhole) {
            const auto left = year.until.daysTo(QDate(year.year, 12, 31));
            column.projected = pace.cyclesADay * static_cast<double>(left);
            column.name = chartSay("%1 so far").arg(year.year);
        }
        columns.push_back(column);
    }
    ChartPicture picture = paceColumns(columns);
    picture.title = chartSay("Valves inspected and full cycles, by year");
    picture.x.label = chartSay("Year");
    picture.figures = paceTable(pace);
    return picture;
}

ChartPicture pacePartsPicture(const PaceYear &year, bool byZone)
{
    std::vector<PaceColumn> columns;
    for (const PaceCounts &counts : byZone ? year.byZone : year.bySize) {
        columns.push_back({counts.name.isEmpty() ? chartSay("no zone") : counts.name, counts, 0});
    }
    ChartPicture picture = paceColumns(columns);
    const QString when =
        year.isWhole ? QString::number(year.year)
                     : chartSay("%1 until %2").arg(year.year).arg(year.until.toString(Qt::ISODate));
    picture.title = byZone ? chartSay("Valves inspected and full cycles by zone, %1").arg(when)
                           : chartSay("Valves inspected and full cycles by size, %1").arg(when);
    picture.note = year.isWhole ? QString() : chartSay("The target is that of the whole year.");
    picture.x.label = byZone ? chartSay("Zone") : chartSay("Size");
    Pace only;
    only.years = {year};
    picture.figures = paceTable(only);
    return picture;
}

ChartPicture paceThisYearPicture(const Pace &pace)
{
    ChartPicture picture;
    picture.fileStem = QStringLiteral("pace-this-year");
    picture.figures.title = chartSay("Pace this year");
    picture.figures.columns = {chartSay("Until"), chartSay("Valves inspected"),
                               chartSay("Full cycles")};
    if (pace.years.empty()) {
        picture.emptyWords = chartSay("There is nothing to count yet.");
        return picture;
    }
    const PaceYear &year = pace.years.back();
    const QDate first(year.year, 1, 1);
    const QDate last(year.year, 12, 31);
    const double target = year.all.target;
    picture.title = chartSay("Full cycles in %1 against the year's target").arg(year.year);
    picture.note = pace.isMet
                       ? chartSay("The target was met on %1.").arg(pace.metOn.toString(Qt::ISODate))
                   : pace.metOn.isValid()
                       ? chartSay("At the pace of the last twelve months the target is met on %1.")
                             .arg(pace.metOn.toString(Qt::ISODate))
                       : chartSay("At the pace of the last twelve months the target is not met.");
    ChartSeries cycles;
    cycles.kind = ChartSeries::Kind::Line;
    cycles.name = chartSay("full cycles");
    cycles.colour = okabe::blue;
    cycles.thickness = 2.4;
    cycles.shape = PointShape::Disc;
    ChartSeries inspected = cycles;
    inspected.name = chartSay("valves inspected");
    inspected.colour = okabe::sky;
    inspected.stroke = Qt::DashLine;
    inspected.shape = PointShape::Square;
    addPoint(cycles, dateKey(first), 0);
    addPoint(inspected, dateKey(first), 0);
    double most = target;
    QDate from = first;
    for (const PaceMonth &month : year.months) {
        addPoint(cycles, dateKey(month.end), month.cycles);
        addPoint(inspected, dateKey(month.end), month.inspected);
        most = std::max(
            {most, static_cast<double>(month.cycles), static_cast<double>(month.inspected)});
        ChartItem item;
        item.x = dateKey(from);
        item.x2 = dateKey(month.end.addDays(1));
        item.words = chartSay("Until %1\nFull cycles: %2\nValves inspected: %3")
                         .arg(month.end.toString(Qt::ISODate))
                         .arg(month.cycles)
                         .arg(month.inspected);
        picture.items.push_back(item);
        picture.figures.rows.push_back({month.end.toString(Qt::ISODate),
                                        QString::number(month.inspected),
                                        QString::number(month.cycles)});
        from = month.end.addDays(1);
    }
    picture.rowsAreItems = true;
    const QDate end = pace.metOn.isValid() && pace.metOn > last && pace.metOn <= last.addMonths(18)
                          ? pace.metOn.addDays(20)
                          : last;
    ChartSeries projected;
    projected.kind = ChartSeries::Kind::Line;
    projected.name = chartSay("at this pace");
    projected.colour = okabe::blue;
    projected.stroke = Qt::DotLine;
    const double days = static_cast<double>(year.until.daysTo(end));
    const double reached = year.all.cycles + pace.cyclesADay * days;
    addPoint(projected, dateKey(year.until), year.all.cycles);
    addPoint(projected, dateKey(end), reached);
    most = std::max(most, reached);
    picture.series = {levelLine(chartSay("target of the policy"), target, dateKey(first),
                                dateKey(end), okabe::vermilion, Qt::SolidLine),
                      std::move(inspected), std::move(projected), std::move(cycles)};
    if (pace.metOn.isValid() && pace.metOn <= end && pace.metOn >= first) {
        ChartSeries met;
        met.kind = ChartSeries::Kind::Points;
        met.name = chartSay("target met %1").arg(pace.metOn.toString(Qt::ISODate));
        met.colour = okabe::vermilion;
        met.shape = PointShape::Diamond;
        met.size = 6;
        addPoint(met, dateKey(pace.metOn), target);
        picture.series.push_back(std::move(met));
    }
    picture.x = {chartSay("Day"), ChartAxis::Scale::Dates, {}, dateKey(first), dateKey(end)};
    picture.y = {
        chartSay("Valves since the year began"), ChartAxis::Scale::Whole, {}, 0, headroom(most)};
    return picture;
}

} // namespace keyround
