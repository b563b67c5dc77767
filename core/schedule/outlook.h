// SPDX-License-Identifier: GPL-3.0-or-later
// What a different interval, or more crew-days, would do over the years to come: a simulation from
// the fitted laws (life_law.h), the same chances for every plan so that plans differ by what they
// do and not by luck. Seeded: the same question has the same answer.
//
// The model, month by month: each valve fails by its law, unseen. A month has so many visits as its
// crew-days hold; the valves longest overdue by the plan's interval are visited first, never
// visited ones as one interval overdue. A visit to a valve that failed finds it, and a share of
// those found is repaired after a while and starts anew. What is known today is where it begins.
// Boxes that become unreachable, parked cars and replacements other than repairs are not in it; the
// valves that cannot be reached today count as out of condition, and are mended as the others are.
//
// The spread over the runs holds the chances of the valves and how well the laws are known (each
// run draws the laws anew from their variances). For many valves fewer runs are made: some 400,000
// valves in all, at least eight runs.
#pragma once

#include "core/schedule/due.h"
#include "core/schedule/life_law.h"

namespace keyround {

struct OutlookPlan
{
    QString name;              ///< "as now", "every valve a year sooner", "2 crew-days more"
    double intervalFactor = 1; ///< of the policy's intervals
    std::optional<int> months; ///< one interval for all, in the policy's place
    double visitsAMonth = 0;   ///< how many the crew-days hold; endless where infinite
};
struct OutlookYear
{
    QDate end;
    /// Share of valves out of condition, known or not: mean over the runs, and the middle 90 %.
    double out = 0;
    Interval spread;
    double unseen = 0;  ///< of it, not found yet; the mean
    double visits = 0;  ///< in the year, the mean
    double repairs = 0; ///< in the year, the mean
    double waiting = 0; ///< due at its end and not visited yet, the mean: visits that were not made
};
struct OutlookResult
{
    OutlookPlan plan;
    std::vector<OutlookYear> years; ///< the first is today: its state, without visits
    double outTime = 0;             ///< mean share out over the whole time
};
struct OutlookSettings
{
    int years = 5;
    int runs = 30;
    std::uint64_t seed = 1;
    double shareRepaired = 0.8; ///< of failures found (what the visits on record show, or 0.8)
    double monthsToRepair = 9;  ///< from finding to repair, the mean (the same)
    bool repairsFromRecord = false;
};
struct Outlook
{
    std::vector<OutlookResult> plans;
    OutlookSettings settings;
    int cannotReach = 0; ///< valves today; they count as out
    /// What the plans come to, with the spread; why more crew-days change nothing, where they do
    /// not; that "as now" means no visits, where none were made.
    QString sentence;
    QString caution; ///< what it reckons with: repairs first, since they decide
};
[[nodiscard]] Outlook outlook(const std::vector<Valve> &valves, const Histories &histories,
                              const Policy &policy, const LifeLaws &laws,
                              const std::vector<OutlookPlan> &plans, const QDate &today,
                              const OutlookSettings &settings = {});

/// As now, intervals a half longer, intervals a third shorter, two more crew-days a month: from the
/// crew-days and valves a day of the last twelve months.
[[nodiscard]] std::vector<OutlookPlan> usualPlans(const std::vector<Valve> &valves,
                                                  const Histories &histories, const QDate &today,
                                                  double crewDaysMore = 2);
/// What the visits on record say of repairs: the share of failures found that a later visit found
/// mended, and after how long; the defaults where fewer than ten failures were found. Hand in all
/// valves, however few are looked ahead for: how repairs go is the utility's.
[[nodiscard]] OutlookSettings settingsFrom(const std::vector<Valve> &valves,
                                           const Histories &histories, const QDate &today);

} // namespace keyround
