// SPDX-License-Identifier: GPL-3.0-or-later
// The due backlog over the working days to come and all crews: which valves on which day with
// which crew, each day in its best order. Days that people were told of keep their stops; the
// other days give way, and as little as possible moves that need not.
#pragma once

#include "core/dayplan/crew.h"
#include "core/dayplan/plan.h"

namespace keyround {

/// One crew on one day, as a round without stops, or with those it has now.
struct CrewDayRequest
{
    Round round; ///< date, crew, shift, places, breaks; stops: as planned before
    QStringList skills;
    bool isFixed = false; ///< under way, or told: its stops stay, others may be added to a told one
};

/// What drawing up wants of a valve on whatever day; the hours of its street depend on the day.
struct BacklogCandidate
{
    StopCandidate stop; ///< `hours` is not read
    QString street;     ///< the name of the street it is reached from; may be empty
    StreetClass kind = StreetClass::Unknown;
};

struct ComingDaysRequest
{
    std::vector<CrewDayRequest> days; ///< by date, then crew
    std::vector<BacklogCandidate> backlog;
    std::vector<BusyHours> busyHours;
    std::size_t effort = 0; ///< counted search steps; 0: the usual
};

struct ComingDay
{
    Round round; ///< the request's, with its stops in order
    DayPlan plan;
};

struct ComingDays
{
    std::vector<ComingDay> days;  ///< one for each that was asked for
    std::vector<LeftOut> leftOut; ///< why, and what would let it in
    double priority = 0;
    double driveSeconds = 0;
    int moved = 0; ///< valves that were planned before and are on another day or crew now
};

/// Cancelling keeps the best found so far once there is a whole plan, and is an error before.
[[nodiscard]] Result<ComingDays> planComingDays(const DriveGraph &graph,
                                                const ComingDaysRequest &request,
                                                const TravelSettings &settings,
                                                const Progress &progress = {});

} // namespace keyround
