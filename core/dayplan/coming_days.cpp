// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/coming_days.h"

#include "core/dayplan/choose_stops.h"
#include "core/dayplan/coming_days_model.h"
#include "core/dayplan/day_clock.h"
#include "core/dayplan/held_stops.h"
#include "core/routing/stop_order.h"
#include "core/routing/timed_route.h"

#include <algorithm>
#include <numeric>
#include <tuple>
#include <utility>

namespace keyround {

namespace {

constexpr double shareOfWays = 0.2; // of the progress, for measuring the ways

Status checkDays(const std::vector<CrewDayRequest> &days)
{
    for (const CrewDayRequest &day : days) {
        if (const Status status = checkDay(day.round); !status) {
            return fail(status.error().code, QStringLiteral("%1, %2: %3")
                                                 .arg(day.round.date.toString(Qt::ISODate),
                                                      day.round.crew, status.error().message));
        }
    }
    return {};
}

/// The part of a table that belongs to some of its places, in their order.
TravelTable partOf(const TravelTable &table, const std::vector<std::size_t> &places)
{
    TravelTable part;
    part.kind = table.kind;
    part.seconds = Matrix(places.size());
    part.metres = Matrix(places.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        for (std::size_t k = 0; k < places.size(); ++k) {
            part.seconds.set(i, k, table.seconds.at(places[i], places[k]));
            part.metres.set(i, k, table.metres.at(places[i], places[k]));
        }
        const auto &off = table.offStreet;
        if (std::find(off.begin(), off.end(), places[i]) != off.end()) {
            part.offStreet.push_back(i);
        }
    }
    return part;
}

/// Misses first, then the end: what makes one order of a day better than another.
std::tuple<std::size_t, double> scoreOf(const TravelTable &table, const TimedDay &timed,
                                        const std::vector<std::size_t> &order)
{
    const RouteTimes times = timesAlong(table.seconds, timed.shift, timed.stops, order);
    return {times.misses() + (times.hasWay ? 0 : 1), times.finish};
}

class Drawer
{
public:
    Drawer(const DriveGraph &graph, const ComingDaysRequest &request,
           const TravelSettings &settings)
        : m_graph(graph), m_request(request), m_settings(settings),
          m_model(comingDaysModel(request))
    {
        for (std::size_t i = 0; i < request.backlog.size(); ++i) {
            m_backlogOf.insert(request.backlog[i].stop.valve, i);
        }
    }

    Result<ComingDays> draw(const Progress &progress)
    {
        if (!report(progress, 0, QStringLiteral("Measuring the ways between stops"))) {
            return tl::unexpected<Error>(Error{
                ErrorCode::Cancelled,
                QStringLiteral("Planning was stopped. The coming days are as they were before.")});
        }
        m_table = travelTable(m_graph, m_model.places, m_settings);
        m_model.task.seconds = SecondsTable(m_table.seconds);
        BacklogOptions options;
        if (m_request.effort > 0) {
            options.ruinsPerJob = m_request.effort;
        }
        BacklogPlan plan;
        if (!m_model.task.crewDays.empty() && !m_model.task.jobs.empty()) {
            auto found = planBacklog(m_model.task, options, [&](double done, const QString &what) {
                return report(progress, shareOfWays + (1.0 - shareOfWays) * done, what);
            });
            if (!found) {
                return tl::unexpected<Error>(std::move(found).error());
            }
            plan = std::move(*found);
        }
        return take(std::move(plan));
    }

private:
    /// What was told stays on its day, even where the search found that impossible: the day then
    /// says what it overruns or misses.
    void putBackTold(BacklogPlan &plan) const
    {
        for (const std::size_t job : plan.toldMoved) {
            std::erase_if(plan.leftOut, [&](const LeftOutJob &left) { return left.job == job; });
            for (CrewDayPlan &day : plan.crewDays) {
                std::erase_if(day.jobs, [&](const PlannedJob &other) { return other.job == job; });
            }
            plan.crewDays[*m_model.task.jobs[job].toldCrewDay].jobs.push_back({job, 0, 0, 0});
        }
    }

