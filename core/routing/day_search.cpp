// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/day_search.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr double shortest = 1e-3; // seconds: no insertion counts as less

std::ptrdiff_t mustGoCount(const DayUnits &units, const DayTrip &trip)
{
    return std::count_if(trip.route().begin(), trip.route().end(),
                         [&](std::uint32_t u) { return units.unit(u).mustGo; });
}

bool isPinned(const DayUnits &units, std::uint32_t u)
{
    return units.unit(u).isFirst || units.unit(u).isLast;
}

} // namespace

DaySearch::DaySearch(const DayUnits &units, DayImprover &improver, std::uint64_t seed)
    : m_units(&units), m_improver(&improver), m_dice(seed), m_barred(units.size(), 0)
{
}

bool DaySearch::isBetter(const DayTrip &a, const DayTrip &b) const
{
    const double noise = 1e-9 * (1.0 + std::abs(b.prize()));
    if (std::abs(a.prize() - b.prize()) > noise) {
        return a.prize() > b.prize();
    }
    return m_improver->cost(a) < m_improver->cost(b) - 1e-7;
}

void DaySearch::considerGap(const DayTrip &trip, std::uint32_t u, std::size_t gap,
                            Offer &best) const
{
    double cost = m_units->drive(trip.before(gap), u) + m_units->drive(u, trip.after(gap)) -
                  m_units->drive(trip.before(gap), trip.after(gap));
    if (cost < best.cost && m_units->isSimple() && !m_units->isPlain()) {
        cost += m_waitWeight *
                m_units->waitSimple(u, trip.ready(gap) + m_units->drive(trip.before(gap), u));
    }
    if (cost < best.cost && trip.fits(gap, gap, &u, 1)) {
        best = {cost, gap};
    }
}

DaySearch::Offer DaySearch::offerFor(const DayTrip &trip, std::uint32_t u) const
{
    Offer best;
    if (m_units->unit(u).isFirst) {
        considerGap(trip, u, 0, best);
        return best;
    }
    if (m_units->unit(u).isLast) {
        considerGap(trip, u, trip.size(), best);
        return best;
    }
    constexpr std::size_t few = 40;
    if (!m_units->isPlain() || trip.size() <= few) {
        for (std::size_t gap = trip.lowest(); gap <= trip.highest(); ++gap) {
            considerGap(trip, u, gap, best);
        }
        return best;
    }
    considerGap(trip, u, trip.lowest(), best);
    considerGap(trip, u, trip.highest(), best);
    for (const std::uint32_t v : m_improver->near(u)) {
        if (trip.has(v)) {
            const std::size_t at = trip.positionOf(v);
            if (at >= trip.lowest()) {
                considerGap(trip, u, at, best);
            }
            if (at < trip.highest()) {
                considerGap(trip, u, at + 1, best);
            }
        }
    }
    return best;
}

void DaySearch::fill(DayTrip &trip, bool withDice)
{
    struct Waiting
    {
        std::uint32_t unit;
        std::uint32_t after; ///< the unit before its gap, or the start
        double cost;
        double weight;
    };
    std::vector<Waiting> waiting;
    const auto offer = [&](Waiting &entry) {
        const Offer found = offerFor(trip, entry.unit);
        entry.cost = found.cost + m_units->within(entry.unit);
        entry.after = trip.before(found.gap);
        return found.cost < DayUnits::impossible;
    };
    for (std::uint32_t u = 0; u < m_units->size(); ++u) {
        if (!trip.has(u) && m_barred[u] == 0) {
            const double noise = withDice ? std::exp(m_spread * (m_dice.share() - 0.5)) : 1.0;
            Waiting entry{u, 0, 0, std::pow(m_units->prize(u), m_prizePower) * noise};
            if (offer(entry)) {
                waiting.push_back(entry);
            }
        }
    }
    while (!waiting.empty()) {
        const auto worth = [](const Waiting &entry) {
            return entry.weight / std::max(entry.cost, shortest);
        };
        const auto next = std::max_element(
            waiting.begin(), waiting.end(),
            [&](const Waiting &a, const Waiting &b) { return worth(a) < worth(b); });
        const std::uint32_t u = next->unit;
        const std::size_t gap =
            next->after == m_units->start() ? 0 : trip.positionOf(next->after) + 1;
        const std::uint32_t after = next->after;
        if (!trip.fits(gap, gap, &u, 1)) { // time went elsewhere since
            if (m_units->isPlain() || !offer(*next)) {
                *next = waiting.back();
                waiting.pop_back();
            }
            continue;
        }
        *next = waiting.back();
        waiting.pop_back();
        trip.replace(gap, gap, &u, 1);
        m_improver->touch(trip, gap);
        m_improver->touch(trip, gap + 1);
        // Two gaps are new, and one is gone.
        for (std::size_t i = 0; i < waiting.size();) {
            Waiting &entry = waiting[i];
            bool fits = true;
            if (entry.after == after || isPinned(*m_units, u) || isPinned(*m_units, entry.unit)) {
                fits = offer(entry);
            } else {
                Offer best{entry.cost - m_units->within(entry.unit), DayTrip::absent};
                if (gap >= trip.lowest()) {
                    considerGap(trip, entry.unit, gap, best);
                }
                if (gap + 1 <= trip.highest()) {
                    considerGap(trip, entry.unit, gap + 1, best);
                }
                if (best.gap != DayTrip::absent) {
                    entry.cost = best.cost + m_units->within(entry.unit);
                    entry.after = trip.before(best.gap);
                }
            }
            if (fits) {
                ++i;
            } else {
                entry = waiting.back();
                waiting.pop_back();
            }
        }
    }
}

