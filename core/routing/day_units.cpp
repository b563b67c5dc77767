// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/day_units.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

double finiteSeconds(double seconds)
{
    return seconds < DayUnits::noWay ? seconds : DayUnits::noWay;
}

/// Latest arrival at a stop from which work ends by `ready`.
double latestArrival(const TimedStop &stop, double ready)
{
    const double begin = ready - stop.service;
    if (stop.windows.empty()) {
        return begin;
    }
    for (auto window = stop.windows.rbegin(); window != stop.windows.rend(); ++window) {
        if (window->from <= begin) {
            return std::min(window->to, begin);
        }
    }
    return -DayUnits::impossible;
}

} // namespace

DayUnits::DayUnits(const Matrix &seconds, const TimedShift &shift,
                   const std::vector<TimedStop> &stops, std::vector<DayUnit> units)
    : m_shift(shift), m_stops(stops), m_units(std::move(units)),
      m_count(static_cast<std::uint32_t>(m_units.size())), m_states(shift.breaks.size() + 1),
      m_drive((m_units.size() + 2) * (m_units.size() + 2), 0.0), m_within(m_units.size(), 0.0),
      m_driveWithin(m_units.size(), 0.0), m_from(m_units.size(), -impossible),
      m_to(m_units.size(), impossible), m_hasWindow(m_units.size(), 0), m_hops(m_units.size())
{
    const auto placeOf = [&](std::size_t stop) { return stops[stop].place; };
    for (const TimedStop &stop : stops) {
        WorkTimes work;
        work.service = stop.service;
        work.windows = stop.windows.size();
        if (!stop.windows.empty()) {
            work.from = stop.windows.front().from;
            work.to = stop.windows.back().to;
        }
        m_work.push_back(work);
    }
    m_plain = m_states == 1;
    m_simple = m_states == 1;
    for (std::uint32_t u = 0; u < m_count; ++u) {
        const std::vector<std::size_t> &members = m_units[u].stops;
        for (std::size_t i = 0; i < members.size(); ++i) {
            const TimedStop &stop = stops[members[i]];
            const double hop =
                i == 0 ? 0.0
                       : finiteSeconds(seconds.at(placeOf(members[i - 1]), placeOf(members[i])));
            m_hops[u].push_back(hop);
            m_driveWithin[u] += hop;
            m_within[u] += hop + stop.service;
            m_hasWindow[u] = m_hasWindow[u] != 0 || !stop.windows.empty() ? 1 : 0;
            if (!stop.windows.empty()) {
                m_plain = false;
                m_simple = m_simple && members.size() == 1 && stop.windows.size() == 1;
            }
        }
        const TimedStop &front = stops[members.front()];
        if (!front.windows.empty()) {
            m_from[u] = front.windows.front().from;
            m_to[u] = front.windows.back().to;
        }
        const std::size_t out = placeOf(members.back());
        for (std::uint32_t v = 0; v < m_count; ++v) {
            m_drive[u * (m_count + 2) + v] =
                u == v ? 0.0 : finiteSeconds(seconds.at(out, placeOf(m_units[v].stops.front())));
        }
        m_drive[u * (m_count + 2) + finish()] =
            shift.finish ? finiteSeconds(seconds.at(out, *shift.finish)) : 0.0;
        m_drive[start() * (m_count + 2) + u] =
            finiteSeconds(seconds.at(shift.start, placeOf(members.front())));
    }
    m_drive[start() * (m_count + 2) + finish()] =
        shift.finish ? finiteSeconds(seconds.at(shift.start, *shift.finish)) : 0.0;
}

void DayUnits::takeBreaks(double *times) const
{
    for (std::size_t k = 0; k + 1 < m_states; ++k) {
        const TimedBreak &pause = m_shift.breaks[k];
        if (times[k] <= pause.latest) {
            times[k + 1] =
                std::min(times[k + 1], std::max(times[k], pause.earliest) + pause.seconds);
        }
    }
}

void DayUnits::leaveStart(double *ready) const
{
    std::fill(ready, ready + m_states, impossible);
    ready[0] = m_shift.begin;
    takeBreaks(ready);
}

double DayUnits::endOfWork(std::size_t stop, double arrive) const
{
    const WorkTimes &work = m_work[stop];
    if (arrive >= tooLate || arrive > work.to) {
        return impossible;
    }
    if (work.windows < 2) {
        return (arrive < work.from ? work.from : arrive) + work.service;
    }
    return beginOfWork(m_stops[stop], arrive) + work.service;
}

bool DayUnits::work(std::uint32_t u, double *times) const
{
    const std::vector<std::size_t> &members = m_units[u].stops;
    bool any = false;
    for (std::size_t i = 0; i < members.size(); ++i) {
        any = false;
        for (std::size_t k = 0; k < m_states; ++k) {
            times[k] = endOfWork(members[i], times[k] + m_hops[u][i]);
            any = any || times[k] < tooLate;
        }
        if (!any) {
            return false;
        }
        takeBreaks(times);
    }
    return any;
}

void DayUnits::latestReady(double drive, double *times) const
{
    for (std::size_t k = m_states; k-- > 0;) {
        double latest = times[k] - drive;
        if (k + 1 < m_states) {
            const TimedBreak &pause = m_shift.breaks[k];
            const double begin = times[k + 1] - pause.seconds; // times[k + 1] is ready already
            if (begin >= pause.earliest) {
                latest = std::max(latest, std::min(pause.latest, begin));
            }
        }
        times[k] = latest;
    }
}

void DayUnits::latestArrivals(std::uint32_t u, double *times) const
{
    const std::vector<std::size_t> &members = m_units[u].stops;
    for (std::size_t i = members.size(); i-- > 0;) {
        for (std::size_t k = 0; k < m_states; ++k) {
            times[k] = latestArrival(m_stops[members[i]], times[k]);
        }
        if (i > 0) {
            latestReady(m_hops[u][i], times);
        }
    }
}

void DayUnits::latestFinish(double *times) const
{
    const double end = std::min(m_shift.end, tooLate);
    for (std::size_t k = 0; k < m_states; ++k) {
        times[k] = k + 1 == m_states ? end : std::min(end, m_shift.breaks[k].earliest);
    }
}

} // namespace keyround
