// SPDX-License-Identifier: GPL-3.0-or-later
// Whose counts drift? One valve's counts against the baselines that they were judged by, and the
// fleet's deviations from each valve's own baseline on one control chart.
//
// A valve has few counts, so moving ranges are pooled over valves of like type and size; centre and
// limits are the median and the median moving range (robustChart()), which a wild count cannot
// move. Deviations are taken from the valve's FIRST baseline: the baseline that a visit is judged
// against moves with every full cycle, and would walk along with a slow drift.
// It is its first full cycle; without one its first sound count, since a listed number that is far
// wrong (an operator's gear left out of the list) tells of the list and not of drift.
//
// Counts that were judged as failures (short, spun, did not turn) are shown but make no limits and
// no runs: drift is to be seen before failure. A slip of counting (277 for 27; countSlips())
// is shown as such, but in no limits, no runs and no first baseline.
//
// A valve drifts NOW: its newest sound count ends a run, and lies at least a quarter turn from both
// the first baseline and the counts before it, on one side. One that came back does not drift; its
// older runs are told of in their points' words alone. Which Nelson rules flag drift: 1, 2, 3, 5
// and 6; the others tell of measuring, not of drifting.
//
// A count is put against the mean of the valve's sound counts before it, in standard deviations of
// that difference (Quesenberry's Q for a known sigma, Journal of Quality Technology 23(3), 1991,
// from memory): such values are independent and of mean 0 while nothing drifts, which deviations
// from one noisy baseline are not. Values are in turns; sigma is at least a quarter, the finest
// that a crew counts.
#pragma once

#include "core/condition/control_chart.h"
#include "core/condition/series.h"
#include "core/inventory/size_class.h"

namespace keyround {

struct TurnCount
{
    VisitId visit;
    QDate date;
    double turns = 0;
    Baseline baseline;  ///< that the visit was judged against
    double allowed = 0; ///< turns off either end of the baseline
    Verdict verdict = Verdict::NotJudged;
    bool fullCycle = false;
};
struct ValveTurns
{
    ValveId valve;
    std::vector<TurnCount> counts; ///< visits that turned it, oldest first
    Baseline next;                 ///< for the next visit
    double nextAllowed = 0;
    /// "6 counts; the last, 26 1/2 turns on 2024-05-02, was judged full against 27 turns, counted
    /// on 2023-05-04."
    QString sentence;
};
[[nodiscard]] ValveTurns valveTurns(const ValveHistory &history, const ValveId &valve,
                                    const Tolerance &tolerance);

struct TurnPoint
{
    ValveId valve;
    VisitId visit;
    QDate date;
    double turns = 0;
    double fromFirst = 0;    ///< count less the valve's first baseline, in turns
    double fromJudged = 0;   ///< count less the baseline that it was judged against
    double standardised = 0; ///< against the counts before, in standard deviations; see above
    bool isFailure = false;  ///< shown, but in no limits and no runs
    bool isSlip = false;     ///< the same: one wild count among normal ones
    bool drifts = false;     ///< the newest count of a valve that is said to drift
    QList<int> rules;        ///< Nelson rules that end here
};
/// "two of three counts well off, on one side": what the counts did where a rule ends.
[[nodiscard]] QString driftWords(int rule);
struct TurnsGroup
{
    QString name; ///< "gate, up to 8 in"
    ValveType type = ValveType::Unknown;
    SizeClass size = SizeClass::Unknown;
    int valves = 0;                   ///< with counts
    int drifting = 0;                 ///< of them, as often as `drifts` among the points
    std::optional<RobustChart> chart; ///< of fromFirst; empty: no valve has two counts
    std::vector<TurnPoint> points;    ///< by date, those of the span
    /// "Kind gate, up to 8 in: 412 counts of 100 valves; 2 drift now, 1 of them not yet out of
    /// condition."
    QString sentence;
};
/// A valve whose counts drift: its newest run.
struct DriftingValve
{
    ValveId valve;
    VisitId visit; ///< that ended the run
    QDate date;
    int rule = 0;
    double fromFirst = 0;
    Condition condition = Condition::NeverVisited; ///< as it is known now
    /// "two of three counts well off, on one side: now 31 turns, 4 more than its first baseline of
    /// 27".
    QString words;
};
struct FleetTurns
{
    std::vector<TurnsGroup> groups;      ///< most counts first
    std::vector<DriftingValve> drifting; ///< not out of condition first, then the farthest off
    int valves = 0;
    int counts = 0;
    QString sentence;
};
/// Limits and runs come from all counts of a valve's life; the span only chooses the points and the
/// drifts that are shown. Retired valves are left out.
[[nodiscard]] FleetTurns fleetTurns(const std::vector<Valve> &valves, const Histories &histories,
                                    const Span &span);

} // namespace keyround
