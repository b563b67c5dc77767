// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/fleet_turns.h"

#include "core/condition/count_slips.h"
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
constexpr double leastCounted = 0.25;

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
    std::vector<std::size_t> sound;  ///< indices of those that are neither failure nor slip
    std::vector<std::size_t> cycles; ///< indices of full cycles
    std::optional<double> judgedBy;  ///< the baseline that the first count was judged against
};

/// Measures a life from its first full cycle that is no slip, else from its first sound count, else
/// from the baseline of its first count. False where there is none.
bool measure(Series &series)
{
    const auto cycle = std::ranges::find_if(
        series.cycles, [&series](std::size_t at) { return !series.points[at].isSlip; });
    if (cycle != series.cycles.end()) {
        series.first = series.points[*cycle].turns;
    } else if (!series.sound.empty()) {
        series.first = series.points[series.sound.front()].turns;
    } else if (series.judgedBy) {
        series.first = *series.judgedBy;
    } else {
        return false;
    }
    for (TurnPoint &point : series.points) {
        point.fromFirst = point.turns - series.first;
    }
    return true;
}

std::optional<Series> seriesOf(const Valve &valve, std::span<const ReadVisit> visits)
{
    Series series;
    for (const ReadVisit &read : visits) {
        if (read.judgement.counted.value <= 0) {
            continue;
        }
        TurnPoint point;
        point.valve = valve.id;
        point.visit = read.visit.id;
        point.date = read.visit.arrived.localDate();
        point.turns = turnsOf(read);
        if (read.judgement.baseline.source != BaselineSource::None) {
            const double middle = middleOf(read.judgement.baseline);
            point.fromJudged = point.turns - middle;
            series.judgedBy = series.judgedBy.value_or(middle);
        }
        point.isFailure = isFailed(read);
        if (!point.isFailure) {
            series.sound.push_back(series.points.size());
        }
        if (read.fullCycle) {
            series.cycles.push_back(series.points.size());
        }
        series.points.push_back(std::move(point));
    }
    return measure(series) ? std::optional(std::move(series)) : std::nullopt;
}

/// Takes slips out of the sound counts, and measures anew what a slip was the first baseline of.
void setSlipsAside(Series &series, double sigma)
{
    const double apart = 3.0 * std::sqrt(2.0) * sigma; // of two counts, by chance
    std::vector<double> turns;
    turns.reserve(series.sound.size());
    for (const std::size_t at : series.sound) {
        turns.push_back(series.points[at].turns);
    }
    const std::vector<bool> slips = countSlips(turns, apart);
    std::vector<std::size_t> sound;
    for (std::size_t i = 0; i < slips.size(); ++i) {
        series.points[series.sound[i]].isSlip = slips[i];
        if (!slips[i]) {
            sound.push_back(series.sound[i]);
        }
    }
    if (sound.size() < series.sound.size()) {
        series.sound = std::move(sound);
        measure(series);
    }
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

QString signedTurns(double turns)
{
    const QString text =
        turnsText(QuarterTurns{static_cast<int>(std::lround(std::abs(turns) * 4))});
    return turns < 0 ? QStringLiteral("%1 fewer").arg(text) : QStringLiteral("%1 more").arg(text);
}

/// Whether the newest sound count, which ends a run, is off still: from the first baseline and from
/// the counts before it, both by what can be counted and on one side.
bool isOffStill(const Series &series)
{
    const TurnPoint &last = series.points[series.sound.back()];
    double before = 0;
    for (std::size_t i = 0; i + 1 < series.sound.size(); ++i) {
        before += series.points[series.sound[i]].turns;
    }
    const double fromBefore =
        last.turns -
        before / static_cast<double>(std::max<std::size_t>(1, series.sound.size() - 1));
    return std::abs(fromBefore) >= leastCounted && std::abs(last.fromFirst) >= leastCounted &&
           (fromBefore > 0) == (last.fromFirst > 0);
}

/// A drift that stands: its run ends at the valve's newest sound count.
std::optional<DriftingValve> driftOf(const Series &series, const ValveHistory &history)
{
    if (series.sound.empty() || series.points[series.sound.back()].rules.isEmpty() ||
        !isOffStill(series)) {
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
            .arg(driftWords(drift.rule),
                 turnsText(QuarterTurns{static_cast<int>(std::lround(last.turns * 4))}),
                 signedTurns(last.fromFirst),
                 turnsText(QuarterTurns{static_cast<int>(std::lround(series.first * 4))}));
    if (drift.rule == 1) {
        drift.words += QStringLiteral("; a slip of counting or a change: the next count tells");
    }
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

/// "412 counts of 100 valves: 2 drift, 1 of them not yet out of condition."
QString countsWords(int counts, int valves, const std::vector<DriftingValve> &drifting)
{
    const QString counted =
        QStringLiteral("%1 of %2")
            .arg(counts == 1 ? QStringLiteral("1 count") : QStringLiteral("%1 counts").arg(counts),
                 valvesWords(static_cast<std::size_t>(valves)));
    if (drifting.empty()) {
        return counted + QStringLiteral("; none drifts now.");
    }
    const auto holding = std::ranges::count_if(
        drifting, [](const DriftingValve &drift) { return !isOutOfCondition(drift.condition); });
    return QStringLiteral("%1; %2, %3 of them not yet out of condition.")
        .arg(counted, drifting.size() == 1 ? QStringLiteral("1 drifts now")
                                           : QStringLiteral("%1 drift now").arg(drifting.size()))
        .arg(holding);
}

/// Limits without slips, which are told by the limits of all.
void makeLimits(GroupWork &work)
{
    const auto chart = robustChart(deviationsOf(work.series), leastCounted, leastSigma);
    if (!chart) {
        return;
    }
    for (Series &series : work.series) {
        setSlipsAside(series, chart->sigma);
    }
    work.group.chart = robustChart(deviationsOf(work.series), leastCounted, leastSigma);
    if (work.group.chart) {
        for (Series &series : work.series) {
            standardise(series, work.group.chart->sigma);
        }
    }
}

void settle(GroupWork &work, const Span &span, std::vector<DriftingValve> &drifting)
{
    TurnsGroup &group = work.group;
    makeLimits(work);
    std::vector<DriftingValve> ofGroup;
    for (std::size_t i = 0; i < work.series.size(); ++i) {
        Series &series = work.series[i];
        if (work.histories[i] != nullptr) {
            const std::optional<DriftingValve> drift = driftOf(series, *work.histories[i]);
            if (drift && drift->date >= span.from && drift->date <= span.to) {
                series.points[series.sound.back()].drifts = true;
                ofGroup.push_back(*drift);
            }
        }
        for (TurnPoint &point : series.points) {
            if (point.date >= span.from && point.date <= span.to) {
                group.points.push_back(std::move(point));
            }
        }
    }
    std::ranges::stable_sort(group.points, {}, &TurnPoint::date);
    group.drifting = static_cast<int>(ofGroup.size());
    group.sentence = QStringLiteral("Kind %1: ").arg(group.name) +
                     countsWords(static_cast<int>(group.points.size()), group.valves, ofGroup);
    drifting.insert(drifting.end(), ofGroup.begin(), ofGroup.end());
}

QString sentenceOf(const FleetTurns &figure)
{
    if (figure.counts == 0) {
        return QStringLiteral("No visit of this time has counted the turns of these valves against "
                              "a baseline.");
    }
    return countsWords(figure.counts, figure.valves, figure.drifting);
}

} // namespace

QString driftWords(int rule)
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
