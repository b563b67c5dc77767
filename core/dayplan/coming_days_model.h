// SPDX-License-Identifier: GPL-3.0-or-later
// The coming days as planBacklog() takes them: places, crew-days and jobs, and which of the days
// and valves these stand for.
#pragma once

#include "core/dayplan/coming_days.h"
#include "core/routing/crew_days.h"

#include <QHash>

#include <vector>

namespace keyround {

/// How the coming days treat a day that was handed in.
enum class DayStanding {
    Untouched, ///< under way or finished
    Told,      ///< its stops stay, in their order; others may be added
    Open,
};
[[nodiscard]] DayStanding standingOf(const CrewDayRequest &day);

struct ComingDaysModel
{
    BacklogTask task;
    std::vector<GeoPoint> places;      ///< of the task's table: yards first, then the jobs
    std::vector<std::size_t> days;     ///< task crew-day -> day of the request
    std::vector<std::size_t> jobs;     ///< task job -> backlog candidate
    std::vector<std::size_t> starts;   ///< by task crew-day: index of places
    std::vector<std::size_t> finishes; ///< likewise
    QHash<ValveId, std::size_t> homes; ///< the day of the request that has the valve already
    std::vector<LeftOut> leftOut;      ///< barred whatever the day
    std::vector<QDate> dates;          ///< of the working days, in order; CrewDay::day counts them
};

/// The task's table is not filled: fill it for `places`.
[[nodiscard]] ComingDaysModel comingDaysModel(const ComingDaysRequest &request);

/// A candidate as one day sees it: the hours of its street, the skills that the crew lacks.
[[nodiscard]] StopCandidate candidateOn(const CrewDayRequest &day, const BacklogCandidate &from,
                                        const std::vector<BusyHours> &rules);

/// Why planBacklog() left a job out, and what would let it in.
[[nodiscard]] QString backlogLeftOutText(const ComingDaysRequest &request,
                                         const ComingDaysModel &model, const LeftOutJob &left);

} // namespace keyround
