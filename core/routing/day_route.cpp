// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/day_route.h"

#include "core/routing/day_beam.h"
#include "core/routing/day_lateness.h"
#include "core/routing/day_left_out.h"
#include "core/routing/day_search.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

class DayMaker
{
public:
    DayMaker(const Matrix &seconds, const DayTask &task, const DayRouteOptions &options,
             const Progress &progress)
        : m_seconds(seconds), m_task(task), m_options(options), m_effort(options, progress),
          m_plan(planUnits(seconds, task))
    {
    }

    DayRoute make()
    {
        std::vector<std::uint32_t> route = mustGoRoute();
        if (!m_isOver) {
            route = searched(std::move(route));
        }
        return result(std::move(route));
    }

private:
    [[nodiscard]] DayUnits unitsOf() const
    {
        return {m_seconds, m_plan.shift, m_plan.stops, m_plan.units};
    }
    [[nodiscard]] std::vector<std::uint32_t> mustGoUnits() const
    {
        std::vector<std::uint32_t> found;
        for (std::uint32_t u = 0; u < m_plan.units.size(); ++u) {
            if (m_plan.units[u].mustGo) {
                found.push_back(u);
            }
        }
        return found;
    }

    /// The given order as units: those whose stops it holds together and in order, pins obeyed.
    [[nodiscard]] std::vector<std::uint32_t> givenRoute() const
    {
        std::vector<std::uint32_t> unitOf(m_task.stops.size(), DayTrip::absent);
        for (std::uint32_t u = 0; u < m_plan.units.size(); ++u) {
            for (const std::size_t stop : m_plan.units[u].stops) {
                unitOf[stop] = u;
            }
        }
        std::vector<char> isIn(m_plan.units.size(), 0);
        std::vector<std::uint32_t> route;
        for (const std::size_t stop : m_options.startOrder) {
            const std::uint32_t u = stop < unitOf.size() ? unitOf[stop] : DayTrip::absent;
            if (u != DayTrip::absent && isIn[u] == 0) {
                isIn[u] = 1;
                route.push_back(u);
            }
        }
        std::stable_sort(route.begin(), route.end(), [&](std::uint32_t a, std::uint32_t b) {
            const auto rank = [&](std::uint32_t u) {
                return m_plan.units[u].isFirst ? 0 : m_plan.units[u].isLast ? 2 : 1;
            };
            return rank(a) < rank(b);
        });
        return route;
    }

    [[nodiscard]] bool holdsAll(const DayTrip &trip, const std::vector<std::uint32_t> &all) const
    {
        return trip.isKept() &&
               std::all_of(all.begin(), all.end(), [&](std::uint32_t u) { return trip.has(u); });
    }

    /// The must-go units in an order that keeps everything; else the least late one found, after
    /// which the plan's windows and end are widened to what that order needs.
    std::vector<std::uint32_t> mustGoRoute()
    {
        const std::vector<std::uint32_t> all = mustGoUnits();
        if (all.empty()) {
            return {};
        }
        const DayUnits units = unitsOf();
        DayImprover improver(units, m_options.objective);
        DaySearch search(units, improver, m_options.seed);
        DayTrip best(units);
        search.fillMustGo(best);
        DayTrip given(units);
        given.assign(mustGoOf(givenRoute()));
        if (holdsAll(given, all) && (!holdsAll(best, all) || search.isBetter(given, best))) {
            best = given;
        }
        const bool needsBeam = all.size() == units.size() ? !units.isPlain() : false;
        if (needsBeam || !holdsAll(best, all)) {
            tryBeams(units, search, all, best);
        }
        if (holdsAll(best, all)) {
            return best.route();
        }
        return leastLate(units, all, best.route());
    }

    [[nodiscard]] std::vector<std::uint32_t> mustGoOf(std::vector<std::uint32_t> route) const
    {
        route.erase(std::remove_if(route.begin(), route.end(),
                                   [&](std::uint32_t u) { return !m_plan.units[u].mustGo; }),
                    route.end());
        return route;
    }

