// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/condition_bands.h"

#include "core/condition/condition_walk.h"
#include "core/condition/figure_words.h"

#include <algorithm>

namespace keyround {

namespace {

std::vector<BandPeriod> emptyPeriods(const Span &span, PeriodLength length)
{
    std::vector<BandPeriod> periods;
    QDate from = span.from;
    for (PeriodCounts &counts : periodsIn(span, length)) {
        BandPeriod period;
        period.from = from;
        from = counts.end.addDays(1);
        period.counts = std::move(counts);
        periods.push_back(std::move(period));
    }
    return periods;
}

void addValve(std::vector<BandPeriod> &periods, const ValveHistory &history)
{
    ConditionWalk walk(history);
    for (BandPeriod &period : periods) {
        const ReadVisit *last = nullptr;
        while (walk.next(period.counts.end)) {
            if (walk.visit() != nullptr && walk.date() >= period.from) {
                last = walk.visit();
            }
        }
        ++period.counts.counts[static_cast<size_t>(walk.now())];
        ++period.valves;
        // A visit that says nothing of a valve never known before is no look at it.
        if (last != nullptr && last->after != Condition::NeverVisited) {
            ++period.visited;
            period.serviceable += isOutOfCondition(last->after) ? 0 : 1;
        }
    }
}

QString wordsOf(const BandPeriod &period)
{
    switch (period.kind) {
    case ShareKind::Sample:
        return QStringLiteral(
                   "serviceable, with or without a defect, %1 (%2): a sample, %3 of %4 visited")
            .arg(percentWords(*period.share), percentWords(*period.interval))
            .arg(period.visited)
            .arg(valvesWords(static_cast<std::size_t>(period.valves)));
    case ShareKind::All:
        return QStringLiteral("serviceable, with or without a defect, %1: all %2 visited, so "
                              "counted and not estimated")
            .arg(percentWords(*period.share), valvesWords(static_cast<std::size_t>(period.valves)));
    case ShareKind::Nothing:
        break;
    }
    return QStringLiteral("no valve visited: no share");
}

void settleShares(ConditionOverTime &figure)
{
    std::vector<ShareSample> samples;
    samples.reserve(figure.periods.size());
    for (BandPeriod &period : figure.periods) {
        samples.push_back({period.serviceable, period.visited});
        if (period.visited > 0) {
            period.share = static_cast<double>(period.serviceable) / period.visited;
            period.kind = period.visited == period.valves ? ShareKind::All : ShareKind::Sample;
        }
        if (period.kind == ShareKind::Sample) {
            period.interval = wilsonInterval(period.serviceable, period.visited);
        }
        period.words = wordsOf(period);
    }
    const ShareChart chart = shareChart(samples);
    figure.centre = chart.centre;
    for (std::size_t i = 0; i < chart.points.size(); ++i) {
        if (!chart.points[i].isEmpty) {
            figure.periods[i].limits = chart.points[i].limits;
            figure.periods[i].standsOut = chart.points[i].standsOut;
        }
    }
}

/// What the share may be: its interval, or the share itself where it was counted.
Interval reachOf(const BandPeriod &period)
{
    return period.interval.value_or(Interval{*period.share, *period.share});
}

QString standingOut(const std::vector<BandPeriod> &periods)
{
    QStringList names;
    for (const BandPeriod &period : periods) {
        if (period.standsOut) {
            names << period.counts.period;
        }
    }
    if (names.isEmpty()) {
        return QStringLiteral("No period stands out.");
    }
    constexpr int listed = 6;
    const bool many = names.size() > listed;
    const QString shown = names.mid(0, listed).join(QStringLiteral(", "));
    return QStringLiteral("Beyond the limits: %1%2.")
        .arg(shown, many ? QStringLiteral(" and %1 more").arg(names.size() - listed) : QString());
}

/// The same season of the year before, or the last period before it with visits; the first of all
/// where the time is shorter.
auto yearBefore(const std::vector<BandPeriod> &periods, const BandPeriod &last)
{
    const QDate day = last.counts.end.addYears(-1);
    auto found = periods.end();
    for (auto each = periods.begin(); each != periods.end(); ++each) {
        found = each->share ? each : found;
        if (found != periods.end() && each->counts.end >= day) {
            break;
        }
    }
    return found;
}

QString sentenceOf(const ConditionOverTime &figure)
{
    const auto isKnown = [](const BandPeriod &period) { return period.share.has_value(); };
    const auto first = std::ranges::find_if(figure.periods, isKnown);
    if (first == figure.periods.end()) {
        return QStringLiteral("No valve of these was visited in this time: choose a longer one, "
                              "or other valves.");
    }
    const auto last = std::find_if(figure.periods.rbegin(), figure.periods.rend(), isKnown);
    const QString now = QStringLiteral("%1: %2").arg(last->counts.period, last->words);
    if (&*first == &*last) {
        return QStringLiteral("%1. %2").arg(now, standingOut(figure.periods));
    }
    const auto compared = yearBefore(figure.periods, *last);
    const Interval then = reachOf(*compared);
    const Interval latest = reachOf(*last);
    QString trend = QStringLiteral("no difference that the numbers can show");
    if (latest.from > then.to) {
        trend = QStringLiteral("better");
    } else if (latest.to < then.from) {
        trend = QStringLiteral("worse");
    }
    return QStringLiteral("%1. Against %2 (%3): %4. %5")
        .arg(now, compared->counts.period, percentWords(*compared->share), trend,
             standingOut(figure.periods));
}

} // namespace

std::vector<PeriodCounts> ConditionOverTime::series() const
{
    std::vector<PeriodCounts> bands;
    bands.reserve(periods.size());
    std::ranges::transform(periods, std::back_inserter(bands), &BandPeriod::counts);
    return bands;
}

ConditionOverTime conditionOverTime(const std::vector<Valve> &valves, const Histories &histories,
                                    const Span &span, PeriodLength length)
{
    static const ValveHistory nothing;
    ConditionOverTime figure;
    figure.length = length;
    figure.periods = emptyPeriods(span, length);
    for (const Valve &valve : valves) {
        if (!valve.retired) {
            const auto history = histories.constFind(valve.id);
            addValve(figure.periods, history == histories.cend() ? nothing : *history);
            ++figure.valves;
        }
    }
    settleShares(figure);
    figure.sentence = sentenceOf(figure);
    return figure;
}

} // namespace keyround
