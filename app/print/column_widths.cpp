// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/column_widths.h"

#include <algorithm>
#include <numeric>

namespace keyround {

namespace {

constexpr double largestShare = 0.24; ///< of the page that one column may wish for

double sum(const std::vector<double> &widths)
{
    return std::accumulate(widths.begin(), widths.end(), 0.0);
}

void growIntoRest(std::vector<double> &widths, const std::vector<ColumnWish> &wishes, double rest)
{
    const auto pens = double(std::ranges::count_if(wishes, &ColumnWish::pen));
    for (size_t i = 0; i < widths.size(); ++i) {
        if (pens == 0) {
            widths[i] += rest / double(widths.size());
        } else if (wishes[i].pen) {
            widths[i] += rest / pens;
        }
    }
}

} // namespace

std::vector<double> shareWidth(const std::vector<ColumnWish> &wishes, double available)
{
    std::vector<double> least;
    std::vector<double> widths;
    for (const ColumnWish &wish : wishes) {
        least.push_back(wish.least);
        widths.push_back(std::max(wish.least, std::min(wish.natural, largestShare * available)));
    }
    const double wanted = sum(widths);
    if (wanted <= available) {
        growIntoRest(widths, wishes, available - wanted);
        return widths;
    }
    const double needed = sum(least);
    for (size_t i = 0; i < widths.size(); ++i) {
        widths[i] = needed >= available ? least[i] * available / needed
                                        : least[i] + (widths[i] - least[i]) * (available - needed) /
                                                         (wanted - needed);
    }
    return widths;
}

} // namespace keyround