    void tryBeams(const DayUnits &units, const DaySearch &search,
                  const std::vector<std::uint32_t> &all, DayTrip &best)
    {
        struct Attempt
        {
            std::size_t width;
            bool byTime;
        };
        constexpr double mostShare = 0.3; // of a time that is set
        const auto goesOn = [&] {
            return m_effort.keepsWatching() &&
                   (!m_effort.isTimed() || m_effort.share() < mostShare);
        };
        std::vector<Attempt> attempts{{60, false}, {60, true}, {600, false}, {600, true}};
        if (m_effort.isTimed()) {
            attempts.push_back({4000, false});
            attempts.push_back({20000, false});
        }
        for (const Attempt &attempt : attempts) {
            const bool found = holdsAll(best, all);
            // A wide beam is for what the search could not mend, or for a time that is there.
            if (found && (attempt.byTime || (attempt.width > 60 && !m_effort.isTimed()))) {
                continue;
            }
            const BeamOrder order =
                beamOrder(units, all, m_options.objective, attempt.width, attempt.byTime, goesOn);
            DayTrip trip(units);
            trip.assign(order.route);
            if (holdsAll(trip, all) && (!found || search.isBetter(trip, best))) {
                best = trip;
            }
            if (order.isExact) {
                m_isExact = all.size() == units.size() && holdsAll(best, all);
                return;
            }
        }
    }

    std::vector<std::uint32_t> leastLate(const DayUnits &units,
                                         const std::vector<std::uint32_t> &all,
                                         std::vector<std::uint32_t> route)
    {
        std::vector<char> isIn(units.size(), 0);
        for (const std::uint32_t u : route) {
            isIn[u] = 1;
        }
        for (const std::uint32_t u : all) {
            if (isIn[u] == 0) {
                const bool atEnd = !route.empty() && m_plan.units[route.back()].isLast;
                route.insert(m_plan.units[u].isFirst ? route.begin()
                             : atEnd                 ? route.end() - 1
                                                     : route.end(),
                             u);
            }
        }
        route = leastLateOrder(units, m_plan.stops, m_plan.shift, std::move(route), m_effort,
                               m_options.seed);
        const RouteTimes times = timesAlong(m_seconds, m_plan.shift, m_plan.stops, stopsOf(route));
        m_isOver = !times.hasWay;
        for (const RouteStop &at : times.stops) {
            if (at.late > 0) {
                m_plan.stops[at.stop].windows.clear();
            }
        }
        for (const RouteBreak &pause : times.breaks) {
            if (pause.late > 0) {
                m_plan.shift.breaks[pause.index].latest = unreachable;
            }
        }
        if (times.overrun > 0) {
            m_plan.shift.end = times.finish;
            m_onlyMustGo = true;
        }
        return route;
    }

    [[nodiscard]] std::vector<std::size_t> stopsOf(const std::vector<std::uint32_t> &route) const
    {
        std::vector<std::size_t> order;
        for (const std::uint32_t u : route) {
            order.insert(order.end(), m_plan.units[u].stops.begin(), m_plan.units[u].stops.end());
        }
        return order;
    }

