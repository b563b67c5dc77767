// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/day_trip.h"

#include <algorithm>
#include <utility>

namespace keyround {

DayTrip::DayTrip(const DayUnits &units)
    : m_units(&units), m_position(units.size(), absent), m_times(units.states())
{
    refresh();
}

bool DayTrip::step(std::uint32_t from, std::uint32_t to, double *times) const
{
    const double drive = m_units->drive(from, to);
    if (m_units->isSimple()) {
        times[0] = m_units->workSimple(to, times[0] + drive);
        return times[0] < DayUnits::tooLate;
    }
    for (std::size_t k = 0; k < m_units->states(); ++k) {
        times[k] += drive;
    }
    return m_units->work(to, times);
}

bool DayTrip::arrives(std::uint32_t from, std::size_t to, const double *times) const
{
    const double drive = m_units->drive(from, after(to));
    const double *latest = &m_latest[to * m_units->states()];
    for (std::size_t k = 0; k < m_units->states(); ++k) {
        if (times[k] + drive <= latest[k]) {
            return true;
        }
    }
    return false;
}

/// A first look, without windows and breaks: most stops that do not fit lack the time for it.
bool DayTrip::mayFit(std::size_t from, std::size_t to, std::uint32_t u) const
{
    const std::size_t states = m_units->states();
    const double taken =
        m_units->drive(before(from), u) + m_units->within(u) + m_units->drive(u, after(to));
    const double *ready = &m_ready[from * states];
    const double *latest = &m_latest[to * states];
    double last = -DayUnits::impossible;
    for (std::size_t k = states; k-- > 0;) {
        last = std::max(last, latest[k]); // breaks may be taken meanwhile
        if (ready[k] + taken <= last) {
            return true;
        }
    }
    return false;
}

bool DayTrip::fits(std::size_t from, std::size_t to, const std::uint32_t *units,
                   std::size_t count) const
{
    if (count == 1 && !mayFit(from, to, *units)) {
        return false;
    }
    double *times = m_times.data();
    std::copy_n(&m_ready[from * m_units->states()], m_units->states(), times);
    std::uint32_t here = before(from);
    for (std::size_t i = 0; i < count; ++i) {
        if (!step(here, units[i], times)) {
            return false;
        }
        here = units[i];
    }
    return arrives(here, to, times);
}

bool DayTrip::walk(const Piece &piece, std::uint32_t &here, double *times) const
{
    for (std::size_t i = piece.from; i < piece.to; ++i) {
        const std::uint32_t next = m_route[piece.turned ? piece.to - 1 - (i - piece.from) : i];
        if (!step(here, next, times)) {
            return false;
        }
        here = next;
    }
    return true;
}

double DayTrip::finishFrom(std::uint32_t here, std::size_t to, double *times) const
{
    for (std::size_t i = to; i < m_route.size(); ++i) {
        if (!step(here, m_route[i], times)) {
            return DayUnits::impossible;
        }
        here = m_route[i];
    }
    double finish = DayUnits::impossible;
    const double drive = m_units->drive(here, m_units->finish());
    const double *latest = &m_latest[m_route.size() * m_units->states()];
    for (std::size_t k = 0; k < m_units->states(); ++k) {
        if (times[k] + drive <= latest[k]) {
            finish = std::min(finish, times[k] + drive);
        }
    }
    return finish;
}

bool DayTrip::fits(std::size_t from, std::size_t to, const Piece &first, const Piece &second,
                   double *finish) const
{
    double *times = m_times.data();
    std::copy_n(&m_ready[from * m_units->states()], m_units->states(), times);
    std::uint32_t here = before(from);
    if (!walk(first, here, times) || !walk(second, here, times) || !arrives(here, to, times)) {
        return false;
    }
    if (finish != nullptr) {
        *finish = finishFrom(here, to, times);
    }
    return true;
}

double DayTrip::finishWith(std::size_t gap, std::uint32_t u) const
{
    double *times = m_times.data();
    std::copy_n(&m_ready[gap * m_units->states()], m_units->states(), times);
    return step(before(gap), u, times) ? finishFrom(u, gap, times) : DayUnits::impossible;
}

void DayTrip::assign(std::vector<std::uint32_t> route)
{
    for (const std::uint32_t u : m_route) {
        m_position[u] = absent;
    }
    m_route = std::move(route);
    refresh();
}

void DayTrip::replace(std::size_t from, std::size_t to, const std::uint32_t *units,
                      std::size_t count)
{
    for (std::size_t i = from; i < to; ++i) {
        m_position[m_route[i]] = absent;
    }
    const auto at = m_route.erase(m_route.begin() + static_cast<std::ptrdiff_t>(from),
                                  m_route.begin() + static_cast<std::ptrdiff_t>(to));
    m_route.insert(at, units, units + count);
    refresh();
}

void DayTrip::rearrange(const Piece &first, const Piece &second)
{
    const auto begin = m_route.begin();
    const auto turn = [&](const Piece &piece) {
        if (piece.turned) {
            std::reverse(begin + static_cast<std::ptrdiff_t>(piece.from),
                         begin + static_cast<std::ptrdiff_t>(piece.to));
        }
    };
    turn(first);
    turn(second);
    if (second.to > second.from && second.from < first.from) {
        std::rotate(begin + static_cast<std::ptrdiff_t>(second.from),
                    begin + static_cast<std::ptrdiff_t>(first.from),
                    begin + static_cast<std::ptrdiff_t>(first.to));
    }
    refresh();
}

void DayTrip::refresh()
{
    const std::size_t states = m_units->states();
    const std::size_t count = m_route.size();
    m_ready.resize((count + 1) * states);
    m_latest.resize((count + 1) * states);
    m_forward.resize(count);
    m_backward.resize(count);
    m_kept = true;
    m_prize = 0;
    m_units->leaveStart(m_ready.data());
    m_drive = 0;
    for (std::size_t i = 0; i < count; ++i) {
        const std::uint32_t u = m_route[i];
        m_position[u] = static_cast<std::uint32_t>(i);
        m_prize += m_units->prize(u);
        double *times = &m_ready[(i + 1) * states];
        std::copy_n(times - states, states, times);
        m_kept = step(before(i), u, times) && m_kept;
        const double hop = m_units->drive(before(i), u);
        m_drive += hop + m_units->driveWithin(u);
        m_forward[i] = i == 0 ? 0.0 : m_forward[i - 1] + hop;
        m_backward[i] = i == 0 ? 0.0 : m_backward[i - 1] + m_units->drive(u, m_route[i - 1]);
    }
    m_drive += m_units->drive(before(count), m_units->finish());
    double *latest = &m_latest[count * states];
    m_units->latestFinish(latest);
    std::copy_n(&m_ready[count * states], states, m_times.data());
    m_finish = finishFrom(before(count), count, m_times.data());
    m_kept = m_kept && m_finish < DayUnits::tooLate;
    for (std::size_t i = count; i-- > 0;) {
        double *times = &m_latest[i * states];
        std::copy_n(times + states, states, times);
        m_units->latestReady(m_units->drive(m_route[i], after(i + 1)), times);
        m_units->latestArrivals(m_route[i], times);
    }
}

} // namespace keyround
