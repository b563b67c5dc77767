// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/crew_days_report.h"

#include "core/routing/timed_route.h"

#include <cmath>

namespace keyround {

namespace {

/// The clock of timed_route.h on the places of one crew-day.
CrewDayPlan timesOf(const BacklogModel &model, const CrewRoute &route)
{
    CrewDayPlan plan;
    TimedShift shift = model.task().crewDays[route.crewDay()].shift;
    plan.finish = shift.begin;
    if (route.jobs().empty()) {
        return plan;
    }
    std::vector<std::size_t> places{shift.start};
    std::vector<TimedStop> stops;
    std::vector<std::size_t> order;
    for (const std::uint32_t job : route.jobs()) {
        const BacklogJob &what = model.job(job);
        order.push_back(stops.size());
        stops.push_back({places.size(), what.service, what.priority, what.mustGo,
                         model.windows(job, route.crewDay())});
        places.push_back(what.place);
        plan.workSeconds += what.service;
    }
    shift.start = 0;
    if (shift.finish) {
        places.push_back(*shift.finish);
        shift.finish = places.size() - 1;
    }
    Matrix seconds(places.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        for (std::size_t j = 0; j < places.size(); ++j) {
            seconds.set(i, j, model.task().seconds.at(places[i], places[j]));
        }
    }
    const RouteTimes times = timesAlong(seconds, shift, stops, order);
    for (const RouteStop &stop : times.stops) {
        plan.jobs.push_back({route.jobs()[stop.stop], stop.arrive, stop.begin, stop.leave});
    }
    plan.driveSeconds = times.drive;
    plan.finish = times.finish;
    return plan;
}

bool isOpen(const BacklogModel &model, std::size_t job, std::size_t crewDay)
{
    const TimedShift &shift = model.task().crewDays[crewDay].shift;
    const double begin = firstBegin(model.windows(job, crewDay), shift.begin);
    return std::isfinite(begin) && begin <= shift.end;
}

bool hasWay(const BacklogModel &model, std::size_t job, std::size_t crewDay)
{
    const TimedShift &shift = model.task().crewDays[crewDay].shift;
    const std::size_t place = model.job(job).place;
    const SecondsTable &seconds = model.task().seconds;
    return std::isfinite(seconds.at(shift.start, place)) &&
           (!shift.finish || std::isfinite(seconds.at(place, *shift.finish)));
}

class Causes
{
public:
    Causes(const BacklogModel &model, const std::vector<CrewRoute> &routes)
        : m_model(model), m_routes(routes)
    {
        for (std::size_t d = 0; d < model.dayCount(); ++d) {
            m_free.emplace_back(model, d);
        }
    }

    [[nodiscard]] LeftOutJob of(std::size_t job) const
    {
        LeftOutJob left;
        left.job = job;
        const auto any = [&](auto holds) {
            for (std::size_t d = 0; d < m_model.dayCount(); ++d) {
                if (holds(d)) {
                    return true;
                }
            }
            return false;
        };
        const auto mayBe = [&](std::size_t d) {
            return m_model.placeCost(job, d) < BacklogModel::unplaceable;
        };
        const auto skilled = [&](std::size_t d) {
            return (m_model.job(job).skillsNeeded & ~m_model.task().crewDays[d].skills) == 0;
        };
        if (!any(skilled)) {
            left.cause = BacklogCause::NoSkill;
        } else if (!any(mayBe)) {
            left.cause = BacklogCause::NotBefore;
        } else if (!any([&](std::size_t d) { return mayBe(d) && hasWay(m_model, job, d); })) {
            left.cause = BacklogCause::NoWay;
        } else if (!any([&](std::size_t d) { return mayBe(d) && isOpen(m_model, job, d); })) {
            left.cause = BacklogCause::NoWindow;
        } else {
            nearest(left);
        }
        return left;
    }

private:
    /// Full or, where it does not even fit a free crew-day, too long (or never in its window).
    void nearest(LeftOutJob &left) const
    {
        double alone = unreachable;
        double least = unreachable;
        std::optional<std::size_t> aloneOn;
        for (std::size_t d = 0; d < m_model.dayCount(); ++d) {
            if (m_model.placeCost(left.job, d) == BacklogModel::unplaceable) {
                continue;
            }
            const double free = m_free[d].missingFor(left.job);
            if (free < alone) {
                alone = free;
                aloneOn = d;
            }
            const double missing = free > 0 ? unreachable : m_routes[d].missingFor(left.job);
            if (free <= 0 && (missing < least || !left.crewDay)) {
                least = missing;
                left.crewDay = d;
            }
        }
        if (alone > 0) {
            left.cause = std::isfinite(alone) ? BacklogCause::TooLong : BacklogCause::NoWindow;
            left.crewDay = aloneOn;
            least = alone;
        }
        left.secondsMissing = std::isfinite(least) ? least : 0.0;
    }

    const BacklogModel &m_model;
    const std::vector<CrewRoute> &m_routes;
    std::vector<CrewRoute> m_free; ///< the crew-days without a job
};

void tellSums(const BacklogModel &model, BacklogPlan &plan)
{
    const BacklogTask &task = model.task();
    for (std::size_t crew = 0; crew < model.crewCount(); ++crew) {
        plan.loads.push_back({});
        plan.loads.back().crew = model.crewNumber(crew);
    }
    for (std::size_t d = 0; d < plan.crewDays.size(); ++d) {
        const CrewDayPlan &crewDay = plan.crewDays[d];
        CrewLoad &load = plan.loads[model.crewOf(d)];
        load.jobs += crewDay.jobs.size();
        load.driveSeconds += crewDay.driveSeconds;
        load.workSeconds += crewDay.workSeconds;
        load.shiftSeconds += task.crewDays[d].shift.end - task.crewDays[d].shift.begin;
        plan.done += crewDay.jobs.size();
        plan.driveSeconds += crewDay.driveSeconds;
        for (const PlannedJob &planned : crewDay.jobs) {
            const BacklogJob &job = task.jobs[planned.job];
            plan.priority += job.priority;
            if (job.plannedCrewDay &&
                task.crewDays[*job.plannedCrewDay].day != task.crewDays[d].day) {
                ++plan.moved;
            }
        }
    }
}

} // namespace

BacklogPlan tellPlan(const BacklogModel &model, const std::vector<CrewRoute> &routes)
{
    BacklogPlan plan;
    std::vector<char> done(model.jobCount(), 0);
    for (const CrewRoute &route : routes) {
        plan.crewDays.push_back(timesOf(model, route));
        for (const std::uint32_t job : route.jobs()) {
            done[job] = 1;
        }
    }
    const Causes causes(model, routes);
    for (std::size_t job = 0; job < model.jobCount(); ++job) {
        if (done[job] == 0) {
            plan.leftOut.push_back(causes.of(job));
        }
    }
    plan.toldMoved = model.toldMoved();
    tellSums(model, plan);
    return plan;
}

} // namespace keyround
