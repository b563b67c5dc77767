// SPDX-License-Identifier: GPL-3.0-or-later
// The band about a holding curve, and the grid of times (declared in ageing.h).
#include "core/condition/ageing.h"

#include <algorithm>
#include <cmath>
#include <map>

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
    constexpr double least = 1e-12;
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

/// The information on the shares that hold after each step but the last: an interval's mass is a
/// difference of two of them, holds(first) - holds(last), so each row of it touches two cells.
Square informationOf(const std::vector<FailureInterval> &times, const std::vector<CurveStep> &steps)
{
    const std::size_t count = steps.size() - 1;
    Square information(count);
    for (const FailureInterval &time : times) {
        const auto first = static_cast<std::size_t>(
            std::ranges::lower_bound(steps, time.after, {}, &CurveStep::from) - steps.begin());
        const auto last = static_cast<std::size_t>(
            std::ranges::upper_bound(steps, time.by, {}, &CurveStep::to) - steps.begin());
        double mass = 0;
        for (std::size_t i = first; i < last; ++i) {
            mass += steps[i].mass;
        }
        if (mass <= 0) {
            continue;
        }
        // Before the first step all hold, after the last none: those two are known.
        const double weight = time.count / (mass * mass);
        const bool hasUpper = first >= 1;
        const bool hasLower = last >= 1 && last - 1 < count;
        if (hasUpper) {
            information.at(first - 1, first - 1) += weight;
        }
        if (hasLower) {
            information.at(last - 1, last - 1) += weight;
        }
        if (hasUpper && hasLower) {
            information.at(first - 1, last - 1) -= weight;
            information.at(last - 1, first - 1) -= weight;
        }
    }
    return information;
}

Interval logLogLimits(double holds, double variance)
{
    const double slope = holds * std::log(holds);
    const double reach = normal975 * std::sqrt(variance) / std::abs(slope);
    const double logged = std::log(-std::log(holds));
    return {std::exp(-std::exp(logged + reach)), std::exp(-std::exp(logged - reach))};
}

} // namespace

std::vector<FailureInterval> onGrid(const std::vector<FailureInterval> &times, int aYear)
{
    // Rounded alike, so that one day's visits to many valves stay one time: widened outward, an end
    // and a beginning would overlap, and draw the mass of both to themselves.
    const auto rounded = [aYear](double years) { return std::round(years * aYear); };
    std::map<std::pair<double, double>, int> counts;
    for (const FailureInterval &time : times) {
        const double first = rounded(time.after);
        const double after = first / aYear;
        const double by =
            std::isinf(time.by) ? neverSeen : std::max(rounded(time.by), first + 1) / aYear;
        counts[{after, by}] += time.count;
    }
    std::vector<FailureInterval> gathered;
    gathered.reserve(counts.size());
    for (const auto &[ends, count] : counts) {
        gathered.push_back({ends.first, ends.second, count});
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
    if (!factorise(factor)) {
        return {};
    }
    std::vector<BandPoint> band;
    for (std::size_t i = 0; i + 1 < curve.steps.size(); ++i) {
        std::vector<double> weights(factor.size(), 0.0);
        weights[i] = 1;
        const double holds = curve.steps[i].holdsAfter;
        if (holds > 0 && holds < 1) {
            band.push_back(
                {curve.steps[i].to, logLogLimits(holds, varianceOf(factor, std::move(weights)))});
        }
    }
    return band;
}

} // namespace keyround
