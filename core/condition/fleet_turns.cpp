// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/fleet_turns.h"

#include "core/condition/figure_words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace keyround {

namespace {

/// Those of Nelson's rules that tell of drift.
constexpr std::array driftRules{1, 2, 3, 5, 6};
/// Counts are whole quarter-turns: a spread below one is of the counting, not of the valve.
constexpr double leastSigma = 0.25;

double turnsOf(const ReadVisit &read)
{
    return read.judgement.counted.turns();
}

bool isFailed(const ReadVisit &read)
{
    return read.judgement.verdict == Verdict::Short ||
           read.judgement.verdict == Verdict::SpinsFree ||
           read.judgement.verdict == Verdict::DoesNotTurn;
}

/// The middle of a baseline; a rule of thumb is a range.
double middleOf(const Baseline &baseline)
{
    return (baseline.least.turns() + baseline.most.turns()) / 2.0;
}

/// The counts of one life, against its first baseline.
struct Series
{
    double first = 0; ///< the first baseline
    std::vector<TurnPoint> points;
    std::vector<std::size_t> sound; ///< indices of those that are no failure
};

/// What a life is measured from: its first full cycle, else the baseline of its first count.
std::optional<double> firstBaseline(std::span<const ReadVisit> visits)
{
    const auto cycle = std::ranges::find_if(visits, &ReadVisit::fullCycle);
    if (cycle != visits.end()) {
        return turnsOf(*cycle);
    }
    const auto judged = std::ranges::find_if(visits, [](const ReadVisit &read) {
        return read.judgement.counted.value > 0 &&
               read.judgement.baseline.source != BaselineSource::None;
    });
    return judged == visits.end() ? std::nullopt
                                  : std::optional(middleOf(judged->judgement.baseline));
}

std::optional<Series> seriesOf(const Valve &valve, std::span<const ReadVisit> visits)
{
    const std::optional<double> first = firstBaseline(visits);
    if (!first) {
        return std::nullopt;
    }
    Series series;
    series.first = *first;
    for (const ReadVisit &read : visits) {
        if (read.judgement.counted.value <= 0) {
            continue;
        }
        TurnPoint point;
        point.valve = valve.id;
        point.visit = read.visit.id;
        point.date = read.visit.arrived.localDate();
        point.turns = turnsOf(read);
        point.fromFirst = point.turns - *first;
        point.fromJudged = read.judgement.baseline.source == BaselineSource::None
                               ? 0.0
                               : point.turns - middleOf(read.judgement.baseline);
        point.isFailure = isFailed(read);
        if (!point.isFailure) {
            series.sound.push_back(series.points.size());
        }
        series.points.push_back(std::move(point));
    }
    return series.points.empty() ? std::nullopt : std::optional(std::move(series));
}

/// Each sound count against the mean of those before it, in standard deviations of that difference,
/// and the rules that end there.
void standardise(Series &series, double sigma)
{
    std::vector<double> standardised;
    double sum = 0;
    for (std::size_t i = 0; i < series.sound.size(); ++i) {
        TurnPoint &point = series.points[series.sound[i]];
        if (i > 0) {
            const auto before = static_cast<double>(i);
            point.standardised = (point.turns - sum / before) / (sigma * std::sqrt(1 + 1 / before));
            standardised.push_back(point.standardised);
        }
        sum += point.turns;
    }
    for (const RuleHit &hit : nelsonHits(standardised)) {
        if (std::ranges::find(driftRules, hit.rule) != driftRules.end()) {
            series.points[series.sound[hit.at + 1]].rules << hit.rule;
        }
    }
}

QString ruleWords(int rule)
{
    switch (rule) {
    case 1:
        return QStringLiteral("one count far off those before");
    case 2:
        return QStringLiteral("nine counts in a row on one side");
    case 3:
        return QStringLiteral("six counts in a row going one way");
    case 5:
        return QStringLiteral("two of three counts well off, on one side");
    default:
        return QStringLiteral("four of five counts off, on one side");
    }
}

QString signedTurns(double turns)
{
    const QString text =
        turnsText(QuarterTurns{static_cast<int>(std::lround(std::abs(turns) * 4))});
    return turns < 0 ? QStringLiteral("%1 fewer").arg(text) : QStringLiteral("%1 more").arg(text);
}

/// A drift that stands: its run ends at the valve's newest sound count.
std::optional<DriftingValve> driftOf(const Series &series, const ValveHistory &history)
{
    if (series.sound.empty() || series.points[series.sound.back()].rules.isEmpty()) {
        return std::nullopt;
    }
    const TurnPoint &last = series.points[series.sound.back()];
    DriftingValve drift;
    drift.valve = last.valve;
    drift.visit = last.visit;
    drift.date = last.date;
    drift.rule = last.rules.front();
    drift.fromFirst = last.fromFirst;
    drift.condition = history.condition;
    drift.words =
        QStringLiteral("%1: now %2 turns, %3 than its first baseline of %4")
            .arg(ruleWords(drift.rule),
                 turnsText(QuarterTurns{static_cast<int>(std::lround(last.turns * 4))}),
                 signedTurns(last.fromFirst),
                 turnsText(QuarterTurns{static_cast<int>(std::lround(series.first * 4))}));
    return drift;
}

struct GroupWork
{
    TurnsGroup group;
    std::vector<Series> series;
    std::vector<const ValveHistory *> histories; ///< of each series whose life goes on, else null
};
using Works = std::map<std::pair<ValveType, SizeClass>, GroupWork>;

void addValve(Works &works, const Valve &valve, const ValveHistory &history)
{
    bool counted = false;
    GroupWork *work = nullptr;
    for (std::size_t i = 0; i < history.lives.size(); ++i) {
        const ValveLife &life = history.lives[i];
        std::optional<Series> series = seriesOf(
            valve,
            std::span(history.visits).subspan(life.firstVisit, life.endVisit - life.firstVisit));
        if (!series) {
            continue;
        }
        if (work == nullptr) {
            work = &works[{valve.type, sizeClassOf(valve.size)}];
        }
        work->series.push_back(std::move(*series));
        work->histories.push_back(i + 1 == history.lives.size() ? &history : nullptr);
        counted = true;
    }
    if (counted) {
        ++work->group.valves;
    }
}

std::vector<std::vector<double>> deviationsOf(const std::vector<Series> &all)
{
    std::vector<std::vector<double>> deviations;
    deviations.reserve(all.size());
    for (const Series &series : all) {
        std::vector<double> &one = deviations.emplace_back();
        one.reserve(series.sound.size());
        for (const std::size_t i : series.sound) {
            one.push_back(series.points[i].fromFirst);
        }
    }
    return deviations;
}

void settle(GroupWork &work, const Span &span, std::vector<DriftingValve> &drifting)
{
    TurnsGroup &group = work.group;
    group.chart = pooledChart(deviationsOf(work.series));
    const double sigma = std::max(leastSigma, group.chart ? group.chart->sigma() : 0.0);
    for (std::size_t i = 0; i < work.series.size(); ++i) {
        Series &series = work.series[i];
        if (group.chart) {
            standardise(series, sigma);
        }
        if (work.histories[i] != nullptr) {
            const std::optional<DriftingValve> drift = driftOf(series, *work.histories[i]);
            if (drift && drift->date >= span.from && drift->date <= span.to) {
                drifting.push_back(*drift);
            }
        }
        for (TurnPoint &point : series.points) {
            if (point.date >= span.from && point.date <= span.to) {
                group.points.push_back(std::move(point));
            }
        }
    }
    std::ranges::stable_sort(group.points, {}, &TurnPoint::date);
}

QString sentenceOf(const FleetTurns &figure)
{
    if (figure.counts == 0) {
        return QStringLiteral("No visit of this time has counted the turns of these valves against "
                              "a baseline.");
    }
    const QString counted = QStringLiteral("%1 counts of %2")
                                .arg(figure.counts)
                                .arg(valvesWords(static_cast<std::size_t>(figure.valves)));
    if (figure.drifting.empty()) {
        return counted + QStringLiteral(": none drifts.");
    }
    const auto holding = std::ranges::count_if(figure.drifting, [](const DriftingValve &drift) {
        return !isOutOfCondition(drift.condition);
    });
    return QStringLiteral("%1: %2, %3 of them not yet out of condition.")
        .arg(counted, figure.drifting.size() == 1
                          ? QStringLiteral("1 drifts")
                          : QStringLiteral("%1 drift").arg(figure.drifting.size()))
        .arg(holding);
}

} // namespace

