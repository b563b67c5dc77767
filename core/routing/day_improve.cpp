// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/day_improve.h"

#include <algorithm>
#include <numeric>

namespace keyround {

namespace {

// Smaller gains may be noise of the sums.
constexpr double leastGain = 1e-5;
constexpr double tieWeight = 1e-5; // of the objective that is not asked for

} // namespace

DayImprover::DayImprover(const DayUnits &units, DayObjective objective)
    : m_units(&units), m_byFinish(objective == DayObjective::EarliestFinish),
      m_longestShift(units.isPlain() ? 3 : units.size()), m_near(units.size()),
      m_queued(units.size(), 0)
{
    const std::size_t kept = units.isPlain() ? 14 : 60;
    for (std::uint32_t u = 0; u < units.size(); ++u) {
        std::vector<std::uint32_t> &near = m_near[u];
        near.resize(units.size());
        std::iota(near.begin(), near.end(), 0U);
        near.erase(near.begin() + u);
        const auto distance = [&](std::uint32_t v) {
            return std::min(units.drive(u, v), units.drive(v, u));
        };
        const std::size_t count = std::min(kept, near.size());
        std::partial_sort(near.begin(), near.begin() + static_cast<std::ptrdiff_t>(count),
                          near.end(), [&](std::uint32_t a, std::uint32_t b) {
                              const double toA = distance(a);
                              const double toB = distance(b);
                              return toA != toB ? toA < toB : a < b;
                          });
        near.resize(count);
    }
}

double DayImprover::cost(const DayTrip &trip) const
{
    const double taken = trip.finish() - m_units->begin();
    return m_byFinish ? taken + tieWeight * trip.drive() : trip.drive() + tieWeight * taken;
}

void DayImprover::enqueue(std::uint32_t u)
{
    if (u < m_units->size() && m_queued[u] == 0) {
        m_queued[u] = 1;
        m_queue.push_back(u);
    }
}

void DayImprover::touch(const DayTrip &trip, std::size_t gap)
{
    enqueue(trip.before(gap));
    enqueue(trip.after(gap));
}

void DayImprover::touchAll(const DayTrip &trip)
{
    for (const std::uint32_t u : trip.route()) {
        enqueue(u);
    }
}

/// Two neighbouring pieces, put in this order instead of the one that they have.
void DayImprover::consider(const DayTrip &trip, const DayTrip::Piece &first,
                           const DayTrip::Piece &second, Move &best) const
{
    const bool swapped = second.to > second.from && second.from < first.from;
    const std::size_t from = std::min(first.from, swapped ? second.from : first.from);
    const std::size_t to = std::max(first.to, second.to);
    const auto front = [&](const DayTrip::Piece &piece) {
        return trip.route()[piece.turned ? piece.to - 1 : piece.from];
    };
    const auto back = [&](const DayTrip::Piece &piece) {
        return trip.route()[piece.turned ? piece.from : piece.to - 1];
    };
    const bool single = second.to <= second.from;
    double drive = m_units->drive(trip.before(from), front(first)) -
                   m_units->drive(trip.before(from), trip.after(from)) +
                   m_units->drive(back(single ? first : second), trip.after(to)) -
                   m_units->drive(trip.before(to), trip.after(to));
    if (!single) {
        const std::size_t middle = swapped ? first.from : second.from;
        drive += m_units->drive(back(first), front(second)) -
                 m_units->drive(trip.before(middle), trip.after(middle));
    }
    drive += first.turned ? trip.turningCost(first.from, first.to) : 0.0;
    drive += second.turned && !single ? trip.turningCost(second.from, second.to) : 0.0;
    if (m_byFinish && !m_units->isPlain()) {
        double finish = 0;
        if (drive > 1e6 || !trip.fits(from, to, first, second, &finish)) {
            return;
        }
        const double gain = trip.finish() - finish - tieWeight * drive;
        if (gain > best.gain) {
            best = {gain, first, second};
        }
        return;
    }
    if (-drive > best.gain && (m_units->isPlain() || trip.fits(from, to, first, second, nullptr))) {
        best = {-drive, first, second};
    }
}

/// The units at [i, j) to gap `gap`, outside of them.
void DayImprover::considerShift(const DayTrip &trip, std::size_t i, std::size_t j, std::size_t gap,
                                bool turned, Move &best) const
{
    if (i < trip.lowest() || j > trip.highest() || i >= j || (gap >= i && gap <= j)) {
        return;
    }
    if (gap < i) {
        consider(trip, {i, j, turned}, {gap, i, false}, best);
    } else {
        consider(trip, {j, gap, false}, {i, j, turned}, best);
    }
}

/// Stretches that begin or end with the unit at `at`, to the gap, so that this unit comes first of
/// them there (leads) or last.
void DayImprover::seekShifts(const DayTrip &trip, std::size_t at, std::size_t gap, bool leads,
                             Move &best) const
{
    if (gap < trip.lowest() || gap > trip.highest()) {
        return;
    }
    constexpr std::size_t longestTurned = 3;
    for (std::size_t more = 1; more <= std::min(m_longestShift, trip.size()); ++more) {
        const bool mayTurn = more > 1 && more <= longestTurned;
        if (leads || mayTurn) {
            considerShift(trip, at, at + more, gap, !leads, best);
        }
        if ((!leads || mayTurn) && at + 1 >= more) {
            considerShift(trip, at + 1 - more, at + 1, gap, leads, best);
        }
    }
}

void DayImprover::seekTurns(const DayTrip &trip, std::size_t p, std::size_t q, Move &best) const
{
    const auto turn = [&](std::size_t from, std::size_t to) {
        if (from >= trip.lowest() && to <= trip.highest() && to > from + 1) {
            consider(trip, {from, to, true}, {0, 0, false}, best);
        }
    };
    if (p < q) {
        turn(p + 1, q + 1);
        turn(p, q);
    } else {
        turn(q + 1, p + 1);
        turn(q, p);
    }
}

bool DayImprover::moveFor(DayTrip &trip, std::uint32_t u)
{
    const std::size_t at = trip.positionOf(u);
    Move best;
    best.gain = leastGain;
    const double limit =
        std::max(m_units->drive(trip.before(at), u), m_units->drive(u, trip.after(at + 1)));
    for (const std::uint32_t v : m_near[u]) {
        if (!trip.has(v)) {
            continue;
        }
        if (!m_byFinish && std::min(m_units->drive(u, v), m_units->drive(v, u)) >= limit) {
            break;
        }
        const std::size_t q = trip.positionOf(v);
        seekShifts(trip, at, q + 1, true, best);
        seekShifts(trip, at, q, false, best);
        seekTurns(trip, at, q, best);
    }
    seekShifts(trip, at, trip.lowest(), true, best);
    seekShifts(trip, at, trip.highest(), false, best);
    if (at >= trip.lowest() && at < trip.highest()) {
        seekTurns(trip, at, trip.highest(), best);
        if (trip.lowest() > 0) {
            seekTurns(trip, at, trip.lowest() - 1, best);
        } else if (at > 0) {
            consider(trip, {0, at + 1, true}, {0, 0, false}, best);
        }
    }
    if (best.gain <= leastGain) {
        return false;
    }
    const std::size_t from = best.second.to > best.second.from
                                 ? std::min(best.first.from, best.second.from)
                                 : best.first.from;
    const std::size_t to = std::max(best.first.to, best.second.to);
    touch(trip, from);
    touch(trip, to);
    touch(trip, best.first.from);
    touch(trip, best.first.to);
    const auto counted = [&] { return m_byFinish ? cost(trip) : trip.drive(); };
    const double before = counted();
    const std::vector<std::uint32_t> kept = trip.route();
    trip.rearrange(best.first, best.second);
    if (!trip.isKept() || counted() >= before) {
        trip.assign(kept); // the sums of legs without a way are less exact
        return false;
    }
    return true;
}

bool DayImprover::descend(DayTrip &trip)
{
    bool any = false;
    for (std::size_t next = 0; next < m_queue.size(); ++next) {
        const std::uint32_t u = m_queue[next];
        m_queued[u] = 0;
        if (trip.has(u) && moveFor(trip, u)) {
            any = true;
            enqueue(u);
        }
    }
    m_queue.clear();
    return any;
}

bool DayImprover::exchange(DayTrip &trip, std::size_t longest)
{
    std::vector<std::uint32_t> outside;
    for (std::uint32_t x = 0; x < m_units->size(); ++x) {
        if (!trip.has(x) && !m_units->unit(x).isFirst && !m_units->unit(x).isLast) {
            outside.push_back(x);
        }
    }
    Exchange best;
    best.saved = leastGain;
    for (std::size_t from = trip.lowest(); from < trip.highest(); ++from) {
        Exchange stretch;
        stretch.from = from;
        stretch.saved = m_units->drive(trip.before(from), trip.after(from));
        for (std::size_t to = from + 1; to <= std::min(from + longest, trip.highest()); ++to) {
            const std::uint32_t last = trip.route()[to - 1];
            stretch.to = to;
            stretch.gain -= m_units->prize(last);
            stretch.saved += m_units->within(last) + m_units->drive(last, trip.after(to));
            seekExchange(trip, outside, stretch, best);
        }
    }
    if (best.unit == DayTrip::absent) {
        return false;
    }
    trip.replace(best.from, best.to, &best.unit, 1);
    touch(trip, best.from);
    touch(trip, best.from + 1);
    return true;
}

/// `stretch` comes with what is lost and saved by taking it out.
void DayImprover::seekExchange(const DayTrip &trip, const std::vector<std::uint32_t> &outside,
                               const Exchange &stretch, Exchange &best) const
{
    const std::uint32_t before = trip.before(stretch.from);
    const std::uint32_t after = trip.after(stretch.to);
    const double noise = 1e-9 * (1.0 - stretch.gain);
    for (const std::uint32_t x : outside) {
        const double gain = stretch.gain + m_units->prize(x);
        if (gain < best.gain - noise) {
            continue;
        }
        const double saved = stretch.saved - m_units->within(x) - m_units->drive(before, x) -
                             m_units->drive(x, after);
        if ((gain > best.gain + noise || saved > best.saved) &&
            trip.fits(stretch.from, stretch.to, &x, 1)) {
            best = {x, stretch.from, stretch.to, gain > noise ? gain : 0.0, saved};
        }
    }
}

} // namespace keyround