    std::vector<std::uint32_t> searched(std::vector<std::uint32_t> mustGo)
    {
        if (m_isExact) {
            return mustGo;
        }
        // An overrun day holds nothing else; its units keep their numbers by being worth nothing.
        std::vector<std::uint32_t> numbers;
        std::vector<DayUnit> kept;
        for (std::uint32_t u = 0; u < m_plan.units.size(); ++u) {
            if (!m_onlyMustGo || m_plan.units[u].mustGo) {
                numbers.push_back(u);
                kept.push_back(m_plan.units[u]);
            }
        }
        const DayUnits units(m_seconds, m_plan.shift, m_plan.stops, std::move(kept));
        const DayObjective objective =
            m_onlyMustGo ? DayObjective::EarliestFinish : m_options.objective;
        DayImprover improver(units, objective);
        DaySearch search(units, improver, m_options.seed);
        const auto inner = [&](const std::vector<std::uint32_t> &route) {
            std::vector<std::uint32_t> found;
            for (const std::uint32_t u : route) {
                const auto at = std::lower_bound(numbers.begin(), numbers.end(), u);
                if (at != numbers.end() && *at == u) {
                    found.push_back(static_cast<std::uint32_t>(at - numbers.begin()));
                }
            }
            return found;
        };
        DayTrip best(units);
        best.assign(inner(mustGo));
        if (!best.isKept() && best.size() > 0) {
            return mustGo; // nothing can be moved that keeps it as it is
        }
        DayTrip given(units);
        given.assign(inner(givenRoute()));
        if (given.isKept() && search.isBetter(given, best)) {
            best = given;
        }
        search.fill(best, false);
        improver.touchAll(best);
        search.better(best);
        if (!exactly(units, search, best)) {
            search.run(best, m_effort);
        }
        std::vector<std::uint32_t> route;
        for (const std::uint32_t u : best.route()) {
            route.push_back(numbers[u]);
        }
        return route;
    }

    /// For a few stops all days can be looked at. False when there are too many, or too little
    /// effort is asked for.
    bool exactly(const DayUnits &units, const DaySearch &search, DayTrip &best)
    {
        constexpr std::size_t few = 8;
        constexpr std::size_t enoughRounds = 100;
        if (units.size() > few || (!m_effort.isTimed() && m_effort.rounds() < enoughRounds)) {
            return false;
        }
        const DayObjective objective =
            m_onlyMustGo ? DayObjective::EarliestFinish : m_options.objective;
        const BeamOrder order =
            bestSelection(units, objective, [&] { return m_effort.keepsWatching(); });
        DayTrip trip(units);
        trip.assign(order.route);
        if (trip.isKept() && search.isBetter(trip, best)) {
            best = trip;
        }
        return order.isExact;
    }

    /// Where must-go stops miss something, the clock may put a break elsewhere than the search did,
    /// which widened what is missed. An optional unit that is late by it is taken out again.
    bool takeOutLate(std::vector<std::uint32_t> &route, const RouteTimes &times) const
    {
        std::size_t at = 0;
        for (std::size_t i = 0; i < route.size(); ++i) {
            const DayUnit &unit = m_plan.units[route[i]];
            for (std::size_t n = 0; n < unit.stops.size(); ++n, ++at) {
                if (times.stops[at].late > 0 && !unit.mustGo) {
                    route.erase(route.begin() + static_cast<std::ptrdiff_t>(i));
                    return true;
                }
            }
        }
        return false;
    }

    [[nodiscard]] DayRoute result(std::vector<std::uint32_t> route) const
    {
        DayRoute day;
        do {
            day.order = stopsOf(route);
            day.times = timesAlong(m_seconds, m_task.shift, m_task.stops, day.order);
        } while (takeOutLate(route, day.times));
        day.leftOut = leftOutStops(m_seconds, m_task, m_plan, route);
        for (const std::size_t stop : day.order) {
            day.priority += std::max(0.0, m_task.stops[stop].priority);
        }
        day.keepsMustGo =
            day.times.isKept() &&
            std::none_of(day.leftOut.begin(), day.leftOut.end(),
                         [&](const LeftOutStop &out) { return m_task.stops[out.stop].mustGo; });
        day.wasCancelled = m_effort.wasCancelled();
        return day;
    }

    const Matrix &m_seconds;
    const DayTask &m_task;
    const DayRouteOptions &m_options;
    DayEffort m_effort;
    PlanUnits m_plan;
    bool m_isExact = false;    ///< the must-go order is the best there is, and all there is
    bool m_isOver = false;     ///< nothing is left to search
    bool m_onlyMustGo = false; ///< the day overruns already
};

} // namespace

DayRoute bestDay(const Matrix &seconds, const DayTask &task, const DayRouteOptions &options,
                 const Progress &progress)
{
    return DayMaker(seconds, task, options, progress).make();
}

} // namespace keyround
