// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/lower_bound.h"

#include "core/routing/assignment.h"
#include "core/routing/exact_order.h"
#include "core/routing/order_task.h"
#include "core/routing/tour_search.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace keyround {

namespace {

// The ascent's steps: enough of them to shrink slowly from far too long (clusters need prices as
// high as the way between them) to far below a hop. Found on invented tables of several kinds.
constexpr std::size_t fewestSteps = 600;
constexpr std::size_t stepsPerPlace = 8; // more of them
constexpr double mostLooks = 6e8;        // at pairs of places, for large tables: about a second
constexpr double firstStride = 5.0;      // of a mean hop
constexpr double lastStride = 0.00025;
constexpr double momentum = 0.8;   // of the step before, in each step
constexpr double rounding = 1e-13; // of all that is added up, for each place: taken off the bound

std::size_t stepsFor(std::size_t places)
{
    const double pairs = static_cast<double>(places) * static_cast<double>(places);
    const auto affordable = static_cast<std::size_t>(mostLooks / pairs);
    return std::min(fewestSteps + stepsPerPlace * places, std::max(fewestSteps / 2, affordable));
}

/// Seconds, with hops that do not exist dearer than any order of hops that do.
Matrix finiteCosts(const Matrix &seconds)
{
    double longest = 0;
    for (std::size_t i = 0; i < seconds.size(); ++i) {
        for (std::size_t j = 0; j < seconds.size(); ++j) {
            const double hop = seconds.at(i, j);
            longest = std::isfinite(hop) ? std::max(longest, hop) : longest;
        }
    }
    Matrix costs = seconds;
    for (std::size_t i = 0; i < seconds.size(); ++i) {
        for (std::size_t j = 0; j < seconds.size(); ++j) {
            if (!std::isfinite(seconds.at(i, j))) {
                costs.set(i, j, 2.0 * static_cast<double>(seconds.size()) * (longest + 1.0));
            }
        }
    }
    return costs;
}

bool sameBothWays(const Matrix &costs)
{
    for (std::size_t i = 1; i < costs.size(); ++i) {
        for (std::size_t j = 1; j < i; ++j) {
            if (costs.at(i, j) != costs.at(j, i)) {
                return false;
            }
        }
    }
    return true;
}

/// Prices on leaving and on reaching each place, and the cheapest tree that they lead to.
class Ascent
{
public:
    explicit Ascent(const Matrix &costs)
        : m_costs(costs), m_back(costs), m_symmetric(sameBothWays(costs)), m_size(costs.size()),
          m_leaving(m_size, 0.0), m_reaching(m_size, 0.0), m_left(m_size), m_reached(m_size),
          m_distance(m_size), m_near(m_size), m_forward(m_size), m_open(m_size)
    {
        for (std::size_t i = 0; i < m_size; ++i) {
            for (std::size_t j = 0; j < m_size; ++j) {
                m_back.set(i, j, costs.at(j, i));
            }
        }
        if (!m_symmetric) {
            const AssignmentPrices prices = assignmentPrices(costs);
            m_leaving = prices.leaving;
            m_reaching = prices.reaching;
        }
    }

    /// The highest bound of a number of steps; `hop` is the mean one of some order.
    double climb(double hop, std::size_t steps)
    {
        double best = -unreachable;
        double length = firstStride * hop;
        const double shrink = std::pow(lastStride / firstStride, 1.0 / static_cast<double>(steps));
        std::vector<double> towardsLeaving(m_size, 0.0);
        std::vector<double> towardsReaching(m_size, 0.0);
        for (std::size_t step = 0; step < steps; ++step) {
            const double bound = treeBound();
            best = std::max(best, bound - rounding * static_cast<double>(m_size) * m_magnitude);
            if (even()) {
                break; // the tree is an order: the shortest
            }
            move(m_leaving, m_left, towardsLeaving, length);
            move(m_reaching, m_reached, towardsReaching, length);
            length *= shrink;
        }
        return best;
    }

private:
    /// What the tree has of hops at a place less what an order has: one each way, or two.
    [[nodiscard]] double excess(const std::vector<double> &hops, std::size_t place) const
    {
        return m_symmetric && place != 0 ? 0.5 * (m_left[place] + m_reached[place]) - 1.0
                                         : hops[place] - 1.0;
    }
    [[nodiscard]] bool even() const
    {
        for (std::size_t i = 0; i < m_size; ++i) {
            if (excess(m_left, i) != 0.0 || excess(m_reached, i) != 0.0) {
                return false;
            }
        }
        return true;
    }
    void move(std::vector<double> &prices, const std::vector<double> &hops,
              std::vector<double> &towards, double length) const
    {
        for (std::size_t i = 0; i < m_size; ++i) {
            towards[i] = (1.0 - momentum) * excess(hops, i) + momentum * towards[i];
            prices[i] -= length * towards[i];
        }
    }
    [[nodiscard]] double priced(std::size_t from, std::size_t to) const
    {
        return m_costs.at(from, to) - m_leaving[from] - m_reaching[to];
    }
    void count(std::size_t from, std::size_t to)
    {
        m_left[from] += 1.0;
        m_reached[to] += 1.0;
    }

