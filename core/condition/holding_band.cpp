// SPDX-License-Identifier: GPL-3.0-or-later
// The band about a holding curve, and the grid of times (declared in ageing.h).
#include "core/condition/ageing.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <tuple>

namespace keyround {

namespace {

/// A symmetric matrix, by rows.
class Square
{
public:
    explicit Square(std::size_t size) : m_size(size), m_cells(size * size, 0.0) {}
    double &at(std::size_t row, std::size_t column) { return m_cells[row * m_size + column]; }
    [[nodiscard]] double at(std::size_t row, std::size_t column) const
    {
        return m_cells[row * m_size + column];
    }
    [[nodiscard]] std::size_t size() const { return m_size; }

private:
    std::size_t m_size;
    std::vector<double> m_cells;
};

/// Cholesky's lower factor in place; false where the matrix is not positive definite.
bool factorise(Square &matrix)
{
    constexpr double least = 1e-10;
    for (std::size_t j = 0; j < matrix.size(); ++j) {
        const double diagonal = matrix.at(j, j);
        double rest = diagonal;
        for (std::size_t k = 0; k < j; ++k) {
            rest -= matrix.at(j, k) * matrix.at(j, k);
        }
        if (!(rest > least * diagonal) || !(diagonal > 0)) {
            return false;
        }
        matrix.at(j, j) = std::sqrt(rest);
        for (std::size_t i = j + 1; i < matrix.size(); ++i) {
            double cell = matrix.at(i, j);
            for (std::size_t k = 0; k < j; ++k) {
                cell -= matrix.at(i, k) * matrix.at(j, k);
            }
            matrix.at(i, j) = cell / matrix.at(j, j);
        }
    }
    return true;
}

/// w' M^-1 w from M's lower factor: the squared length of L^-1 w.
double varianceOf(const Square &factor, std::vector<double> weights)
{
    double sum = 0;
    for (std::size_t i = 0; i < factor.size(); ++i) {
        for (std::size_t k = 0; k < i; ++k) {
            weights[i] -= factor.at(i, k) * weights[k];
        }
        weights[i] /= factor.at(i, i);
        sum += weights[i] * weights[i];
    }
    return sum;
}

/// The information on the cumulative hazards of the steps but the last: who failed on a run of
/// steps knows of their sum. Who held knows of hazards too, but in a straight line: no curvature.
Square informationOf(const std::vector<FailureInterval> &times, const std::vector<CurveStep> &steps)
{
    const std::size_t count = steps.size() - 1;
    Square information(count);
    for (const FailureInterval &time : times) {
        const auto first = static_cast<std::size_t>(
            std::ranges::lower_bound(steps, time.after, {}, &CurveStep::from) - steps.begin());
        const auto last = static_cast<std::size_t>(
            std::ranges::upper_bound(steps, time.by, {}, &CurveStep::to) - steps.begin());
        if (std::isinf(time.by) || first >= last || last > count) {
            continue;
        }
        const double before = first == 0 ? 1.0 : steps[first - 1].holdsAfter;
        const double after = steps[last - 1].holdsAfter;
        if (after <= 0 || after >= before) {
            continue; // nobody holds after it: its hazard has no end
        }
        const double grown = before / after - 1.0;
        const double weight = time.count * (1.0 + grown) / (grown * grown);
        for (std::size_t i = first; i < last; ++i) {
            for (std::size_t j = first; j < last; ++j) {
                information.at(i, j) += weight;
            }
        }
    }
    return information;
}

/// From the variance of the cumulative hazard, -log(holds).
Interval logLogLimits(double holds, double variance)
{
    const double reach = normal975 * std::sqrt(variance) / std::abs(std::log(holds));
    const double logged = std::log(-std::log(holds));
    return {std::exp(-std::exp(logged + reach)), std::exp(-std::exp(logged - reach))};
}

} // namespace

EnoughWatched fromEnoughWatched(const std::vector<FailureInterval> &times, int fewest)
{
    // Only where somebody enters can enough be watched for the first time. Begun later, those that
    // failed on the way would be dropped, and the like of them that held would stay.
    std::vector<double> entries;
    entries.reserve(times.size());
    std::ranges::transform(times, std::back_inserter(entries), &FailureInterval::watchedFrom);
    std::ranges::sort(entries);
    const auto same = std::ranges::unique(entries);
    entries.erase(same.begin(), same.end());
    const auto first = std::ranges::find_if(
        entries, [&](double entry) { return watchedAt(times, entry) >= fewest; });
    EnoughWatched enough;
    if (first == entries.end()) {
        return enough;
    }
    enough.from = *first;
    for (FailureInterval time : times) {
        // Who was not seen holding then may have failed before.
        if (time.after >= enough.from) {
            time.watchedFrom = std::max(time.watchedFrom, enough.from);
            enough.times.push_back(time);
        }
    }
    return enough;
}

std::vector<FailureInterval> onGrid(const std::vector<FailureInterval> &times, int aYear)
{
    // Rounded alike, so that one day's visits to many valves stay one time: widened outward, an end
    // and a beginning would overlap, and draw the mass of both to themselves.
    const auto rounded = [aYear](double years) { return std::round(years * aYear); };
    std::map<std::tuple<double, double, double>, int> counts;
    for (const FailureInterval &time : times) {
        const double first = rounded(time.after);
        const double by =
            std::isinf(time.by) ? neverSeen : std::max(rounded(time.by), first + 1) / aYear;
        counts[{rounded(time.watchedFrom) / aYear, first / aYear, by}] += time.count;
    }
    std::vector<FailureInterval> gathered;
    gathered.reserve(counts.size());
    for (const auto &[ends, count] : counts) {
        const auto &[watchedFrom, after, by] = ends;
        gathered.push_back({after, by, count, watchedFrom});
    }
    return gathered;
}

std::vector<BandPoint> holdingBand(const std::vector<FailureInterval> &times,
                                   const HoldingCurve &curve)
{
    if (curve.steps.size() < 2) {
        return {};
    }
    Square factor = informationOf(times, curve.steps);
    for (std::size_t i = 0; i < factor.size(); ++i) {
        // Where steps cannot be told apart, a hair lets the rest be told.
        factor.at(i, i) *= 1.0 + 1e-7;
    }
    if (!factorise(factor)) {
        return {};
    }
    std::vector<BandPoint> band;
    for (std::size_t i = 0; i + 1 < curve.steps.size(); ++i) {
        std::vector<double> weights(factor.size(), 0.0);
        std::fill_n(weights.begin(), i + 1, 1.0);
        const double holds = curve.steps[i].holdsAfter;
        if (holds > 0 && holds < 1) {
            band.push_back(
                {curve.steps[i].to, logLogLimits(holds, varianceOf(factor, std::move(weights)))});
        }
    }
    // What holds later held before: each limit bounds the earlier, or the later, ones too.
    for (std::size_t i = 1; i < band.size(); ++i) {
        band[i].holds.to = std::min(band[i].holds.to, band[i - 1].holds.to);
        const std::size_t k = band.size() - 1 - i;
        band[k].holds.from = std::max(band[k].holds.from, band[k + 1].holds.from);
    }
    return band;
}

} // namespace keyround
