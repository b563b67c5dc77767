// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/choose_stops.h"

#include "core/dayplan/held_stops.h"
#include "core/dayplan/left_out_words.h"
#include "core/dayplan/stop_pool.h"
#include "core/routing/day_route.h"
#include "core/routing/stop_order.h"

#include <algorithm>
#include <numeric>
#include <utility>

namespace keyround {

namespace {

Error cancelled()
{
    return {ErrorCode::Cancelled,
            QStringLiteral("Planning was stopped. The round is as it was before.")};
}

DayTask taskOf(const Round &day, const TimedDay &timed, const std::vector<StopCandidate> &stops)
{
    HeldStops held = heldStops(day, stops);
    return {timed.shift, timed.stops, std::move(held.stretches), held.first, held.last};
}

/// Small days need no long search.
DayRouteOptions optionsFor(std::size_t stops)
{
    constexpr std::size_t roundsPerStop = 30;
    DayRouteOptions options;
    options.objective = DayObjective::EarliestFinish;
    options.rounds = std::min(options.rounds, roundsPerStop * stops);
    return options;
}

class Chooser
{
public:
    Chooser(const DriveGraph &graph, const Round &day, const std::vector<StopCandidate> &candidates,
            const TravelSettings &settings, const Progress &progress)
        : m_graph(graph), m_day(day), m_settings(settings), m_progress(progress)
    {
        std::vector<char> isPooled(candidates.size(), 0);
        const std::size_t size = poolSize(candidates, shiftSeconds(day));
        for (const std::size_t candidate : choosePool(day, candidates, size, settings)) {
            m_chosen.pool.push_back(candidates[candidate]);
            isPooled[candidate] = 1;
        }
        for (std::size_t i = 0; i < candidates.size(); ++i) {
            if (isPooled[i] == 0) {
                m_waiting.push_back(candidates[i]);
            }
        }
    }

    Result<ChosenDay> choose()
    {
        constexpr int passes = 4;
        for (int pass = 0; pass < passes; ++pass) {
            if (!workOutPool(pass, passes)) {
                return tl::unexpected<Error>(cancelled());
            }
            if (pass + 1 == passes || !refill()) {
                break;
            }
        }
        sayWhatIsLeftOut();
        return std::move(m_chosen);
    }

private:
    /// Makes the table of the pool and finds its best day. False when cancelled.
    bool workOutPool(int pass, int passes)
    {
        const auto watch = [&](double done, const QString &what) {
            return report(m_progress, (pass + done) / passes, what);
        };
        if (!watch(0, QStringLiteral("Measuring the ways between stops"))) {
            return false;
        }
        m_chosen.table = travelTable(m_graph, placesOf(m_day, m_chosen.pool), m_settings);
        m_chosen.timed = timedDay(m_day, m_chosen.pool);
        DayRouteOptions options = optionsFor(m_chosen.pool.size());
        options.startOrder.resize(m_kept);
        std::iota(options.startOrder.begin(), options.startOrder.end(), std::size_t{0});
        m_route = bestDay(m_chosen.table.seconds, taskOf(m_day, m_chosen.timed, m_chosen.pool),
                          options, watch);
        m_chosen.order = m_route.order;
        return !m_route.wasCancelled;
    }

    [[nodiscard]] double secondsLeft() const
    {
        return m_chosen.timed.shift.end - m_route.times.finish;
    }

    [[nodiscard]] std::vector<PlanePoint> sketchedRoute(const SketchedWays &ways) const
    {
        std::vector<PlanePoint> route{ways.at(m_day.start)};
        for (const std::size_t stop : m_chosen.order) {
            route.push_back(ways.at(m_chosen.pool[stop].place));
        }
        route.push_back(ways.at(finishOf(m_day)));
        return route;
    }

    /// Makes a new pool of the stops taken and of those waiting that may fit into what is left of
    /// the shift. False when there are none. A stop that takes longer than what is left cannot fit,
    /// wherever it is.
    bool refill()
    {
        constexpr std::size_t most = 40;
        const SketchedWays ways(m_day.start, m_settings);
        const std::vector<PlanePoint> route = sketchedRoute(ways);
        const double left = secondsLeft() + m_route.times.waited;
        std::vector<std::pair<double, std::size_t>> fillers; // by what they would add
        for (std::size_t i = 0; i < m_waiting.size(); ++i) {
            if (m_waiting[i].minutes * 60.0 <= left) {
                fillers.emplace_back(sketchedInsertion(ways, route, m_waiting[i]), i);
            }
        }
        if (fillers.empty()) {
            return false;
        }
        std::sort(fillers.begin(), fillers.end());
        fillers.resize(std::min(fillers.size(), most));
        setAsideRest();
        std::vector<char> isFiller(m_waiting.size(), 0);
        for (const auto &[adds, filler] : fillers) {
            m_chosen.pool.push_back(m_waiting[filler]);
            isFiller[filler] = 1;
        }
        std::vector<StopCandidate> later;
        for (std::size_t i = 0; i < m_waiting.size(); ++i) {
            if (isFiller[i] == 0) {
                later.push_back(std::move(m_waiting[i]));
            }
        }
        m_waiting = std::move(later);
        return true;
    }

