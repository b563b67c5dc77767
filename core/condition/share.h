// SPDX-License-Identifier: GPL-3.0-or-later
// Shares with what can be said of their certainty: the Wilson score interval (Wilson 1927; figures
// of Newcombe 1998) where a share comes from a sample, and a chart of shares from samples of
// varying size that marks the periods that stand out (p-chart, limits of three standard errors).
#pragma once

#include <vector>

namespace keyround {

/// Two-sided 95 %: the standard normal's 0.975 quantile.
inline constexpr double normal975 = 1.959963984540054;

struct Interval
{
    double from = 0;
    double to = 0;
};

/// 0 <= hits <= of and of > 0. Kept within 0 and 1. Without a continuity correction.
[[nodiscard]] Interval wilsonInterval(int hits, int of, double z = normal975);

struct ShareSample
{
    int hits = 0;
    int of = 0; ///< 0: nothing was looked at in this period
};

struct ShareChart
{
    struct Point
    {
        double share = 0;
        Interval limits; ///< of the pooled share for this sample's size, within 0 and 1
        bool standsOut = false;
        bool isEmpty = false; ///< nothing was looked at: no share, no limits
    };
    double centre = 0; ///< the pooled share
    std::vector<Point> points;
};
/// Empty points where nothing was looked at; without any sample all points are empty.
[[nodiscard]] ShareChart shareChart(const std::vector<ShareSample> &samples);

} // namespace keyround
