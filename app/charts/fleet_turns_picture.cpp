// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/figure_pictures.h"
#include "app/charts/group_looks.h"
#include "app/shell/style.h"
#include "core/reports/review_tables.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>

namespace keyround {

namespace {

/// More points than these are drawn by how many lie in a place: the eye cannot tell them apart, and
/// a file of them is of no use.
constexpr std::size_t mostPoints = 2500;
constexpr std::size_t mostFlagged = 1200;

QString signedTurns(double turns)
{
    return QStringLiteral("%1%2").arg(turns > 0   ? QStringLiteral("+")
                                      : turns < 0 ? QStringLiteral("\u2212")
                                                  : QString(),
                                      turnsWords(std::abs(turns)));
}

QString pointWords(const TurnPoint &point)
{
    QStringList lines{
        chartSay("%1: %2 turns").arg(point.date.toString(Qt::ISODate), turnsWords(point.turns)),
        chartSay("From its first baseline: %1").arg(signedTurns(point.fromFirst))};
    if (point.isFailure) {
        lines << chartSay("Judged a failure: in no limits");
    }
    if (point.isSlip) {
        lines << chartSay("A slip of counting: the counts before and after agree; in no limits");
    }
    if (!point.rules.isEmpty()) {
        QStringList did;
        for (const int rule : point.rules) {
            did << driftWords(rule);
        }
        const QString words = did.join(QStringLiteral("; "));
        lines << (point.drifts ? chartSay("Drifts now: %1").arg(words)
                               : chartSay("Stood out then, but does not drift now: %1").arg(words));
    }
    return lines.join(QLatin1Char('\n'));
}

/// Many points as shapes that grow with how many lie there.
class Crowd
{
public:
    Crowd(const ChartSeries &look, double from, double to, double low, double high)
        : m_look(look), m_from(from), m_low(low), m_dx(std::max(1.0, (to - from) / 72)),
          m_dy(std::max(0.25, (high - low) / 36))
    {
    }
    void add(double x, double y)
    {
        ++m_cells[{static_cast<int>((x - m_from) / m_dx), static_cast<int>((y - m_low) / m_dy)}];
    }
    [[nodiscard]] bool isEmpty() const { return m_cells.empty(); }
    /// Four sizes, the smallest for up to a few counts.
    [[nodiscard]] std::vector<ChartSeries> series() const
    {
        int most = 1;
        for (const auto &[cell, count] : m_cells) {
            most = std::max(most, count);
        }
        std::vector<ChartSeries> sizes;
        double fewest = 1;
        const double ratio = std::pow(most, 0.25);
        for (int step = 0; step < 4; ++step) {
            const double upTo = step == 3 ? most : std::floor(fewest * ratio);
            ChartSeries discs = m_look;
            discs.size = 1.6 + 1.4 * step;
            discs.name =
                step < 3 ? QString() : chartSay("%1 (up to %2 a place)").arg(m_look.name).arg(most);
            for (const auto &[cell, count] : m_cells) {
                if (count >= fewest && count <= upTo) {
                    addPoint(discs, m_from + (cell.first + 0.5) * m_dx,
                             m_low + (cell.second + 0.5) * m_dy);
                }
            }
            fewest = upTo + 1;
            sizes.push_back(std::move(discs));
        }
        return sizes;
    }

private:
    ChartSeries m_look;
    double m_from;
    double m_low;
    double m_dx;
    double m_dy;
    std::map<std::pair<int, int>, int> m_cells;
};

/// The heights that are shown: the limits with as much again on either side, and all but the
/// farthest twentieth of the counts (one at least) on either side, and no more than there is. What
/// lies beyond is drawn at the edge, so that one wild count does not press all others flat.
std::pair<double, double> heights(const TurnsGroup &group)
{
    double low = group.chart ? group.chart->lower : 0.0;
    double high = group.chart ? group.chart->upper : 0.0;
    const double reach = group.chart ? (high - low) * 1.2 : 1e9;
    std::vector<double> values;
    values.reserve(group.points.size());
    std::ranges::transform(group.points, std::back_inserter(values), &TurnPoint::fromFirst);
    std::ranges::sort(values);
    constexpr size_t twentieth = 20;
    const size_t beyond =
        std::min((values.size() + twentieth - 1) / twentieth, (values.size() - 1) / 2);
    const double lowest = std::min(low, values.front());
    const double highest = std::max(high, values.back());
    low = std::max(lowest, std::min(low - reach, values[beyond]));
    high = std::min(highest, std::max(high + reach, values[values.size() - 1 - beyond]));
    const double pad = std::max(0.75, (high - low) * 0.05);
    return {low - pad, high + pad};
}

void addLimits(ChartPicture &picture, const RobustChart &chart)
{
    ChartSeries within;
    within.name = chartSay("limits of chance");
    within.colour = faint(look::quietInk, 30);
    within.outlined = false;
    addBox(within, picture.x.from, picture.x.to, chart.lower, chart.upper);
    picture.series.push_back(std::move(within));
    for (const double limit : {chart.lower, chart.upper}) {
        picture.series.push_back(
            levelLine({}, limit, picture.x.from, picture.x.to, look::quietInk, Qt::DashLine));
    }
    picture.series.push_back(levelLine(chartSay("median of all"), chart.centre, picture.x.from,
                                       picture.x.to, look::quietInk, Qt::SolidLine));
}

/// A group's points on their way into the picture.
class FleetPoints
{
public:
    FleetPoints(const TurnsGroup &group, double low, double high)
        : m_group(group), m_low(low), m_high(high), m_many(group.points.size() > mostPoints),
          m_within(pointSeries(chartSay("counts"), faint(okabe::blue, 170), PointShape::Disc, 3.0)),
          m_failed(
              pointSeries(chartSay("judged a failure"), look::quietInk, PointShape::Cross, 3.6)),
          m_slips(
              pointSeries(chartSay("a slip of counting"), look::quietInk, PointShape::Ring, 3.6)),
          m_flagged(
              pointSeries(chartSay("drifts now"), okabe::vermilion, PointShape::Diamond, 5.5)),
          m_crowd(crowdOf(m_within)), m_failedCrowd(crowdOf(m_failed)),
          m_slipsCrowd(crowdOf(m_slips)), m_flaggedCrowd(crowdOf(m_flagged))
    {
        const auto flagged =
            static_cast<size_t>(std::ranges::count_if(group.points, &TurnPoint::drifts));
        m_gatheredFlags = flagged - std::min(flagged, mostFlagged);
    }

