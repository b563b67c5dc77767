// SPDX-License-Identifier: GPL-3.0-or-later
// Are we on pace? Valves inspected and full cycles by year against what the policy asks for.
//
// The policy's target for a year is the sum over valves of 12 / interval: a valve that is due every
// 36 months asks for a third of a cycle a year. Today's policy is laid on past years too, and on
// the places that have a valve today (those whose first valve came later than a past year are left
// out of it; a replaced valve's place was there before). A valve counts as inspected once a year
// however often it was visited; its full cycles count on different days up to what the policy asks
// of one year (at least one), so that turning one valve ten times does not stand for ten.
//
// The pace is that of the last twelve months up to today: a whole year, so that winter counts
// once. This year's target is met on the day when the pace has made up what is still missing; it
// may lie in a later year.
#pragma once

#include "core/condition/series.h"
#include "core/inventory/size_class.h"
#include "core/schedule/policy.h"

namespace keyround {

struct PaceCounts
{
    QString name;      ///< "all", "up to 8 in", a zone
    int valves = 0;    ///< in the ground
    double target = 0; ///< full cycles that the policy asks for in the whole year
    int inspected = 0; ///< valves visited
    int cycles = 0;    ///< full cycles that count; see above
    /// Of the target, 0 where the policy asks for none.
    [[nodiscard]] double share() const { return target > 0 ? cycles / target : 0.0; }
};
/// At the end of a month, from the year's first day on.
struct PaceMonth
{
    QDate end;
    int inspected = 0;
    int cycles = 0;
};
struct PaceYear
{
    int year = 0;
    QDate until; ///< its last day, or today
    bool isWhole = true;
    PaceCounts all;
    std::vector<PaceCounts> bySize; ///< by SizeClass's order; without empty classes
    std::vector<PaceCounts> byZone; ///< by name
    std::vector<PaceMonth> months;  ///< sums, for a curve against the target
    int visits = 0;
    int crewDays = 0; ///< days on which a crew visited a valve, by crew
    /// Visited by one crew on one day, in the mean; 0 without crew-days.
    double valvesADay = 0;
};
/// Minutes between arriving and leaving, by kind: median and quartiles.
struct PaceMinutes
{
    ValveType type = ValveType::Unknown;
    SizeClass size = SizeClass::Unknown;
    QString name;   ///< "gate, up to 8 in"
    int visits = 0; ///< with both times, up to eight hours
    double median = 0;
    double lowerQuartile = 0;
    double upperQuartile = 0;
};
struct Pace
{
    std::vector<PaceYear> years;      ///< oldest first; the last is today's so far, or the span's
    std::vector<PaceMinutes> minutes; ///< over the span; most visits first
    Span paceOver;                    ///< the twelve months of the pace
    double cyclesADay = 0;
    bool isMet = false; ///< this year's target, already
    QDate metOn;        ///< at this pace, or the day it was met; null: never at this pace
    int valves = 0;
    QString sentence;
};
/// Of these valves, without retired ones. Years: those that the span touches, and today's. A span
/// that ends in a year before today's is looked at as on the last day of that year.
[[nodiscard]] Pace paceOf(const std::vector<Valve> &valves, const Histories &histories,
                          const Policy &policy, const Span &span, const QDate &today);

/// One valve in one year: what stands behind a bar.
struct PaceRow
{
    ValveId valve;
    double target = 0;
    int cycles = 0;
    VisitId visit; ///< the last of the year; null: not visited in it
    QDate date;
    VisitId cycledBy; ///< the first full cycle of the year; null: none
};
[[nodiscard]] std::vector<PaceRow> paceRows(const std::vector<Valve> &valves,
                                            const Histories &histories, const Policy &policy,
                                            int year, const QDate &today);

/// Full cycles a year that the policy asks of a valve; 0 where it is exempt.
[[nodiscard]] double cyclesAYear(const Policy &policy, const Valve &valve);
/// How many whole cycles meet what is asked: 22 where 21.3 are.
[[nodiscard]] int wholeCycles(double asked);

} // namespace keyround
