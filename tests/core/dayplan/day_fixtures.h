// SPDX-License-Identifier: GPL-3.0-or-later
// Days and stops for the tests of the day plan, on an invented place.
#pragma once

#include "core/dayplan/plan.h"

#include <algorithm>
#include <vector>

namespace keyround::tests {

inline const LocalPlane inventedPlace(GeoPoint{41.0, -90.0});
inline const QDate monday(2026, 5, 4);

inline GeoPoint at(double x, double y)
{
    return inventedPlace.toGeo(PlanePoint{x, y});
}

inline ValveId valveId(unsigned number)
{
    return {uuid7FromParts(1700000000000, 0, number)};
}

inline StopCandidate candidate(unsigned number, GeoPoint place, double minutes, double priority)
{
    return {valveId(number), QStringLiteral("V-%1").arg(number), place, minutes, priority};
}

inline Round dayFrom(GeoPoint start, QTime from, QTime to)
{
    Round day;
    day.date = monday;
    day.shift = {from, to};
    day.start = start;
    day.finish = start;
    return day;
}

inline std::vector<ValveId> idsOf(const DayPlan &plan)
{
    std::vector<ValveId> ids;
    for (const PlannedStop &stop : plan.stops) {
        ids.push_back(stop.valve);
    }
    return ids;
}

/// No work from `from` to `to` in Main Street, on any day.
inline WorkHours closedBetween(QTime from, QTime to)
{
    BusyHours rule;
    rule.street = QStringLiteral("Main Street");
    rule.from = from;
    rule.to = to;
    return workHours({rule}, rule.street, StreetClass::Unknown, monday);
}

inline QString reasonOf(const DayPlan &plan, const ValveId &valve)
{
    const auto found = std::find_if(plan.leftOut.begin(), plan.leftOut.end(),
                                    [&](const LeftOut &left) { return left.valve == valve; });
    return found == plan.leftOut.end() ? QString() : found->reason;
}

} // namespace keyround::tests
