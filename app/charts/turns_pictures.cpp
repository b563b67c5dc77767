// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/figure_pictures.h"
#include "app/charts/group_looks.h"
#include "app/shell/style.h"
#include "core/reports/review_tables.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace keyround {

namespace {

double least(const Baseline &baseline)
{
    return baseline.least.value / 4.0;
}

double most(const Baseline &baseline)
{
    return baseline.most.value / 4.0;
}

struct VerdictLook
{
    Verdict verdict;
    QColor colour;
    PointShape shape;
};

const std::array<VerdictLook, 6> &verdictLooks()
{
    static const std::array<VerdictLook, 6> looks{{
        {Verdict::Full, okabe::green, PointShape::Disc},
        {Verdict::Short, okabe::vermilion, PointShape::Triangle},
        {Verdict::Beyond, okabe::orange, PointShape::Diamond},
        {Verdict::SpinsFree, okabe::purple, PointShape::Ring},
        {Verdict::DoesNotTurn, look::ink, PointShape::Cross},
        {Verdict::NotJudged, okabe::sky, PointShape::Square},
    }};
    return looks;
}

/// Baseline and tolerance from one day to another.
void addBaseline(ChartSeries &band, ChartSeries &line, const Baseline &baseline, double allowed,
                 double from, double to)
{
    if (baseline.source == BaselineSource::None) {
        return;
    }
    addBox(band, from, to, std::max(0.0, least(baseline) - allowed), most(baseline) + allowed);
    for (const double height : {least(baseline), most(baseline)}) {
        addPoint(line, from, height);
        addPoint(line, to, height);
        addPoint(line, to, std::nan(""));
    }
}

} // namespace

ChartPicture valveTurnsPicture(const ValveTurns &turns, const QString &number)
{
    ChartPicture picture;
    picture.fileStem = QStringLiteral("turns");
    picture.title = chartSay("Counts of valve %1").arg(number);
    picture.figures = valveTurnsTable(turns);
    picture.rowsAreItems = true;
    if (turns.counts.empty()) {
        picture.emptyWords =
            chartSay("No visit has turned this valve yet. Put it on a round in the "
                     "Yard; its counts then stand here.");
        return picture;
    }
    ChartSeries band;
    band.name = chartSay("tolerance");
    band.colour = faint(okabe::sky, 70);
    band.outlined = false;
    ChartSeries line;
    line.kind = ChartSeries::Kind::Line;
    line.name = chartSay("baseline");
    line.colour = okabe::blue;
    line.stroke = Qt::DashLine;
    const double first = dateKey(turns.counts.front().date);
    const double last = dateKey(turns.counts.back().date);
    const double pad = std::max(30.0 * 86400, (last - first) * 0.06);
    double highest = 4;
    double before = first - pad;
    for (size_t i = 0; i < turns.counts.size(); ++i) {
        const TurnCount &count = turns.counts[i];
        const double at = dateKey(count.date);
        const double until = i + 1 < turns.counts.size()
                                 ? (at + dateKey(turns.counts[i + 1].date)) / 2.0
                                 : at + pad / 2.0;
        addBaseline(band, line, count.baseline, count.allowed, before, until);
        before = until;
        highest = std::max({highest, count.turns, most(count.baseline) + count.allowed});
    }
    addBaseline(band, line, turns.next, turns.nextAllowed, before, last + pad);
    highest = std::max(highest, most(turns.next) + turns.nextAllowed);
    picture.series = {std::move(band), std::move(line)};
    for (const VerdictLook &look : verdictLooks()) {
        ChartSeries shown = pointSeries(wordFor(look.verdict), look.colour, look.shape, 6.0);
        for (const TurnCount &count : turns.counts) {
            if (count.verdict == look.verdict) {
                addPoint(shown, dateKey(count.date), count.turns);
            }
        }
        if (!shown.x.empty()) {
            picture.series.push_back(std::move(shown));
        }
    }
    for (const TurnCount &count : turns.counts) {
        ChartItem item;
        item.x = item.x2 = dateKey(count.date);
        item.y = item.y2 = count.turns;
        item.words = chartSay("%1: %2 turns, %3\nAgainst %4")
                         .arg(count.date.toString(Qt::ISODate), turnsWords(count.turns),
                              wordFor(count.verdict), wordsFor(count.baseline));
        picture.items.push_back(item);
    }
    picture.x = {
        chartSay("Day of the visit"), ChartAxis::Scale::Dates, {}, first - pad, last + pad};
    // A little below none: a count of 0 is to be seen whole.
    picture.y = {chartSay("Turns"), ChartAxis::Scale::Whole, {}, -highest * 0.05, highest * 1.12};
    picture.note = turns.sentence;
    return picture;
}

} // namespace keyround