void DaySearch::fillMustGo(DayTrip &trip)
{
    for (std::uint32_t u = 0; u < m_units->size(); ++u) {
        m_barred[u] = m_units->unit(u).mustGo ? 0 : 1;
    }
    fill(trip, false);
    std::fill(m_barred.begin(), m_barred.end(), char{0});
}

void DaySearch::better(DayTrip &trip)
{
    constexpr std::size_t longestOut = 3;
    constexpr int most = 60; // exchanges: each earns or saves, so that few are needed
    m_improver->descend(trip);
    fill(trip, false);
    for (int n = 0; n < most && m_improver->exchange(trip, longestOut); ++n) {
        m_improver->descend(trip);
        fill(trip, false);
    }
    m_improver->descend(trip);
}

void DaySearch::takeOut(DayTrip &trip, const std::vector<std::uint32_t> &units)
{
    std::vector<char> out(m_units->size(), 0);
    for (const std::uint32_t u : units) {
        out[u] = 1;
    }
    std::vector<std::uint32_t> kept;
    std::vector<std::uint32_t> around;
    for (std::size_t i = 0; i < trip.size(); ++i) {
        const std::uint32_t u = trip.route()[i];
        if (out[u] == 0) {
            kept.push_back(u);
            if ((i > 0 && out[trip.route()[i - 1]] != 0) ||
                (i + 1 < trip.size() && out[trip.route()[i + 1]] != 0)) {
                around.push_back(u);
            }
        }
    }
    trip.assign(std::move(kept));
    for (const std::uint32_t u : around) {
        m_improver->touch(trip, trip.positionOf(u));
    }
}

void DaySearch::takeOutString(DayTrip &trip)
{
    const std::size_t most = std::max<std::size_t>(5, std::min<std::size_t>(30, trip.size() / 3));
    const std::size_t count = std::min(trip.size(), 1 + m_dice.upTo(most));
    const std::size_t from = m_dice.upTo(trip.size() - count + 1);
    std::vector<std::uint32_t> units;
    const bool gaps = m_dice.upTo(3) == 0; // leaves some of them in
    for (std::size_t i = from; i < from + count; ++i) {
        if (!gaps || m_dice.upTo(2) == 0) {
            units.push_back(trip.route()[i]);
        }
    }
    takeOut(trip, units);
}

void DaySearch::takeOutAround(DayTrip &trip)
{
    const auto center = static_cast<std::uint32_t>(m_dice.upTo(m_units->size()));
    const std::size_t count =
        1 + m_dice.upTo(std::max<std::size_t>(5, std::min<std::size_t>(14, trip.size() / 3)));
    std::vector<std::uint32_t> units;
    if (trip.has(center)) {
        units.push_back(center);
    }
    for (const std::uint32_t v : m_improver->near(center)) {
        if (units.size() >= count) {
            break;
        }
        if (trip.has(v) && m_dice.upTo(5) != 0) {
            units.push_back(v);
        }
    }
    takeOut(trip, units);
}

/// Puts in a stop that is out, where the least priority must go for it.
bool DaySearch::forceIn(DayTrip &trip)
{
    std::vector<std::uint32_t> outside;
    for (std::uint32_t u = 0; u < m_units->size(); ++u) {
        if (!trip.has(u) && !isPinned(*m_units, u)) {
            outside.push_back(u);
        }
    }
    if (outside.empty()) {
        return false;
    }
    return forceIn(trip, outside[m_dice.upTo(outside.size())]);
}

bool DaySearch::forceIn(DayTrip &trip, std::uint32_t u)
{
    double least = DayUnits::impossible;
    std::size_t bestFrom = 0;
    std::size_t bestTo = 0;
    for (std::size_t from = trip.lowest(); from <= trip.highest(); ++from) {
        double lost = 0;
        for (std::size_t to = from; to <= trip.highest(); ++to) {
            lost += to > from ? m_units->prize(trip.route()[to - 1]) : 0.0;
            const double noisy = lost * (0.8 + 0.4 * m_dice.share());
            if (noisy >= least) {
                if (lost > 1.3 * least) {
                    break;
                }
                continue;
            }
            if (trip.fits(from, to, &u, 1)) {
                least = noisy;
                bestFrom = from;
                bestTo = to;
                break;
            }
        }
    }
    if (least == DayUnits::impossible) {
        return false;
    }
    trip.replace(bestFrom, bestTo, &u, 1);
    m_improver->touch(trip, bestFrom);
    m_improver->touch(trip, bestFrom + 1);
    return true;
}

