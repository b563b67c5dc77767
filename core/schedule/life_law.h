// SPDX-License-Identifier: GPL-3.0-or-later
// A smooth law of how long valves hold, for looking ahead: Turnbull's curve (ageing.h) says nothing
// of ages beyond the oldest valve, and nothing within its boxes, where a forecast must say
// something. Weibull's law, exp(-(t / scale)^shape), most likely for the same intervals; with the
// curve beside it, so that a poor fit is seen. Fitted by type and size class; kinds with too few
// lives or failures take the law of all.
#pragma once

#include "core/condition/ageing.h"

#include <map>

namespace keyround {

struct LifeLaw
{
    double shape = 1;
    double scale = 0; ///< years; 0: no law, nothing ever failed
    int lives = 0;
    int failed = 0;
    double logLikelihood = 0;
    /// Of log(shape) and log(scale), from the curvature at the top: how well they are known.
    double shapeVariance = 0;
    double scaleVariance = 0;
    double covariance = 0;
    /// Failures a year under watch, and the mean age when last seen: for valves whose own age is
    /// not known.
    double failuresAYear = 0;
    double meanYears = 0;
    bool isOfAll = false; ///< the law of all valves, for want of enough of the kind
    QString name;         ///< "gate, up to 8 in", "all valves"

    [[nodiscard]] bool isKnown() const { return scale > 0; }
    /// Share that holds at an age in years; 1 without a law.
    [[nodiscard]] double holdsAt(double years) const;
    /// The chance to fail by `to` for one that held at `from`.
    [[nodiscard]] double failsBetween(double from, double to) const;
};

/// The most likely Weibull law for these intervals (years), its shape between 0.2 and 10. Empty
/// where nothing failed, or where the likelihood has no top (each failed before it was ever seen
/// holding).
[[nodiscard]] std::optional<LifeLaw> fitLifeLaw(const std::vector<FailureInterval> &times);

struct LifeLaws
{
    LifeLaw all;
    std::map<std::pair<ValveType, SizeClass>, LifeLaw> kinds;
    [[nodiscard]] const LifeLaw &of(const Valve &valve) const;
};
[[nodiscard]] LifeLaws fitLifeLaws(const std::vector<Valve> &valves, const Histories &histories);

/// Years from the beginning of the valve's present life to a day; empty where it is not known.
[[nodiscard]] std::optional<double> ageOn(const Valve &valve, const ValveHistory &history,
                                          const QDate &day);
/// The last visit of the present life that turned the valve and found it holding; null: none.
[[nodiscard]] const ReadVisit *lastSeenHolding(const ValveHistory &history);

} // namespace keyround
