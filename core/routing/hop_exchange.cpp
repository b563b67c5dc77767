// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/hop_exchange.h"

#include <cmath>

namespace keyround {

namespace {

constexpr std::size_t nearest = 7; // candidates of a place
constexpr std::size_t spread = 3;
// How many candidates are tried at each depth of a chain, which therefore ends at the last.
constexpr std::array<std::size_t, 4> breadth{10, 5, 3, 2};
constexpr std::array<std::size_t, 4> breadthForward{8, 5, 3, 2};
constexpr std::array<std::size_t, 2> breadthTurning{5, 3};

// Where a near hop costs this share of there and back together more in one direction than in the
// other, on average, what a stretch costs driven backwards is chance.
constexpr double wildlyDifferent = 0.7;

bool alikeBothWays(const TourCosts &costs, const Candidates &candidates)
{
    double shares = 0;
    double hops = 0;
    for (std::uint32_t place = 0; place < costs.size(); ++place) {
        for (auto candidate = candidates.begin(place); candidate != candidates.end(place);
             ++candidate) {
            const auto there = static_cast<double>(costs.at(place, candidate->place));
            const auto back = static_cast<double>(costs.at(candidate->place, place));
            shares += there + back > 0 ? std::abs(there - back) / (there + back) : 0.0;
            hops += 1.0;
        }
    }
    return shares < wildlyDifferent * hops;
}

} // namespace

HopExchange::HopExchange(const TourCosts &costs, Tour &tour)
    : m_costs(&costs), m_tour(&tour), m_candidates(costs, false, nearest, spread),
      m_guide(costs, true, costs.symmetric() ? 0 : nearest, costs.symmetric() ? 0 : spread),
      m_queued(costs.size(), 0), m_turns(alikeBothWays(costs, m_candidates))
{
    m_queue.reserve(4 * costs.size());
}

bool HopExchange::Chain::cutsAt(std::uint32_t index) const
{
    for (std::size_t i = 0; i < cuts; ++i) {
        if (low[i] == index) {
            return true;
        }
    }
    return false;
}

void HopExchange::touch(std::uint32_t place)
{
    if (m_queued[place] == 0) {
        m_queued[place] = 1;
        m_queue.push_back(place);
    }
}

std::int64_t HopExchange::improve()
{
    m_saved = 0;
    for (std::size_t i = 0; i < m_queue.size(); ++i) {
        const std::uint32_t place = m_queue[i];
        m_queued[place] = 0;
        while (improveAt(place)) {
        }
    }
    m_queue.clear();
    return m_saved;
}

bool HopExchange::improveAt(std::uint32_t place)
{
    if (m_costs->symmetric()) {
        return beginChain(place);
    }
    Chain chain;
    const std::uint32_t index = m_tour->indexOf(place);
    chain.low[0] = index;
    chain.odd[0] = place;
    chain.even[0] = m_tour->at(m_tour->after(index));
    chain.cuts = 1;
    chain.gain = m_costs->at(place, chain.even[0]);
    return extendForward(chain) || (m_turns && beginTurning(place));
}

bool HopExchange::beginChain(std::uint32_t place)
{
    const std::uint32_t index = m_tour->indexOf(place);
    for (const bool onward : {true, false}) {
        Chain chain;
        chain.low[0] = onward ? index : m_tour->before(index);
        chain.odd[0] = place;
        chain.even[0] = m_tour->at(onward ? m_tour->after(index) : chain.low[0]);
        chain.oddIsTail[0] = onward;
        chain.cuts = 1;
        chain.gain = m_costs->at(place, chain.even[0]);
        if (extendEitherWay(chain)) {
            return true;
        }
    }
    return false;
}

bool HopExchange::extendEitherWay(Chain &chain)
{
    const std::size_t depth = chain.cuts;
    const std::uint32_t from = chain.even[depth - 1];
    const std::uint32_t fromIndex = m_tour->indexOf(from);
    const std::uint32_t next = m_tour->at(m_tour->after(fromIndex));
    const std::uint32_t previous = m_tour->at(m_tour->before(fromIndex));
    const std::int64_t before = chain.gain;
    std::size_t tried = 0;
    for (auto candidate = m_candidates.begin(from);
         candidate != m_candidates.end(from) && tried < breadth[depth - 1]; ++candidate, ++tried) {
        const std::int64_t left = before - candidate->cost;
        if (left <= 0) {
            break;
        }
        const std::uint32_t to = candidate->place;
        if (to == next || to == previous) {
            continue;
        }
        const std::uint32_t index = m_tour->indexOf(to);
        for (const bool onward : {true, false}) {
            const std::uint32_t low = onward ? index : m_tour->before(index);
            if (chain.cutsAt(low)) {
                continue;
            }
            const std::uint32_t even = m_tour->at(onward ? m_tour->after(index) : low);
            chain.low[depth] = low;
            chain.odd[depth] = to;
            chain.even[depth] = even;
            chain.oddIsTail[depth] = onward;
            chain.gain = left + m_costs->at(to, even);
            chain.cuts = depth + 1;
            const std::int64_t closed = chain.gain - m_costs->at(even, chain.odd[0]);
            if ((closed > 0 && closeEitherWay(chain, closed)) ||
                (depth < breadth.size() && extendEitherWay(chain))) {
                return true;
            }
            chain.cuts = depth;
        }
    }
    chain.gain = before;
    return false;
}

bool HopExchange::closeEitherWay(const Chain &chain, std::int64_t gain)
{
    Joint joint(chain.low, chain.cuts);
    for (std::size_t i = 0; i < chain.cuts; ++i) {
        const std::size_t other = i + 1 == chain.cuts ? 0 : i + 1;
        joint.join(chain.oddIsTail[i] ? joint.headOf(i) : joint.tailOf(i),
                   chain.oddIsTail[other] ? joint.tailOf(other) : joint.headOf(other));
    }
    Tour::Pieces pieces;
    if (!joint.ring(pieces, *m_tour)) {
        return false;
    }
    take(pieces, gain);
    return true;
}

/// Nothing is turned: from the hop's tail a new one leads to a place whose hop from before is cut.
bool HopExchange::extendForward(Chain &chain)
{
    const std::size_t depth = chain.cuts;
    const std::uint32_t from = depth == 1 ? chain.odd[0] : chain.even[depth - 1];
    const std::uint32_t goal = chain.even[0];
    const std::int64_t before = chain.gain;
    std::size_t tried = 0;
    for (auto candidate = m_candidates.begin(from);
         candidate != m_candidates.end(from) && tried < breadthForward[depth - 1];
         ++candidate, ++tried) {
        const std::int64_t left = before - candidate->cost;
        if (left <= 0) {
            break;
        }
        const std::uint32_t low = m_tour->before(m_tour->indexOf(candidate->place));
        if (chain.cutsAt(low)) {
            continue;
        }
        const std::uint32_t tail = m_tour->at(low);
        chain.low[depth] = low;
        chain.odd[depth] = candidate->place;
        chain.even[depth] = tail;
        chain.gain = left + m_costs->at(tail, candidate->place);
        chain.cuts = depth + 1;
        const std::int64_t closed = chain.gain - m_costs->at(tail, goal);
        if ((closed > 0 && depth > 1 && closeForward(chain, closed)) ||
            (depth < breadthForward.size() && extendForward(chain))) {
            return true;
        }
        chain.cuts = depth;
    }
    chain.gain = before;
    return false;
}

bool HopExchange::closeForward(const Chain &chain, std::int64_t gain)
{
    Joint joint(chain.low, chain.cuts);
    for (std::size_t i = 0; i < chain.cuts; ++i) {
        joint.join(joint.tailOf(i), joint.headOf(i + 1 == chain.cuts ? 0 : i + 1));
    }
    Tour::Pieces pieces;
    if (!joint.ring(pieces, *m_tour)) {
        return false;
    }
    take(pieces, gain);
    return true;
}

bool HopExchange::beginTurning(std::uint32_t place)
{
    if (!m_turningKnown) {
        learnTurning();
    }
    const std::uint32_t index = m_tour->indexOf(place);
    for (const bool onward : {true, false}) {
        Chain chain;
        chain.low[0] = onward ? index : m_tour->before(index);
        chain.odd[0] = place;
        chain.even[0] = m_tour->at(onward ? m_tour->after(index) : chain.low[0]);
        chain.oddIsTail[0] = onward;
        chain.cuts = 1;
        chain.gain = bothWays(place, chain.even[0]);
        if (extendTurning(chain)) {
            return true;
        }
    }
    return false;
}

/// As with equal costs there and back, but gains are those of there and back together, and decide
/// only which exchanges are looked at.
bool HopExchange::extendTurning(Chain &chain)
{
    const std::size_t depth = chain.cuts;
    const std::uint32_t from = chain.even[depth - 1];
    const std::uint32_t fromIndex = m_tour->indexOf(from);
    const std::uint32_t next = m_tour->at(m_tour->after(fromIndex));
    const std::uint32_t previous = m_tour->at(m_tour->before(fromIndex));
    const std::int64_t before = chain.gain;
    std::size_t tried = 0;
    for (auto candidate = m_guide.begin(from);
         candidate != m_guide.end(from) && tried < breadthTurning[depth - 1];
         ++candidate, ++tried) {
        const std::int64_t left = before - candidate->cost;
        if (left <= 0) {
            break;
        }
        const std::uint32_t to = candidate->place;
        if (to == next || to == previous) {
            continue;
        }
        const std::uint32_t index = m_tour->indexOf(to);
        for (const bool onward : {true, false}) {
            const std::uint32_t low = onward ? index : m_tour->before(index);
            if (chain.cutsAt(low)) {
                continue;
            }
            const std::uint32_t even = m_tour->at(onward ? m_tour->after(index) : low);
            chain.low[depth] = low;
            chain.odd[depth] = to;
            chain.even[depth] = even;
            chain.oddIsTail[depth] = onward;
            chain.gain = left + bothWays(to, even);
            chain.cuts = depth + 1;
            // A little less than nothing there and back may still be a gain one way.
            const std::int64_t closed = chain.gain - bothWays(even, chain.odd[0]);
            if ((2 * closed > -left && closeTurning(chain)) ||
                (depth < breadthTurning.size() && extendTurning(chain))) {
                return true;
            }
            chain.cuts = depth;
        }
    }
    chain.gain = before;
    return false;
}

bool HopExchange::closeTurning(const Chain &chain)
{
    Joint joint(chain.low, chain.cuts);
    for (std::size_t i = 0; i < chain.cuts; ++i) {
        const std::size_t other = i + 1 == chain.cuts ? 0 : i + 1;
        joint.join(chain.oddIsTail[i] ? joint.headOf(i) : joint.tailOf(i),
                   chain.oddIsTail[other] ? joint.tailOf(other) : joint.headOf(other));
    }
    Tour::Pieces pieces;
    if (!joint.ring(pieces, *m_tour)) {
        return false;
    }
    std::int64_t freed = 0;
    for (std::size_t i = 0; i < chain.cuts; ++i) {
        freed += m_costs->at(m_tour->at(chain.low[i]), m_tour->at(m_tour->after(chain.low[i])));
    }
    std::int64_t gain = freed - drivenCost(pieces);
    Tour::Pieces mirrored;
    mirrored.count = pieces.count;
    for (std::size_t i = 0; i < pieces.count; ++i) {
        mirrored.list[i] = pieces.list[pieces.count - 1 - i];
        mirrored.list[i].turned = !mirrored.list[i].turned;
    }
    if (const std::int64_t other = freed - drivenCost(mirrored); other > gain) {
        gain = other;
        pieces = mirrored;
    }
    if (gain <= 0) {
        return false;
    }
    take(pieces, gain);
    return true;
}

/// The new hops, and what turned pieces cost more than before.
std::int64_t HopExchange::drivenCost(const Tour::Pieces &pieces) const
{
    std::int64_t total = 0;
    for (std::size_t i = 0; i < pieces.count; ++i) {
        const Tour::Piece &piece = pieces.list[i];
        const Tour::Piece &other = pieces.list[i + 1 == pieces.count ? 0 : i + 1];
        total += m_costs->at(m_tour->at(piece.turned ? piece.from : piece.to),
                             m_tour->at(other.turned ? other.to : other.from));
        total += piece.turned ? turningCost(piece) : 0;
    }
    return total;
}

std::int64_t HopExchange::turningCost(const Tour::Piece &piece) const
{
    const std::int64_t straight = m_turning[piece.to] - m_turning[piece.from];
    return piece.from <= piece.to ? straight : straight + m_turning.back();
}

void HopExchange::learnTurning()
{
    const std::uint32_t size = m_tour->size();
    m_turning.resize(size + 1);
    m_turning[0] = 0;
    for (std::uint32_t i = 0; i < size; ++i) {
        const std::uint32_t here = m_tour->at(i);
        const std::uint32_t there = m_tour->at(m_tour->after(i));
        m_turning[i + 1] = m_turning[i] + m_costs->at(there, here) - m_costs->at(here, there);
    }
    m_turningKnown = true;
}

void HopExchange::take(const Tour::Pieces &pieces, std::int64_t gain)
{
    for (std::size_t i = 0; i < pieces.count; ++i) {
        touch(m_tour->at(pieces.list[i].from));
        touch(m_tour->at(pieces.list[i].to));
    }
    m_tour->rearrange(pieces, m_costs->symmetric());
    m_turningKnown = false;
    m_saved += gain;
}

std::int64_t HopExchange::force(const Tour::Pieces &pieces)
{
    std::int64_t gain = 0;
    for (std::size_t i = 0; i < pieces.count; ++i) {
        const std::uint32_t end = m_tour->at(pieces.list[i].to);
        gain += m_costs->at(end, m_tour->next(end));
        gain -= m_costs->at(end, m_tour->at(pieces.list[i + 1 == pieces.count ? 0 : i + 1].from));
    }
    take(pieces, 0);
    return gain;
}

} // namespace keyround