    /// The cheapest tree over all places but 0 (R. C. Prim 1957), either direction of a hop as it
    /// comes cheaper, and the cheapest two hops from and to place 0.
    double treeBound()
    {
        std::fill(m_left.begin(), m_left.end(), 0.0);
        std::fill(m_reached.begin(), m_reached.end(), 0.0);
        double total = tree() + legs();
        m_magnitude = std::abs(total);
        for (std::size_t i = 0; i < m_size; ++i) {
            total += m_leaving[i] + m_reaching[i];
            m_magnitude += std::abs(m_leaving[i]) + std::abs(m_reaching[i]);
        }
        return total;
    }
    double tree()
    {
        std::fill(m_distance.begin(), m_distance.end(), unreachable);
        m_open.resize(m_size - 2);
        for (std::size_t i = 0; i < m_open.size(); ++i) {
            m_open[i] = i + 2;
        }
        double total = 0;
        std::size_t here = 1;
        while (!m_open.empty()) {
            const double *there = m_costs.row(here);
            const double *back = m_back.row(here);
            std::size_t nearest = 0;
            for (std::size_t slot = 0; slot < m_open.size(); ++slot) {
                const std::size_t other = m_open[slot];
                const double out = there[other] - m_leaving[here] - m_reaching[other];
                const double in = back[other] - m_leaving[other] - m_reaching[here];
                const double hop = std::min(out, in);
                if (hop < m_distance[other]) {
                    m_distance[other] = hop;
                    m_near[other] = here;
                    m_forward[other] = out <= in ? 1 : 0;
                }
                nearest = m_distance[other] < m_distance[m_open[nearest]] ? slot : nearest;
            }
            const std::size_t next = m_open[nearest];
            m_open[nearest] = m_open.back();
            m_open.pop_back();
            total += m_distance[next];
            m_forward[next] != 0 ? count(m_near[next], next) : count(next, m_near[next]);
            here = next;
        }
        return total;
    }
    double legs()
    {
        // The two cheapest of each kind hold the cheapest pair at two different places.
        const auto two = [this](auto cost) {
            std::array<std::size_t, 2> best{1, 2};
            if (cost(2) < cost(1)) {
                best = {2, 1};
            }
            for (std::size_t i = 3; i < m_size; ++i) {
                if (cost(i) < cost(best[0])) {
                    best = {i, best[0]};
                } else if (cost(i) < cost(best[1])) {
                    best[1] = i;
                }
            }
            return best;
        };
        const auto first = two([this](std::size_t i) { return priced(0, i); });
        const auto last = two([this](std::size_t i) { return priced(i, 0); });
        double least = unreachable;
        std::size_t to = 0;
        std::size_t from = 0;
        for (const std::size_t a : first) {
            for (const std::size_t b : last) {
                if (a != b && priced(0, a) + priced(b, 0) < least) {
                    least = priced(0, a) + priced(b, 0);
                    to = a;
                    from = b;
                }
            }
        }
        count(0, to);
        count(from, 0);
        return least;
    }

    Matrix m_costs;
    Matrix m_back; ///< the same, from and to exchanged
    bool m_symmetric;
    std::size_t m_size;
    std::vector<double> m_leaving;
    std::vector<double> m_reaching;
    std::vector<double> m_left;    ///< hops of the tree that leave each place
    std::vector<double> m_reached; ///< and that reach it
    std::vector<double> m_distance;
    std::vector<std::size_t> m_near;
    std::vector<char> m_forward;
    std::vector<std::size_t> m_open;
    double m_magnitude = 0;
};

double secondsAround(const Matrix &costs, const std::vector<std::uint32_t> &order)
{
    double total = costs.at(0, order.front()) + costs.at(order.back(), 0);
    for (std::size_t i = 1; i < order.size(); ++i) {
        total += costs.at(order[i - 1], order[i]);
    }
    return total;
}

} // namespace

double roundBound(const Matrix &seconds)
{
    const Matrix costs = finiteCosts(seconds);
    const double mean =
        secondsAround(costs, nearestNeighbourOrder(costs)) / static_cast<double>(costs.size());
    return std::max(0.0, Ascent(costs).climb(mean, stepsFor(costs.size())));
}

double lowerBound(const Matrix &seconds, const OrderRequest &request)
{
    const OrderTask task = orderTask(seconds, request);
    if (!task.apart.empty() || !std::isfinite(task.fixedSeconds)) {
        return unreachable;
    }
    if (task.stretches.empty()) {
        return task.fixedSeconds;
    }
    if (task.stretches.size() <= mostExactPlaces) {
        const std::vector<std::uint32_t> order = exactOrder(task.seconds);
        // The very sum that the order is shown with, so that the two cannot differ by rounding.
        return secondsOf(seconds, request, stopsInOrder(task, order));
    }
    return task.fixedSeconds + roundBound(task.seconds);
}

} // namespace keyround