    /// Leaves only the stops taken in the pool, in their order.
    void setAsideRest()
    {
        for (const LeftOutStop &left : m_route.leftOut) {
            StopCandidate &candidate = m_chosen.pool[left.stop];
            if (left.cause == LeftOutCause::DoesNotFit) {
                m_refused.push_back(candidate);
            } else {
                m_chosen.leftOut.push_back({candidate.valve, leftOutText(left, candidate)});
            }
        }
        std::vector<StopCandidate> taken;
        for (const std::size_t stop : m_chosen.order) {
            taken.push_back(std::move(m_chosen.pool[stop]));
        }
        m_chosen.pool = std::move(taken);
        m_kept = m_chosen.pool.size();
    }

    void sayWhatIsLeftOut()
    {
        for (const LeftOutStop &left : m_route.leftOut) {
            const StopCandidate &candidate = m_chosen.pool[left.stop];
            m_chosen.leftOut.push_back({candidate.valve, leftOutText(left, candidate)});
        }
        const SketchedWays ways(m_day.start, m_settings);
        const std::vector<PlanePoint> route = sketchedRoute(ways);
        for (const std::vector<StopCandidate> *unmeasured : {&m_refused, &m_waiting}) {
            for (const StopCandidate &candidate : *unmeasured) {
                const double missing = sketchedInsertion(ways, route, candidate) - secondsLeft();
                m_chosen.leftOut.push_back({candidate.valve, aboutMissingText(missing)});
            }
        }
    }

    const DriveGraph &m_graph;
    const Round &m_day;
    const TravelSettings &m_settings;
    const Progress &m_progress;
    ChosenDay m_chosen;
    DayRoute m_route;
    std::size_t m_kept = 0;               ///< the first of the pool are the day so far, in order
    std::vector<StopCandidate> m_waiting; ///< were in no table
    std::vector<StopCandidate> m_refused; ///< were in one, and did not fit
};

} // namespace

std::vector<GeoPoint> placesOf(const Round &day, const std::vector<StopCandidate> &stops)
{
    std::vector<GeoPoint> places{day.start, finishOf(day)};
    for (const StopCandidate &stop : stops) {
        places.push_back(stop.place);
    }
    return places;
}

Result<ChosenDay> chooseStops(const DriveGraph &graph, const Round &day,
                              const std::vector<StopCandidate> &candidates,
                              const TravelSettings &settings, const Progress &progress)
{
    return Chooser(graph, day, candidates, settings, progress).choose();
}

std::vector<std::size_t> bestOrderOfDay(const Round &day, const TimedDay &timed,
                                        const std::vector<StopCandidate> &stops,
                                        const TravelTable &table)
{
    std::vector<std::size_t> order(stops.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    const OrderRequest request = orderRequestFor(heldStops(day, stops), order);
    order = bestOrder(table.seconds, request).stops;
    for (std::size_t &place : order) {
        place -= DayPlaces::firstStop;
    }
    // Where the shortest drive keeps all hours without waiting, no order is better.
    const RouteTimes shortest = timesAlong(table.seconds, timed.shift, timed.stops, order);
    const bool hasClock = !timed.shift.breaks.empty() ||
                          std::any_of(timed.stops.begin(), timed.stops.end(),
                                      [](const TimedStop &stop) { return !stop.windows.empty(); });
    if (!hasClock || (shortest.waited <= 0 && (shortest.isKept() || !shortest.hasWay))) {
        return order;
    }
    DayTask task = taskOf(day, timed, stops);
    for (TimedStop &stop : task.stops) {
        stop.mustGo = true;
    }
    DayRouteOptions options = optionsFor(stops.size());
    options.startOrder = order;
    const DayRoute route = bestDay(table.seconds, task, options);
    const bool isWhole = route.order.size() == stops.size();
    const bool isBetter =
        route.times.misses() < shortest.misses() ||
        (route.times.misses() == shortest.misses() && route.times.finish < shortest.finish);
    return isWhole && isBetter ? route.order : order;
}

} // namespace keyround