    void addTo(FleetTurnsPicture &made)
    {
        for (size_t i = 0; i < m_group.points.size(); ++i) {
            add(i, made);
        }
        for (const Crowd *each : {&m_failedCrowd, &m_slipsCrowd, &m_crowd, &m_flaggedCrowd}) {
            if (!each->isEmpty()) {
                std::ranges::move(each->series(), std::back_inserter(made.picture.series));
            }
        }
        for (ChartSeries *series : {&m_within, &m_failed, &m_slips, &m_flagged}) {
            if (!series->x.empty()) {
                made.picture.series.push_back(std::move(*series));
            }
        }
    }

private:
    [[nodiscard]] Crowd crowdOf(const ChartSeries &look) const
    {
        return {look, dateKey(m_group.points.front().date), dateKey(m_group.points.back().date),
                m_low, m_high};
    }

    void add(size_t index, FleetTurnsPicture &made)
    {
        const TurnPoint &point = m_group.points[index];
        const double edge = (m_high - m_low) * 0.025;
        const double x = dateKey(point.date);
        const double y = std::clamp(point.fromFirst, m_low + edge, m_high - edge);
        if (point.drifts && m_gatheredFlags > 0) { // the newest are drawn each
            --m_gatheredFlags;
            return m_flaggedCrowd.add(x, y);
        }
        if (m_many && !point.drifts) {
            return (point.isFailure ? m_failedCrowd
                    : point.isSlip  ? m_slipsCrowd
                                    : m_crowd)
                .add(x, y);
        }
        addPoint(point.drifts      ? m_flagged
                 : point.isFailure ? m_failed
                 : point.isSlip    ? m_slips
                                   : m_within,
                 x, y);
        ChartItem item;
        item.x = item.x2 = x;
        item.y = item.y2 = y;
        item.words = pointWords(point);
        made.picture.items.push_back(item);
        made.shown.push_back(index);
    }

    const TurnsGroup &m_group;
    double m_low;
    double m_high;
    bool m_many;
    size_t m_gatheredFlags = 0;
    ChartSeries m_within;
    ChartSeries m_failed;
    ChartSeries m_slips;
    ChartSeries m_flagged;
    Crowd m_crowd;
    Crowd m_failedCrowd;
    Crowd m_slipsCrowd;
    Crowd m_flaggedCrowd;
};

} // namespace

FleetTurnsPicture fleetTurnsPicture(const FleetTurns &figure, std::size_t index)
{
    FleetTurnsPicture made;
    ChartPicture &picture = made.picture;
    picture.fileStem = QStringLiteral("turns-of-the-fleet");
    picture.title = chartSay("How far counts are from each valve's first baseline");
    picture.figures = turnsGroupTable(figure);
    if (index >= figure.groups.size() || figure.groups[index].points.empty()) {
        picture.emptyWords =
            chartSay("No valve has counts to compare in this span. A valve needs two counts at "
                     "least: record rounds in the Truck, or choose a longer span.");
        return made;
    }
    const TurnsGroup &group = figure.groups[index];
    picture.title += QStringLiteral(": ") + group.name;
    picture.note =
        group.chart
            ? chartSay(
                  "Limits from the median moving range of the counts of %1 valves. Diamonds: the "
                  "newest counts of the valves that drift now (%2). Counts farther off stand "
                  "at the edge.")
                  .arg(group.valves)
                  .arg(group.drifting)
            : chartSay("No valve of this kind has two counts: no limits yet.");
    const auto [low, high] = heights(group);
    const double first = dateKey(group.points.front().date);
    const double last = dateKey(group.points.back().date);
    const double pad = std::max(15.0 * 86400, (last - first) * 0.02);
    picture.x = {
        chartSay("Day of the visit"), ChartAxis::Scale::Dates, {}, first - pad, last + pad};
    picture.y = {chartSay("Turns more or fewer"), ChartAxis::Scale::Number, {}, low, high};
    if (group.chart) {
        addLimits(picture, *group.chart);
    }
    FleetPoints(group, low, high).addTo(made);
    return made;
}

} // namespace keyround