/// Goes to a place where the day has not been: a stop that is out and some of its neighbours come
/// in, whatever goes for them. Single exchanges do not cross from one cluster of stops to another.
bool DaySearch::forceClusterIn(DayTrip &trip)
{
    const auto center = static_cast<std::uint32_t>(m_dice.upTo(m_units->size()));
    std::size_t count = 2 + m_dice.upTo(8);
    bool any = false;
    if (!trip.has(center) && !isPinned(*m_units, center)) {
        any = forceIn(trip, center);
    }
    for (const std::uint32_t v : m_improver->near(center)) {
        if (count == 0) {
            break;
        }
        if (!trip.has(v) && !isPinned(*m_units, v) && forceIn(trip, v)) {
            any = true;
            --count;
        }
    }
    return any;
}

void DaySearch::destroy(DayTrip &trip)
{
    const std::vector<std::uint32_t> before = trip.route();
    switch (m_dice.upTo(6)) {
    case 0:
    case 1:
        takeOutString(trip);
        break;
    case 2:
        takeOutAround(trip);
        break;
    case 3:
        if (!forceClusterIn(trip)) {
            takeOutString(trip);
        }
        return;
    default:
        if (!forceIn(trip)) {
            takeOutString(trip);
        } else if (m_dice.upTo(2) == 0) {
            forceIn(trip);
        }
        return;
    }
    if (!trip.isKept()) {
        trip.assign(before);
        return;
    }
    if (m_dice.upTo(2) == 0) {
        for (const std::uint32_t u : before) {
            m_barred[u] = !trip.has(u) && !m_units->unit(u).mustGo && m_dice.upTo(3) == 0 ? 1 : 0;
        }
    }
}

/// How much worse the second is, in stops of middling worth.
double DaySearch::loss(const DayTrip &from, const DayTrip &to) const
{
    double optional = 0;
    std::size_t count = 0;
    for (const std::uint32_t u : from.route()) {
        if (!m_units->unit(u).mustGo) {
            optional += m_units->prize(u);
            ++count;
        }
    }
    const double stop = count > 0 ? optional / static_cast<double>(count) : 1.0;
    const double cost = m_improver->cost(from);
    const double hop = std::max(shortest, std::abs(cost) / static_cast<double>(from.size() + 1));
    return (from.prize() - to.prize()) / stop + 0.3 * (m_improver->cost(to) - cost) / hop;
}

/// How the next repair weighs waiting, priority and chance.
void DaySearch::rollRepair()
{
    m_waitWeight = m_dice.share();
    m_prizePower = 0.6 + 1.2 * m_dice.share();
    m_spread = m_dice.upTo(4) == 0 ? 4.0 : 0.5;
}

/// The best of several days made with dice, in no more than up to this share of the effort.
DayTrip DaySearch::freshStart(DayEffort &effort, double upTo)
{
    constexpr int starts = 10;
    DayTrip best(*m_units);
    for (int n = 0; n < starts && effort.share() < upTo && effort.goOn(); ++n) {
        DayTrip trial(*m_units);
        rollRepair();
        m_spread = 1.5;
        fill(trial, true);
        better(trial);
        takeBetter(best, trial);
    }
    return best;
}

void DaySearch::takeBetter(DayTrip &best, const DayTrip &other) const
{
    if (other.isKept() && isBetter(other, best)) {
        best = other;
    }
}

void DaySearch::run(DayTrip &best, DayEffort &effort)
{
    constexpr double hottest = 0.6;
    constexpr double cycles = 3;
    if (best.size() == 0 && m_units->size() == 0) {
        return;
    }
    takeBetter(best, freshStart(effort, 0.15));
    DayTrip current = best;
    double cycle = 0;
    while (effort.goOn()) {
        const double within = effort.share() * cycles;
        if (std::floor(within) > cycle) {
            cycle = std::floor(within);
            current = best;
            if (cycle < cycles - 1) { // once more from elsewhere, and at last from the best
                const DayTrip fresh = freshStart(effort, effort.share() + 0.05);
                current =
                    mustGoCount(*m_units, fresh) == mustGoCount(*m_units, best) ? fresh : best;
            }
        }
        DayTrip trial = current;
        rollRepair();
        if (trial.size() > 0) {
            destroy(trial);
        }
        fill(trial, true);
        std::fill(m_barred.begin(), m_barred.end(), char{0});
        better(trial);
        if (isBetter(trial, best)) {
            best = trial;
        }
        const double heat = hottest * (1.0 - (within - cycle));
        if (loss(current, trial) < heat * -std::log(1.0 - m_dice.share()) * 0.5) {
            current = trial;
        }
    }
}

} // namespace keyround
