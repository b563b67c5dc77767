// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/control_chart.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>

namespace keyround {

namespace {

constexpr double limitSigmas = 3.0;

IndividualsChart chartFrom(double centre, double meanRange)
{
    const double reach = limitSigmas * meanRange / movingRangeD2;
    return {centre, meanRange, centre - reach, centre + reach, movingRangeD4 * meanRange};
}

/// Not of none.
double medianOf(std::vector<double> values)
{
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::ranges::nth_element(values, middle);
    if (values.size() % 2 == 1) {
        return *middle;
    }
    return (*std::max_element(values.begin(), middle) + *middle) / 2.0;
}

/// The median of values that were rounded to multiples of a grain: each stands for all within half
/// a grain of it, none below 0.
double groupedMedian(const std::vector<double> &values, double grain)
{
    const double middle = medianOf(values);
    if (grain <= 0) {
        return middle;
    }
    const double from = std::max(0.0, middle - grain / 2);
    const double to = middle + grain / 2;
    const auto below = std::ranges::count_if(values, [from](double value) { return value < from; });
    const auto within = std::ranges::count_if(
        values, [from, to](double value) { return value >= from && value <= to; });
    if (within == 0) {
        return middle; // between two of an even number
    }
    const double half = static_cast<double>(values.size()) / 2.0;
    const double share = (half - static_cast<double>(below)) / static_cast<double>(within);
    return from + std::clamp(share, 0.0, 1.0) * (to - from);
}

int sideOf(double value)
{
    return value > 0 ? 1 : value < 0 ? -1 : 0;
}

using Window = std::span<const double>;

bool allOnOneSide(Window window)
{
    const int side = sideOf(window.back());
    return side != 0 &&
           std::ranges::all_of(window, [side](double value) { return sideOf(value) == side; });
}

bool risesOrFalls(Window window)
{
    const auto compares = [window](auto before) {
        return std::ranges::adjacent_find(
                   window, [&](double a, double b) { return !before(a, b); }) == window.end();
    };
    return compares(std::less<>{}) || compares(std::greater<>{});
}

bool alternates(Window window)
{
    for (std::size_t i = 2; i < window.size(); ++i) {
        const int before = sideOf(window[i - 1] - window[i - 2]);
        const int after = sideOf(window[i] - window[i - 1]);
        if (before == 0 || after != -before) {
            return false;
        }
    }
    return true;
}

/// So many of the window, the newest among them, lie beyond a distance on the newest one's side.
bool beyondOnOneSide(Window window, int count, double reach)
{
    const int side = sideOf(window.back());
    const auto isBeyond = [=](double value) { return side * value > reach; };
    return isBeyond(window.back()) && std::ranges::count_if(window, isBeyond) >= count;
}

bool allWithin(Window window, double reach)
{
    return std::ranges::all_of(window, [=](double value) { return std::abs(value) < reach; });
}

bool allBeyondOnBothSides(Window window, double reach)
{
    const bool beyond =
        std::ranges::all_of(window, [=](double value) { return std::abs(value) > reach; });
    return beyond && !allOnOneSide(window);
}

struct Rule
{
    int number;
    std::size_t length;
    bool (*fires)(Window);
};

constexpr Rule rules[]{
    {1, 1, [](Window window) { return std::abs(window.back()) > 3.0; }},
    {2, 9, allOnOneSide},
    {3, 6, risesOrFalls},
    {4, 14, alternates},
    {5, 3, [](Window window) { return beyondOnOneSide(window, 2, 2.0); }},
    {6, 5, [](Window window) { return beyondOnOneSide(window, 4, 1.0); }},
    {7, 15, [](Window window) { return allWithin(window, 1.0); }},
    {8, 8, [](Window window) { return allBeyondOnBothSides(window, 1.0); }},
};

} // namespace

std::optional<IndividualsChart> individualsChart(std::span<const double> values)
{
    return pooledChart({std::vector<double>(values.begin(), values.end())});
}

std::optional<IndividualsChart> pooledChart(const std::vector<std::vector<double>> &series)
{
    double sum = 0;
    double ranges = 0;
    std::size_t count = 0;
    std::size_t rangeCount = 0;
    for (const std::vector<double> &one : series) {
        sum = std::accumulate(one.begin(), one.end(), sum);
        count += one.size();
        for (std::size_t i = 1; i < one.size(); ++i) {
            ranges += std::abs(one[i] - one[i - 1]);
            ++rangeCount;
        }
    }
    if (rangeCount == 0) {
        return {};
    }
    return chartFrom(sum / static_cast<double>(count), ranges / static_cast<double>(rangeCount));
}

std::optional<RobustChart> robustChart(const std::vector<std::vector<double>> &series, double grain,
                                       double leastSigma)
{
    std::vector<double> values;
    std::vector<double> ranges;
    for (const std::vector<double> &one : series) {
        values.insert(values.end(), one.begin(), one.end());
        for (std::size_t i = 1; i < one.size(); ++i) {
            ranges.push_back(std::abs(one[i] - one[i - 1]));
        }
    }
    if (ranges.empty()) {
        return {};
    }
    RobustChart chart;
    chart.centre = medianOf(std::move(values));
    chart.medianRange = groupedMedian(ranges, grain);
    chart.sigma = std::max(leastSigma, chart.medianRange / movingRangeD4Median);
    chart.lower = chart.centre - limitSigmas * chart.sigma;
    chart.upper = chart.centre + limitSigmas * chart.sigma;
    return chart;
}

EwmaChart ewmaChart(std::span<const double> values, double target, double sigma, double weight)
{
    const double reach = limitSigmas * sigma * std::sqrt(weight / (2.0 - weight));
    EwmaChart chart;
    chart.lower = target - reach;
    chart.upper = target + reach;
    double average = target;
    for (const double value : values) {
        average = weight * value + (1.0 - weight) * average;
        chart.averages.push_back(average);
    }
    return chart;
}

std::vector<RuleHit> nelsonHits(std::span<const double> standardised)
{
    std::vector<RuleHit> hits;
    for (std::size_t at = 0; at < standardised.size(); ++at) {
        for (const Rule &rule : rules) {
            if (at + 1 >= rule.length &&
                rule.fires(standardised.subspan(at + 1 - rule.length, rule.length))) {
                hits.push_back({rule.number, at});
            }
        }
    }
    return hits;
}

} // namespace keyround
