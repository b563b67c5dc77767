// SPDX-License-Identifier: GPL-3.0-or-later
// The pictures of the Office's figures, one function a question. What an item means is said with
// each: the Office asks for the valves behind it. Each picture holds the table of its own figures
// (core/reports/review_tables.h), so that picture, CSV and table view cannot disagree.
#pragma once

#include "app/charts/chart_picture.h"
#include "core/condition/ageing.h"
#include "core/condition/changes.h"
#include "core/condition/condition_bands.h"
#include "core/condition/fleet_turns.h"
#include "core/schedule/outlook.h"
#include "core/schedule/pace.h"
#include "core/schedule/what_next.h"

namespace keyround {

/// Inspected valves and full cycles by year against the year's target. Items: years.
[[nodiscard]] ChartPicture paceYearsPicture(const Pace &pace);
/// This year's full cycles as they grow, the target, and the day on which the pace meets it.
/// Items: months.
[[nodiscard]] ChartPicture paceThisYearPicture(const Pace &pace);
/// One year by size class, or by zone. Items: the classes or zones in the year's order.
[[nodiscard]] ChartPicture pacePartsPicture(const PaceYear &year, bool byZone);
/// Valves that one crew visits on one day, with the crew-days. Items: years.
[[nodiscard]] ChartPicture crewDaysPicture(const Pace &pace);
/// Minutes between arriving and leaving, medians and quartiles. Items: kinds.
[[nodiscard]] ChartPicture stopMinutesPicture(const Pace &pace);

/// Condition bands with the figures of the share. Items: periods.
[[nodiscard]] ChartPicture conditionOverTimePicture(const ConditionOverTime &figure);
/// Share serviceable of those visited, with Wilson's interval for a sample and the p-chart's
/// limits. Items: periods.
[[nodiscard]] ChartPicture sharePicture(const ConditionOverTime &figure);

/// Restored upwards, went out downwards by what they became. Items: periods.
[[nodiscard]] ChartPicture changesPicture(const ConditionChanges &figure);

/// An item of an ageing picture is a box of a group's curve.
struct AgeingItem
{
    std::size_t group = 0;
    std::size_t step = 0;
};
struct AgeingPicture
{
    ChartPicture picture;
    std::vector<AgeingItem> items;
};
/// Turnbull's curves with boxes where they are undefined, at most five groups that have one;
/// Kaplan and Meier's beside it only where times are exact; numbers at risk under the axis.
[[nodiscard]] AgeingPicture ageingPicture(const Ageing &figure);
/// A group's name beside others of its kind: "1950 to 1959" of "valves installed 1950 to 1959".
[[nodiscard]] QString shortName(const AgeingGroup &group);

/// One valve's counts with the baselines that they were judged by and the tolerance about them.
/// Items: counts. The number is the valve's own.
[[nodiscard]] ChartPicture valveTurnsPicture(const ValveTurns &turns, const QString &number);
/// How far counts are from each valve's first baseline, with pooled limits; flagged counts stand
/// out. Items: the points of `shown`.
struct FleetTurnsPicture
{
    ChartPicture picture;
    std::vector<std::size_t> shown; ///< items as indices of the group's points
};
[[nodiscard]] FleetTurnsPicture fleetTurnsPicture(const FleetTurns &figure, std::size_t group);

/// Chance of being out of condition by services without water, with lines of like risk. Items: the
/// entries in their order, as far as `entries` are drawn. Without services: chances in ten classes.
struct WhatNextPicture
{
    ChartPicture picture;
    bool isByChance = false; ///< the classes alone: items are tenths of chance
};
[[nodiscard]] WhatNextPicture whatNextPicture(const std::vector<RiskEntry> &entries,
                                              const std::vector<Valve> &valves, UnitSystem units);

/// Five years by plan, with the middle 90 % of the runs. Items: years.
[[nodiscard]] ChartPicture outlookPicture(const Outlook &figure);

} // namespace keyround