    ComingDays take(BacklogPlan plan)
    {
        plan.crewDays.resize(m_model.task.crewDays.size());
        putBackTold(plan);
        m_made.leftOut = std::move(m_model.leftOut);
        std::size_t taskDay = 0;
        for (std::size_t i = 0; i < m_request.days.size(); ++i) {
            if (standingOf(m_request.days[i]) == DayStanding::Untouched) {
                m_made.days.push_back(untouchedDay(m_request.days[i]));
            } else {
                m_made.days.push_back(drawnDay(i, taskDay, plan.crewDays[taskDay]));
                ++taskDay;
            }
        }
        for (const LeftOutJob &left : plan.leftOut) {
            m_made.leftOut.push_back({m_request.backlog[m_model.jobs[left.job]].stop.valve,
                                      backlogLeftOutText(m_request, m_model, left)});
        }
        if (m_model.task.crewDays.empty()) {
            for (const std::size_t job : m_model.jobs) {
                m_made.leftOut.push_back({m_request.backlog[job].stop.valve,
                                          QStringLiteral("There is no day to plan it on.")});
            }
        }
        for (const ComingDay &day : m_made.days) {
            m_made.priority += day.plan.priority;
            m_made.driveSeconds += day.plan.driveSeconds;
        }
        return std::move(m_made);
    }

    static void noteUncounted(DayPlan &plan, std::size_t count)
    {
        if (count > 0) {
            plan.notes << QStringLiteral("%1 of this day's stops are not among the valves to plan, "
                                         "or have no place: they stay, and no time is counted for "
                                         "them.")
                              .arg(count);
        }
    }

    /// The stops that the backlog knows, as the day sees them.
    std::vector<StopCandidate> knownStops(const CrewDayRequest &day) const
    {
        std::vector<StopCandidate> stops;
        for (const ValveId &valve : day.round.stops) {
            if (const auto known = m_backlogOf.constFind(valve); known != m_backlogOf.cend()) {
                stops.push_back(candidateOn(day, m_request.backlog[*known], m_request.busyHours));
            }
        }
        return stops;
    }

    ComingDay untouchedDay(const CrewDayRequest &day) const
    {
        DayPlan plan;
        const std::vector<StopCandidate> known = knownStops(day);
        noteUncounted(plan, day.round.stops.size() - known.size());
        const std::vector<StopCandidate> stops = placedWhereTheCrewIs(plan, day.round, known);
        const TravelTable table = travelTable(m_graph, placesOf(day.round, stops), m_settings);
        timeStops(plan, day.round, stops, false, table);
        noteOffStreet(plan, m_graph, table, stops, m_settings);
        return {day.round, std::move(plan)};
    }

    ComingDay drawnDay(std::size_t index, std::size_t taskDay, const CrewDayPlan &drawn)
    {
        const CrewDayRequest &day = m_request.days[index];
        std::vector<std::size_t> places{m_model.starts[taskDay], m_model.finishes[taskDay]};
        std::vector<StopCandidate> stops;
        for (const PlannedJob &planned : drawn.jobs) {
            places.push_back(m_model.task.jobs[planned.job].place);
            stops.push_back(candidateOn(day, m_request.backlog[m_model.jobs[planned.job]],
                                        m_request.busyHours));
        }
        const TravelTable table = partOf(m_table, places);
        const std::vector<std::size_t> order = standingOf(day) == DayStanding::Told
                                                   ? toldOrder(day, stops, table)
                                                   : openOrder(day, stops, table);
        for (const std::size_t stop : order) {
            const auto home = m_model.homes.constFind(stops[stop].valve);
            m_made.moved += home != m_model.homes.cend() && *home != index ? 1 : 0;
        }
        ComingDay made = timedInOrder(day, stops, order, table);
        if (standingOf(day) == DayStanding::Told) {
            noteUncounted(made.plan, keepStops(made.round.stops, day.round.stops));
        }
        return made;
    }

    /// Puts the old stops that are not among the new ones back, each behind the one before it.
    /// Says how many.
    static std::size_t keepStops(std::vector<ValveId> &stops, const std::vector<ValveId> &old)
    {
        std::size_t kept = 0;
        auto before = stops.begin();
        for (const ValveId &valve : old) {
            const auto found = std::find(stops.begin(), stops.end(), valve);
            if (found != stops.end()) {
                before = found + 1;
            } else {
                before = stops.insert(before, valve) + 1;
                ++kept;
            }
        }
        return kept;
    }

