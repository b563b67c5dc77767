// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/share.h"

#include <algorithm>
#include <cmath>

namespace keyround {

Interval wilsonInterval(int hits, int of, double z)
{
    const double n = of;
    const double share = hits / n;
    const double square = z * z;
    const double centre = share + square / (2.0 * n);
    const double spread = z * std::sqrt(share * (1.0 - share) / n + square / (4.0 * n * n));
    const double scale = 1.0 + square / n;
    // At 0 and at all hits the formula gives the bound itself but for rounding.
    return {hits == 0 ? 0.0 : std::max(0.0, (centre - spread) / scale),
            hits == of ? 1.0 : std::min(1.0, (centre + spread) / scale)};
}

ShareChart shareChart(const std::vector<ShareSample> &samples)
{
    constexpr double limitErrors = 3.0;
    double hits = 0;
    double of = 0;
    for (const ShareSample &sample : samples) {
        hits += sample.hits;
        of += sample.of;
    }
    ShareChart chart;
    chart.centre = of > 0 ? hits / of : 0.0;
    for (const ShareSample &sample : samples) {
        ShareChart::Point point;
        point.isEmpty = sample.of == 0;
        if (!point.isEmpty) {
            const double n = sample.of;
            const double spread = limitErrors * std::sqrt(chart.centre * (1.0 - chart.centre) / n);
            point.share = sample.hits / n;
            point.limits = {std::max(0.0, chart.centre - spread),
                            std::min(1.0, chart.centre + spread)};
            point.standsOut = point.share < point.limits.from || point.share > point.limits.to;
        }
        chart.points.push_back(point);
    }
    return chart;
}

} // namespace keyround
