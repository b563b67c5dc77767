// SPDX-License-Identifier: GPL-3.0-or-later
// What a planned day comes to, for laying two plans side by side. Minutes are exact sums, not
// rounded; the breaks are in none of them.
#pragma once

#include "core/dayplan/plan.h"

namespace keyround {

struct PlanFigures
{
    int valves = 0;
    double driveMinutes = 0; ///< the way back among them
    double workMinutes = 0;
    double waitMinutes = 0;
    double priority = 0;
    QTime finish;
    friend bool operator==(const PlanFigures &, const PlanFigures &) = default;
};

[[nodiscard]] inline PlanFigures figuresOf(const DayPlan &plan)
{
    PlanFigures figures;
    figures.valves = static_cast<int>(plan.stops.size());
    figures.driveMinutes = plan.driveSeconds / 60.0;
    for (const PlannedStop &stop : plan.stops) {
        figures.workMinutes += stop.stopMinutes;
    }
    figures.waitMinutes = plan.waitSeconds / 60.0;
    figures.priority = plan.priority;
    figures.finish = plan.finish;
    return figures;
}

} // namespace keyround
