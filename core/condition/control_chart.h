// SPDX-License-Identifier: GPL-3.0-or-later
// Control charts for counts of turns: individuals with moving ranges and the exponentially
// weighted moving average (formulas and constants of the NIST/SEMATECH e-Handbook, 6.3.2.2 and
// 6.3.2.4), and run rules that flag drift before failure (Nelson, Journal of Quality Technology
// 16(4), 1984).
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace keyround {

/// Moving ranges of two: their mean estimates sigma through d2 = 1.128; their own upper limit is
/// D4 = 3.267 times the mean.
inline constexpr double movingRangeD2 = 1.128;
inline constexpr double movingRangeD4 = 3.267;

struct IndividualsChart
{
    double centre = 0;
    double meanRange = 0;
    double lower = 0;
    double upper = 0;
    double rangeLimit = 0;
    [[nodiscard]] double sigma() const { return meanRange / movingRangeD2; }
};
/// Empty with fewer than two values.
[[nodiscard]] std::optional<IndividualsChart> individualsChart(std::span<const double> values);

/// Short series of like things (each its deviations from its own baseline, oldest first): the
/// moving ranges within each series are pooled, never taken across two. The centre is the mean of
/// all values. Empty when no series has two values.
[[nodiscard]] std::optional<IndividualsChart>
pooledChart(const std::vector<std::vector<double>> &series);

/// Of many short series among which one wild value must not move centre or limits: the median and
/// the median moving range, which estimates sigma through d4 = 0.954 (Wheeler and Chambers,
/// Understanding Statistical Process Control, 1992, from memory; it is the square root of 2 times
/// the upper quartile of the normal law, 0.67449).
inline constexpr double movingRangeD4Median = 0.954;
struct RobustChart
{
    double centre = 0;
    double medianRange = 0;
    double sigma = 0;
    double lower = 0; ///< three sigma off the centre
    double upper = 0;
};
/// Values are whole multiples of `grain` (0: any): the median range is then that of grouped data,
/// so that it does not jump by a grain. Sigma is at least `leastSigma`. Empty when no series has
/// two values.
[[nodiscard]] std::optional<RobustChart> robustChart(const std::vector<std::vector<double>> &series,
                                                     double grain, double leastSigma);

struct EwmaChart
{
    std::vector<double> averages; ///< after each value; the target comes before the first
    double lower = 0;             ///< of long series
    double upper = 0;
};
/// weight in (0, 1], sigma > 0; limits at three standard errors of the settled average.
[[nodiscard]] EwmaChart ewmaChart(std::span<const double> values, double target, double sigma,
                                  double weight = 0.3);

/// Nelson's eight rules on values in standard deviations from the centre:
///  1 one beyond 3;            2 nine in a row on one side;
///  3 six in a row rising or falling;   4 fourteen in a row up and down in turn;
///  5 two of three beyond 2 on one side;  6 four of five beyond 1 on one side;
///  7 fifteen in a row within 1;          8 eight in a row beyond 1, on both sides.
/// Strict inequalities: a value on the centre ends a run, equal neighbours end rules 3 and 4; rules
/// 5 and 6 flag only where the newest value is itself beyond.
struct RuleHit
{
    int rule = 0;
    std::size_t at = 0; ///< index of the last value of the run
    friend bool operator==(const RuleHit &, const RuleHit &) = default;
};
/// By value, then by rule.
[[nodiscard]] std::vector<RuleHit> nelsonHits(std::span<const double> standardised);

} // namespace keyround
