// SPDX-License-Identifier: GPL-3.0-or-later
// How long valves hold. A failure is only known to lie between two visits, so the curve is
// Turnbull's estimator for interval-censored times (Turnbull 1976): the most likely law that does
// not assume a shape. Where times are exact, Kaplan and Meier's estimator stands beside it.
// Times are in any one unit, counted from the valve's install; not negative.
#pragma once

#include "core/condition/share.h"

#include <limits>
#include <optional>
#include <vector>

namespace keyround {

inline constexpr double neverSeen = std::numeric_limits<double>::infinity();

/// (after, by]: it still held at `after`, and was found failed at `by`. Bad at its first visit:
/// after = 0. Never found bad: by = neverSeen. after < by.
struct FailureInterval
{
    double after = 0;
    double by = neverSeen;
    int count = 1; ///< valves with just these times
    /// It came under watch at this time: had it failed before, it would not be among these. At most
    /// `after`.
    double watchedFrom = 0;
};

/// Between two of these steps the law may put its mass anywhere: the curve is not defined inside
/// (from, to], and is drawn as a box.
struct CurveStep
{
    double from = 0;
    double to = 0;
    double mass = 0;       ///< share that fails within
    double holdsAfter = 1; ///< share that holds after `to`
};

struct HoldingCurve
{
    std::vector<CurveStep> steps; ///< by time, those without mass left away
    double logLikelihood = 0;
    /// How far the optimality condition is from being met: the largest directional gradient over
    /// the number of valves, minus one; at most 1e-6 when `isOptimal`.
    double optimalityGap = 0;
    bool isOptimal = false;

    /// Bounds on the share that holds at a time.
    [[nodiscard]] Interval holdsAt(double time) const;
    /// When the share that holds falls to `share`: within one box; `to` infinite where the curve
    /// never falls so far.
    [[nodiscard]] Interval timeOf(double share) const;
};
/// Expectation-maximisation with exchanges of mass between two steps (Böhning's vertex exchange),
/// until the optimality condition (Gentleman and Geyer 1994) holds. Empty without intervals;
/// intervals that do not rise are left out. Where some came under watch later than at 0, it is
/// curveOfWatched().
[[nodiscard]] std::optional<HoldingCurve> turnbullCurve(const std::vector<FailureInterval> &times);

/// The same likelihood where times are truncated too (Turnbull 1976; where mass may lie: Frydman
/// 1994), by the cumulative hazard of each step, in which it is concave: expectation-maximisation
/// with Newton's steps by coordinate, until no step's slope is positive and those with hazard have
/// none. The gap is the largest such slope over the number of valves. Early steps with few under
/// watch may take much mass: that is the data's, and the band shows it.
[[nodiscard]] std::optional<HoldingCurve> curveOfWatched(const std::vector<FailureInterval> &times);

/// Where alone the curve can fall: intervals that begin with some `after` and end with the next
/// `by` or `watchedFrom`.
[[nodiscard]] std::vector<CurveStep> innermostSteps(const std::vector<FailureInterval> &times);

/// Numbers that were certainly under watch and holding just before a time.
[[nodiscard]] int atRisk(const std::vector<FailureInterval> &times, double time);
/// The same at the time itself: those that come under watch just then are among them.
[[nodiscard]] int watchedAt(const std::vector<FailureInterval> &times, double time);

struct ExactTime
{
    double time = 0;
    bool failed = false; ///< false: still held when last seen
};

struct ExactStep
{
    double time = 0;
    int atRisk = 0;
    int failed = 0;
    double holds = 1;         ///< share that holds after the time
    double standardError = 0; ///< Greenwood's
    /// 95 % limits that keep within 0 and 1: the log-log transform (Kalbfleisch and Prentice).
    std::optional<Interval> limits; ///< empty when nothing holds any more
};
/// Kaplan and Meier's estimator: one step a time at which something failed.
[[nodiscard]] std::vector<ExactStep> kaplanMeier(std::vector<ExactTime> times);

} // namespace keyround