ValveTurns valveTurns(const ValveHistory &history, const ValveId &valve, const Tolerance &tolerance)
{
    ValveTurns figure;
    figure.valve = valve;
    figure.next = history.baseline;
    figure.nextAllowed = history.baseline.source == BaselineSource::None
                             ? 0.0
                             : allowance(tolerance, history.baseline.most).turns();
    for (const ReadVisit &read : history.visits) {
        if (read.judgement.counted.value > 0) {
            figure.counts.push_back({read.visit.id, read.visit.arrived.localDate(), turnsOf(read),
                                     read.judgement.baseline, read.judgement.allowed.turns(),
                                     read.judgement.verdict, read.fullCycle});
        }
    }
    if (figure.counts.empty()) {
        figure.sentence = QStringLiteral("No visit has counted its turns yet.");
        return figure;
    }
    const TurnCount &last = figure.counts.back();
    figure.sentence =
        QStringLiteral("%1; the last, %2 turns on %3, was judged %4 against %5.")
            .arg(figure.counts.size() == 1 ? QStringLiteral("1 count")
                                           : QStringLiteral("%1 counts").arg(figure.counts.size()),
                 turnsText(QuarterTurns{static_cast<int>(std::lround(last.turns * 4))}),
                 last.date.toString(Qt::ISODate), wordFor(last.verdict), wordsFor(last.baseline));
    return figure;
}

FleetTurns fleetTurns(const std::vector<Valve> &valves, const Histories &histories,
                      const Span &span)
{
    Works works;
    for (const Valve &valve : valves) {
        const auto history = histories.constFind(valve.id);
        if (!valve.retired && history != histories.cend()) {
            addValve(works, valve, *history);
        }
    }
    FleetTurns figure;
    for (auto &[kind, work] : works) {
        work.group.type = kind.first;
        work.group.size = kind.second;
        work.group.name = kindWords(kind.first, kind.second);
        settle(work, span, figure.drifting);
        figure.valves += work.group.valves;
        figure.counts += static_cast<int>(work.group.points.size());
        figure.groups.push_back(std::move(work.group));
    }
    std::ranges::stable_sort(figure.groups, std::greater{},
                             [](const TurnsGroup &group) { return group.points.size(); });
    std::ranges::stable_sort(figure.drifting, [](const DriftingValve &a, const DriftingValve &b) {
        const bool outA = isOutOfCondition(a.condition);
        const bool outB = isOutOfCondition(b.condition);
        return outA != outB ? outB : std::abs(a.fromFirst) > std::abs(b.fromFirst);
    });
    figure.sentence = sentenceOf(figure);
    return figure;
}

} // namespace keyround
