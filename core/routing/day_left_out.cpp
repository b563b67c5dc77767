// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/day_left_out.h"

#include "core/routing/day_trip.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

double gapTo(const TimeWindow &window, double second)
{
    return std::max({window.from - second, second - window.to, 0.0});
}

/// The day as it is, and what it would be without an end or without the windows of those left out.
class Causes
{
public:
    Causes(const Matrix &seconds, const DayTask &task, const PlanUnits &plan,
           const std::vector<std::uint32_t> &route)
        : m_seconds(seconds), m_task(task), m_plan(plan), m_route(route), m_free(plan.stops),
          m_endless(plan.shift)
    {
        m_endless.end = unreachable;
        std::vector<char> isIn(plan.units.size(), 0);
        for (const std::uint32_t u : route) {
            isIn[u] = 1;
        }
        for (std::uint32_t u = 0; u < plan.units.size(); ++u) {
            if (isIn[u] == 0) {
                m_out.push_back(u);
                for (const std::size_t stop : plan.units[u].stops) {
                    m_free[stop].windows.clear();
                }
            }
        }
    }

    std::vector<LeftOutStop> find() const
    {
        std::vector<LeftOutStop> found;
        const DayUnits asIs(m_seconds, m_endless, m_plan.stops, m_plan.units);
        const DayUnits withoutWindows(m_seconds, m_endless, m_free, m_plan.units);
        DayTrip trip(asIs);
        DayTrip freeTrip(withoutWindows);
        trip.assign(m_route);
        freeTrip.assign(m_route);
        for (const std::uint32_t u : m_out) {
            const LeftOutStop cause = causeOf(trip, freeTrip, withoutWindows, u);
            for (const std::size_t stop : m_plan.units[u].stops) {
                found.push_back(cause);
                found.back().stop = stop;
            }
        }
        for (const std::size_t stop : m_plan.aside) {
            found.push_back(causeAlone(stop));
        }
        std::sort(found.begin(), found.end(),
                  [](const LeftOutStop &a, const LeftOutStop &b) { return a.stop < b.stop; });
        return found;
    }

private:
    [[nodiscard]] LeftOutStop causeAlone(std::size_t stop) const
    {
        LeftOutStop cause;
        cause.stop = stop;
        if (m_plan.hasWay[stop] == 0) {
            return cause;
        }
        TimedStop free = m_task.stops[stop];
        free.windows.clear();
        const auto alone = [&](const TimedStop &which) {
            return timesAlong(m_seconds, m_task.shift, {which}, {0});
        };
        const RouteTimes times = alone(free);
        cause.missingSeconds = times.overrun;
        cause.cause = LeftOutCause::DoesNotFit;
        if (times.overrun <= 0) {
            cause.cause = LeftOutCause::WindowNeverMet;
            cause.couldBegin = times.stops.front().begin;
            setNearest(cause, m_task.stops[stop]);
        }
        return cause;
    }

    static void setNearest(LeftOutStop &cause, const TimedStop &stop)
    {
        const auto &windows = stop.windows;
        if (!windows.empty()) {
            cause.nearestWindow = *std::min_element(
                windows.begin(), windows.end(), [&](const TimeWindow &a, const TimeWindow &b) {
                    return gapTo(a, cause.couldBegin) < gapTo(b, cause.couldBegin);
                });
        }
    }

    /// Least seconds beyond the end; infinite when it fits nowhere even then.
    [[nodiscard]] double missing(const DayTrip &trip, std::uint32_t u) const
    {
        double least = unreachable;
        for (std::size_t gap = lowest(trip, u); gap <= highest(trip, u); ++gap) {
            const double finish = trip.finishWith(gap, u);
            if (finish < DayUnits::tooLate) {
                least = std::min(least, finish - m_task.shift.end);
            }
        }
        return least;
    }
    [[nodiscard]] std::size_t lowest(const DayTrip &trip, std::uint32_t u) const
    {
        return m_plan.units[u].isFirst ? 0 : m_plan.units[u].isLast ? trip.size() : trip.lowest();
    }
    [[nodiscard]] std::size_t highest(const DayTrip &trip, std::uint32_t u) const
    {
        return m_plan.units[u].isFirst ? 0 : m_plan.units[u].isLast ? trip.size() : trip.highest();
    }

    [[nodiscard]] LeftOutStop causeOf(const DayTrip &trip, const DayTrip &freeTrip,
                                      const DayUnits &units, std::uint32_t u) const
    {
        LeftOutStop cause;
        const TimedStop &stop = m_plan.stops[m_plan.units[u].stops.front()];
        const double asIs = missing(trip, u);
        const double free = missing(freeTrip, u);
        if (free > 0 && (std::isfinite(asIs) || std::isfinite(free))) {
            cause.cause = LeftOutCause::DoesNotFit;
            cause.missingSeconds = std::max(0.0, std::isfinite(asIs) ? asIs : free);
            return cause;
        }
        if (!std::isfinite(free)) {
            return cause; // no leg leads into this day and on
        }
        cause.cause = LeftOutCause::WindowNotOffered;
        double nearest = unreachable;
        for (std::size_t gap = lowest(freeTrip, u); gap <= highest(freeTrip, u); ++gap) {
            if (freeTrip.finishWith(gap, u) > m_task.shift.end) {
                continue;
            }
            const double arrive = freeTrip.ready(gap) + units.drive(freeTrip.before(gap), u);
            double distance = unreachable;
            for (const TimeWindow &window : stop.windows) {
                distance = std::min(distance, gapTo(window, arrive));
            }
            if (distance < nearest || nearest == unreachable) {
                nearest = distance;
                cause.couldBegin = arrive;
            }
        }
        setNearest(cause, stop);
        return cause;
    }

    const Matrix &m_seconds;
    const DayTask &m_task;
    const PlanUnits &m_plan;
    const std::vector<std::uint32_t> &m_route;
    std::vector<TimedStop> m_free; ///< those left out without their windows
    TimedShift m_endless;
    std::vector<std::uint32_t> m_out;
};

} // namespace

std::vector<LeftOutStop> leftOutStops(const Matrix &seconds, const DayTask &task,
                                      const PlanUnits &plan,
                                      const std::vector<std::uint32_t> &route)
{
    return Causes(seconds, task, plan, route).find();
}

} // namespace keyround
