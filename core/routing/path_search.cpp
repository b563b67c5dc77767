// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/path_search.h"

#include <algorithm>
#include <array>
#include <limits>
#include <numeric>

namespace keyround {

namespace {

constexpr std::size_t neighbours = 14;    // in each direction
constexpr std::size_t longestShift = 3;   // stops that an Or-opt move takes along
constexpr std::size_t longestKick = 30;   // stops in either stretch that a kick exchanges
constexpr double startingPatience = 0.25; // of a mean hop, by which a kick may lengthen the path
// Smaller gains are noise of the sums. Costs differ by less than this only where seconds are equal.
constexpr double leastGain = 1e-6;

} // namespace

std::vector<std::uint32_t> nearestNeighbourOrder(const PathCosts &costs)
{
    const auto last = static_cast<std::uint32_t>(costs.size() - 1);
    std::vector<std::uint32_t> order{0};
    std::vector<std::uint32_t> open(last - 1);
    std::iota(open.begin(), open.end(), 1U);
    while (!open.empty()) {
        const std::uint32_t here = order.back();
        const auto nearest =
            std::min_element(open.begin(), open.end(), [&](std::uint32_t a, std::uint32_t b) {
                return costs.at(here, a) < costs.at(here, b);
            });
        order.push_back(*nearest);
        open.erase(nearest);
    }
    order.push_back(last);
    return order;
}

PathSearch::PathSearch(const PathCosts &costs)
    : m_costs(&costs), m_after(costs.size()), m_before(costs.size()), m_queued(costs.size(), 0)
{
    const auto last = static_cast<std::uint32_t>(costs.size() - 1);
    for (std::uint32_t place = 0; place <= last; ++place) {
        std::vector<std::uint32_t> after;
        std::vector<std::uint32_t> before;
        for (std::uint32_t other = 0; other <= last; ++other) {
            if (other != place && other != 0 && place != last) {
                after.push_back(other);
            }
            if (other != place && other != last && place != 0) {
                before.push_back(other);
            }
        }
        const auto nearest = [](std::vector<std::uint32_t> &list, auto cost) {
            const std::size_t kept = std::min(neighbours, list.size());
            std::partial_sort(list.begin(), list.begin() + static_cast<std::ptrdiff_t>(kept),
                              list.end(), [&](std::uint32_t a, std::uint32_t b) {
                                  return cost(a) != cost(b) ? cost(a) < cost(b) : a < b;
                              });
            list.resize(kept);
        };
        nearest(after, [&](std::uint32_t other) { return costs.at(place, other); });
        nearest(before, [&](std::uint32_t other) { return costs.at(other, place); });
        m_after[place] = std::move(after);
        m_before[place] = std::move(before);
    }
}

void PathSearch::considerReversal(const Path &path, std::size_t i, std::size_t j, Move &best) const
{
    if (i < 1 || j >= path.lastIndex() || i >= j) {
        return;
    }
    const double gain = path.reversalGain(i, j);
    if (gain > best.gain) {
        best = {Move::Kind::Reverse, gain, i, j, 0};
    }
}

void PathSearch::considerShift(const Path &path, std::size_t i, std::size_t j, std::size_t k,
                               bool turned, Move &best) const
{
    if (i < 1 || j >= path.lastIndex() || i > j || k >= path.lastIndex() ||
        (k + 1 >= i && k <= j)) {
        return;
    }
    const double gain = path.moveGain(i, j, k, turned);
    if (gain > best.gain) {
        best = {turned ? Move::Kind::TurnedShift : Move::Kind::Shift, gain, i, j, k};
    }
}

/// The longer of the two hops at a place. A move that helps has a new hop shorter than one that it
/// takes away, at one of its places; the lists of neighbours are sorted, so that seeking ends
/// there. (Turning a stretch round may save time within it as well; such moves are found by its
/// ends.)
double PathSearch::worthBeating(const Path &path, std::uint32_t place) const
{
    const std::size_t a = path.indexOf(place);
    const double before = a > 0 ? m_costs->at(path.at(a - 1), place) : 0.0;
    const double after = a < path.lastIndex() ? m_costs->at(place, path.at(a + 1)) : 0.0;
    return std::max(before, after);
}

void PathSearch::seekReversals(const Path &path, std::uint32_t place, Move &best) const
{
    const std::size_t a = path.indexOf(place);
    const double limit = worthBeating(path, place);
    for (const std::uint32_t other : m_after[place]) {
        if (m_costs->at(place, other) >= limit) {
            break;
        }
        const std::size_t b = path.indexOf(other);
        considerReversal(path, a + 1, b, best);
        considerReversal(path, a, b - 1, best); // b is never the first place, so b > 0
    }
    for (const std::uint32_t other : m_before[place]) {
        if (m_costs->at(other, place) >= limit) {
            break;
        }
        const std::size_t b = path.indexOf(other);
        considerReversal(path, b + 1, a, best);
        considerReversal(path, b, a - 1, best); // a is never the first place here
    }
}

void PathSearch::seekShifts(const Path &path, std::uint32_t place, Move &best) const
{
    const std::size_t a = path.indexOf(place);
    const double limit = worthBeating(path, place);
    // The place comes first of the stretch that is moved, or last.
    for (const std::uint32_t other : m_before[place]) {
        if (m_costs->at(other, place) >= limit) {
            break;
        }
        const std::size_t k = path.indexOf(other);
        for (std::size_t more = 0; more < longestShift; ++more) {
            considerShift(path, a, a + more, k, false, best);
            considerShift(path, a > more ? a - more : 0, a, k, true, best);
        }
    }
    for (const std::uint32_t other : m_after[place]) {
        if (m_costs->at(place, other) >= limit) {
            break;
        }
        const std::size_t k = path.indexOf(other) - 1;
        for (std::size_t more = 0; more < longestShift; ++more) {
            considerShift(path, a > more ? a - more : 0, a, k, false, best);
            considerShift(path, a, a + more, k, true, best);
        }
    }
}

/// Exchanges two neighbouring stretches of any length (the 3-opt move that turns nothing round):
/// one new hop leaves `place` and must be shorter than the hop that it replaces.
void PathSearch::seekExchanges(const Path &path, std::uint32_t place, Move &best) const
{
    const std::size_t a = path.indexOf(place);
    if (a >= path.lastIndex()) {
        return;
    }
    const double freed = m_costs->at(place, path.at(a + 1));
    for (const std::uint32_t other : m_after[place]) {
        if (m_costs->at(place, other) >= freed) {
            return; // the list is sorted
        }
        const std::size_t b = path.indexOf(other);
        if (b < a) {
            for (std::size_t j = b; j < a; ++j) {
                considerShift(path, b, j, a, false, best);
            }
            continue;
        }
        for (std::size_t k = b; k < path.lastIndex(); ++k) {
            considerShift(path, a + 1, b - 1, k, false, best);
        }
        for (std::size_t i = 1; i <= a; ++i) {
            considerShift(path, i, a, b - 1, false, best);
        }
    }
}

void PathSearch::enqueue(std::uint32_t place)
{
    if (m_queued[place] == 0) {
        m_queued[place] = 1;
        m_queue.push_back(place);
    }
}

void PathSearch::apply(Path &path, const Move &move)
{
    const std::array<std::size_t, 6> touched{move.i - 1, move.i, move.j,
                                             move.j + 1, move.k, move.k + 1};
    const std::size_t count = move.kind == Move::Kind::Reverse ? 4 : 6;
    for (std::size_t t = 0; t < count; ++t) {
        enqueue(path.at(touched[t]));
    }
    if (move.kind == Move::Kind::Reverse) {
        path.reverse(move.i, move.j);
    } else {
        path.move(move.i, move.j, move.k, move.kind == Move::Kind::TurnedShift);
    }
}

void PathSearch::improveQueued(Path &path)
{
    for (std::size_t next = 0; next < m_queue.size(); ++next) {
        const std::uint32_t place = m_queue[next];
        m_queued[place] = 0;
        Move best{Move::Kind::None, leastGain, 0, 0, 0};
        seekReversals(path, place, best);
        seekShifts(path, place, best);
        if (best.kind == Move::Kind::None) {
            seekExchanges(path, place, best);
        }
        if (best.kind != Move::Kind::None) {
            apply(path, best);
            enqueue(place);
        }
    }
    m_queue.clear();
}

void PathSearch::descend(Path &path)
{
    for (const std::uint32_t place : path.order()) {
        enqueue(place);
    }
    improveQueued(path);
}

void PathSearch::kick(Path &path)
{
    const std::size_t stops = path.lastIndex() - 1;
    const std::size_t reach = std::min(longestKick, stops / 2);
    const std::size_t first = 1 + random(reach);
    const std::size_t second = 1 + random(reach);
    const std::size_t i = 1 + random(stops - first - second + 1);
    apply(path, {Move::Kind::Shift, 0, i, i + first - 1, i + first + second - 1});
}

void PathSearch::perturb(Path &path, std::size_t kicks)
{
    if (path.lastIndex() < 4) { // fewer than three stops: the descent has seen all orders
        return;
    }
    std::vector<std::uint32_t> best = path.order();
    std::vector<std::uint32_t> current = best;
    double bestCost = path.cost();
    double currentCost = bestCost;
    const double hop = bestCost / static_cast<double>(path.lastIndex());
    for (std::size_t n = 0; n < kicks; ++n) {
        kick(path);
        improveQueued(path);
        const double patience =
            startingPatience * hop * (1.0 - static_cast<double>(n) / static_cast<double>(kicks));
        if (path.cost() < currentCost + patience * randomShare()) {
            current = path.order();
            currentCost = path.cost();
            if (currentCost < bestCost - leastGain) {
                best = current;
                bestCost = currentCost;
            }
        } else {
            path.assign(current);
        }
    }
    path.assign(best);
}

std::uint64_t PathSearch::random(std::uint64_t below)
{
    // xorshift64* (Vigna 2016, "An experimental exploration of Marsaglia's xorshift generators").
    m_state ^= m_state >> 12U;
    m_state ^= m_state << 25U;
    m_state ^= m_state >> 27U;
    return ((m_state * 0x2545F4914F6CDD1DULL) >> 33U) % below;
}

double PathSearch::randomShare()
{
    constexpr std::uint64_t steps = 1U << 30U;
    return static_cast<double>(random(steps)) / static_cast<double>(steps);
}

} // namespace keyround