    /// The best order with what is held by hand in its place; where nothing is, the search's own
    /// order, or the shortest drive where that keeps all hours and ends earlier.
    static std::vector<std::size_t> openOrder(const CrewDayRequest &day,
                                              const std::vector<StopCandidate> &stops,
                                              const TravelTable &table)
    {
        const TimedDay timed = timedDay(day.round, stops);
        if (!heldValves(day.round).isEmpty()) {
            return bestOrderOfDay(day.round, timed, stops, table);
        }
        std::vector<std::size_t> drawn(stops.size());
        std::iota(drawn.begin(), drawn.end(), std::size_t{0});
        std::vector<std::size_t> shortest =
            bestOrder(table.seconds, orderRequestFor({}, drawn)).stops;
        for (std::size_t &place : shortest) {
            place -= DayPlaces::firstStop;
        }
        return scoreOf(table, timed, shortest) < scoreOf(table, timed, drawn) ? shortest : drawn;
    }

    /// The stops that people were told of, in the order that they know, with the others put where
    /// they cost least; those that then do not fit are left out.
    std::vector<std::size_t> toldOrder(const CrewDayRequest &day,
                                       const std::vector<StopCandidate> &stops,
                                       const TravelTable &table)
    {
        std::vector<std::size_t> order;
        std::vector<char> isOld(stops.size(), 0);
        for (const ValveId &valve : day.round.stops) {
            for (std::size_t i = 0; i < stops.size(); ++i) {
                if (stops[i].valve == valve) {
                    order.push_back(i);
                    isOld[i] = 1;
                }
            }
        }
        const TimedDay timed = timedDay(day.round, stops);
        auto score = scoreOf(table, timed, order);
        for (std::size_t added = 0; added < stops.size(); ++added) {
            if (isOld[added] != 0) {
                continue;
            }
            std::vector<std::size_t> best;
            std::tuple<std::size_t, double> least{std::get<0>(score), unreachable};
            for (std::size_t at = 0; at <= order.size(); ++at) {
                std::vector<std::size_t> longer = order;
                longer.insert(longer.begin() + static_cast<std::ptrdiff_t>(at), added);
                if (const auto found = scoreOf(table, timed, longer); found < least) {
                    least = found;
                    best = std::move(longer);
                }
            }
            if (best.empty()) {
                m_made.leftOut.push_back(
                    {stops[added].valve,
                     QStringLiteral("Fits %1 (%2) only in another order than people were told.")
                         .arg(day.round.date.toString(Qt::ISODate), day.round.crew)});
                continue;
            }
            order = std::move(best);
            score = least;
        }
        return order;
    }

    ComingDay timedInOrder(const CrewDayRequest &day, const std::vector<StopCandidate> &stops,
                           const std::vector<std::size_t> &order, const TravelTable &table) const
    {
        std::vector<StopCandidate> ordered;
        std::vector<std::size_t> places{DayPlaces::start, DayPlaces::finish};
        ComingDay made{day.round, {}};
        made.round.stops.clear();
        for (const std::size_t stop : order) {
            ordered.push_back(stops[stop]);
            places.push_back(DayPlaces::firstStop + stop);
            made.round.stops.push_back(stops[stop].valve);
        }
        const TravelTable part = partOf(table, places);
        timeStops(made.plan, made.round, ordered, false, part);
        noteOffStreet(made.plan, m_graph, part, ordered, m_settings);
        return made;
    }

    const DriveGraph &m_graph;
    const ComingDaysRequest &m_request;
    const TravelSettings &m_settings;
    ComingDaysModel m_model;
    TravelTable m_table;
    QHash<ValveId, std::size_t> m_backlogOf;
    ComingDays m_made;
};

} // namespace

Result<ComingDays> planComingDays(const DriveGraph &graph, const ComingDaysRequest &request,
                                  const TravelSettings &settings, const Progress &progress)
{
    if (const Status status = checkDays(request.days); !status) {
        return tl::unexpected<Error>(status.error());
    }
    return Drawer(graph, request, settings).draw(progress);
}

} // namespace keyround
