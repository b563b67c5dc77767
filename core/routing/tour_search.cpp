// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/tour_search.h"

#include "core/routing/hop_exchange.h"
#include "core/routing/tour.h"
#include "core/routing/tour_costs.h"

#include <algorithm>
#include <chrono>
#include <numeric>

namespace keyround {

namespace {

constexpr std::uint32_t longestKick = 30; // places in each stretch that a kick exchanges
constexpr double startingPatience = 0.2;  // of a mean hop, by which a kick may lengthen the tour
constexpr std::size_t kicksPerLook = 16;  // at the clock and at whether to go on

/// xorshift64* (S. Vigna 2016, "An experimental exploration of Marsaglia's xorshift generators").
class Dice
{
public:
    explicit Dice(std::uint64_t seed) : m_state((seed + 1) * 0x9E3779B97F4A7C15ULL)
    {
        m_state = m_state == 0 ? 1 : m_state;
    }
    std::uint32_t below(std::uint32_t limit)
    {
        m_state ^= m_state >> 12U;
        m_state ^= m_state << 25U;
        m_state ^= m_state >> 27U;
        return static_cast<std::uint32_t>(((m_state * 0x2545F4914F6CDD1DULL) >> 33U) % limit);
    }
    double share()
    {
        constexpr std::uint32_t steps = 1U << 30U;
        return static_cast<double>(below(steps)) / static_cast<double>(steps);
    }

private:
    std::uint64_t m_state;
};

/// How far the search is, by kicks or by the clock.
class Effort
{
public:
    Effort(const SearchEffort &effort, const Progress &progress)
        : m_effort(effort), m_progress(&progress), m_begin(std::chrono::steady_clock::now())
    {
    }
    /// The share done; 1 and more ends the search.
    double done(std::size_t kicks)
    {
        if (kicks % kicksPerLook != 0) {
            return m_done;
        }
        if (m_effort.milliseconds > 0) {
            const std::chrono::duration<double, std::milli> taken =
                std::chrono::steady_clock::now() - m_begin;
            m_done = taken.count() / m_effort.milliseconds;
        } else {
            m_done = m_effort.kicks == 0
                         ? 1.0
                         : static_cast<double>(kicks) / static_cast<double>(m_effort.kicks);
        }
        if (!report(*m_progress, std::min(1.0, m_done), QStringLiteral("Ordering the stops"))) {
            m_done = 1.0;
        }
        return m_done;
    }

private:
    SearchEffort m_effort;
    const Progress *m_progress;
    std::chrono::steady_clock::time_point m_begin;
    double m_done = 0;
};

class Search
{
public:
    Search(const TourCosts &costs, std::vector<std::uint32_t> order, std::uint64_t seed)
        : m_costs(&costs), m_tour(std::move(order)), m_exchange(costs, m_tour), m_dice(seed)
    {
    }
    const std::vector<std::uint32_t> &run(Effort effort)
    {
        for (const std::uint32_t place : m_tour.order()) {
            m_exchange.touch(place);
        }
        m_exchange.improve();
        m_cost = m_bestCost = m_tour.cost(*m_costs);
        m_best = m_tour.order();
        const double hop = static_cast<double>(m_cost - m_costs->tieCost()) / m_tour.size();
        for (std::size_t kicks = 0;; ++kicks) {
            const double done = effort.done(kicks);
            if (done >= 1.0) {
                return m_best;
            }
            tryKick(startingPatience * hop * (1.0 - done));
        }
    }

private:
    void tryKick(double patience)
    {
        const Tour before = m_tour;
        std::int64_t cost = m_cost - kick();
        cost -= m_exchange.improve();
        if (static_cast<double>(cost - m_cost) < patience * m_dice.share() || cost < m_cost) {
            m_cost = cost;
            if (cost < m_bestCost) {
                m_bestCost = cost;
                m_best = m_tour.order();
            }
        } else {
            m_tour = before;
            m_exchange.tourReplaced();
        }
    }
    /// Exchanges the first and the last of three neighbouring stretches: four hops change, in a
    /// way that no chain of exchanges undoes at once.
    std::int64_t kick()
    {
        const std::uint32_t size = m_tour.size();
        const std::uint32_t reach = std::min(longestKick, (size - 1) / 3);
        const std::array<std::uint32_t, 3> lengths{1 + m_dice.below(reach), 1 + m_dice.below(reach),
                                                   1 + m_dice.below(reach)};
        std::array<Tour::Piece, 4> pieces{};
        std::uint32_t from = m_dice.below(size);
        for (std::size_t i = 0; i < 3; ++i) {
            const std::uint32_t to = (from + lengths[i] - 1) % size;
            pieces[i] = {from, to, false};
            from = m_tour.after(to);
        }
        pieces[3] = {from, m_tour.before(pieces[0].from), false};
        Tour::Pieces exchanged;
        exchanged.count = 4;
        exchanged.list = {pieces[2], pieces[1], pieces[0], pieces[3]};
        return m_exchange.force(exchanged);
    }

    const TourCosts *m_costs;
    Tour m_tour;
    HopExchange m_exchange;
    Dice m_dice;
    std::int64_t m_cost = 0;
    std::int64_t m_bestCost = 0;
    std::vector<std::uint32_t> m_best;
};

} // namespace

std::vector<std::uint32_t> nearestNeighbourOrder(const Matrix &seconds)
{
    std::vector<std::uint32_t> order;
    std::vector<std::uint32_t> open(seconds.size() - 1);
    std::iota(open.begin(), open.end(), 1U);
    std::uint32_t here = 0;
    while (!open.empty()) {
        const auto nearest =
            std::min_element(open.begin(), open.end(), [&](std::uint32_t a, std::uint32_t b) {
                return seconds.at(here, a) < seconds.at(here, b);
            });
        here = *nearest;
        order.push_back(here);
        open.erase(nearest);
    }
    return order;
}

std::vector<std::uint32_t> searchedOrder(const Matrix &seconds, const SearchEffort &effort,
                                         const Progress &progress)
{
    const Effort watched(effort, progress);
    const TourCosts costs(seconds);
    std::vector<std::uint32_t> order = nearestNeighbourOrder(seconds);
    order.insert(order.begin(), 0);
    if (costs.finish() != 0) {
        order.push_back(costs.finish());
    }
    Search search(costs, std::move(order), effort.seed);
    order = search.run(watched);
    std::rotate(order.begin(), std::find(order.begin(), order.end(), 0U), order.end());
    // A tour that may be driven either way must still begin at the start.
    if (costs.finish() != 0 && order[1] == costs.finish()) {
        std::reverse(order.begin() + 1, order.end());
    }
    order.erase(order.begin());
    if (costs.finish() != 0) {
        order.pop_back();
    }
    return order;
}

} // namespace keyround
