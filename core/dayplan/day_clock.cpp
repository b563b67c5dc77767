// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/day_clock.h"

#include "core/common/units.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

/// The time so many seconds after the shift begins; never past the end of the day.
QTime timeAfter(const QTime &from, double seconds)
{
    const double left = static_cast<double>(from.secsTo(QTime(23, 59, 59)));
    return from.addSecs(static_cast<int>(std::lround(std::min(seconds, left))));
}

QString nameOf(std::size_t place, const std::vector<StopCandidate> &stops)
{
    if (place == DayPlaces::start) {
        return QStringLiteral("The start place");
    }
    if (place == DayPlaces::finish) {
        return QStringLiteral("The finish place");
    }
    return QStringLiteral("Valve %1").arg(stops[place - DayPlaces::firstStop].number);
}

} // namespace

Status checkDay(const Round &day)
{
    if (!day.start.isValid()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("The round has no start place. Give the place where the crew "
                                   "begins its day, then plan again."));
    }
    if (!day.shift.from.isValid() || !day.shift.to.isValid() || day.shift.from >= day.shift.to) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("The shift must begin before it ends, on one day; it was given "
                                   "as %1 to %2. Set its hours, then plan again.")
                        .arg(day.shift.from.toString(QStringLiteral("HH:mm")),
                             day.shift.to.toString(QStringLiteral("HH:mm"))));
    }
    return {};
}

GeoPoint finishOf(const Round &day)
{
    return day.finish.isValid() ? day.finish : day.start;
}

double shiftSeconds(const Round &day)
{
    return day.shift.from.secsTo(day.shift.to);
}

void fillTimes(DayPlan &plan, const Round &day, const std::vector<StopCandidate> &stops,
               const std::vector<std::size_t> &order, const TravelTable &table)
{
    plan.travel = table.kind;
    double clock = 0;
    std::size_t here = DayPlaces::start;
    const auto drive = [&](std::size_t there, double &seconds, double &metres) {
        seconds = table.seconds.at(here, there);
        metres = table.metres.at(here, there);
        plan.driveSeconds += seconds;
        plan.driveMetres += metres;
        clock += seconds;
        here = there;
    };
    for (const std::size_t stop : order) {
        PlannedStop planned;
        planned.valve = stops[stop].valve;
        planned.stopMinutes = stops[stop].minutes;
        drive(DayPlaces::firstStop + stop, planned.driveSeconds, planned.driveMetres);
        planned.arrive = timeAfter(day.shift.from, clock);
        clock += stops[stop].minutes * 60.0;
        planned.leave = timeAfter(day.shift.from, clock);
        plan.stops.push_back(planned);
    }
    drive(DayPlaces::finish, plan.returnSeconds, plan.returnMetres);
    plan.finish = timeAfter(day.shift.from, clock);
    plan.overrunsShift = clock > shiftSeconds(day) + 0.5; // half a second rounds to the end itself
    if (clock > day.shift.from.secsTo(QTime(23, 59, 59))) {
        plan.notes << QStringLiteral("The day runs past midnight: it would take %1. Times after "
                                     "that stand at 23:59. Split it into several rounds.")
                          .arg(durationText({clock}));
    }
}

void noteOffStreet(DayPlan &plan, const DriveGraph &graph, const TravelTable &table,
                   const std::vector<StopCandidate> &stops, const TravelSettings &settings)
{
    if (graph.isEmpty()) {
        plan.notes << QStringLiteral("No streets are loaded: driving is an estimate, straight "
                                     "lines times %1.")
                          .arg(settings.detourFactor);
        return;
    }
    for (const std::size_t place : table.offStreet) {
        const bool counts =
            place < DayPlaces::firstStop ||
            std::any_of(plan.stops.begin(), plan.stops.end(), [&](const PlannedStop &stop) {
                return stop.valve == stops[place - DayPlaces::firstStop].valve;
            });
        if (counts) {
            plan.notes << QStringLiteral("%1 lies more than %2 m from every street that can be "
                                         "driven to; the legs to and from it are estimates.")
                              .arg(nameOf(place, stops))
                              .arg(settings.snapMetres, 0, 'f', 0);
        }
    }
}

} // namespace keyround
