// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/plan.h"

#include "core/dayplan/choose_stops.h"
#include "core/dayplan/day_clock.h"
#include "core/dayplan/held_stops.h"
#include "core/dayplan/left_out_words.h"
#include "core/routing/lower_bound.h"

#include <algorithm>
#include <iterator>
#include <numeric>
#include <utility>

namespace keyround {

namespace {

/// Candidates that may be planned, those that must go by hand among them; the others are left out
/// with what bars them.
std::vector<StopCandidate> sortOut(DayPlan &plan, const Round &day,
                                   const std::vector<StopCandidate> &candidates)
{
    const QSet<ValveId> held = heldValves(day);
    std::vector<StopCandidate> open;
    for (const StopCandidate &candidate : candidates) {
        StopCandidate made = candidate;
        made.mustGo = candidate.mustGo || day.mustGo.contains(candidate.valve) ||
                      held.contains(candidate.valve);
        const QString bar = barText(made, day.date);
        if (!bar.isEmpty() && (!made.mustGo || !made.place.isValid())) {
            plan.leftOut.push_back({made.valve, bar});
            continue;
        }
        if (!bar.isEmpty()) {
            plan.notes << QStringLiteral("Valve %1 is planned by hand all the same: %2")
                              .arg(made.number, bar);
        }
        open.push_back(std::move(made));
    }
    // Those whose hours no crew could meet need no ways.
    const TimedDay timed = timedDay(day, open);
    std::vector<StopCandidate> may;
    for (std::size_t i = 0; i < open.size(); ++i) {
        const bool fitsHours = open[i].hours.closedBy.empty() || mayBeWorked(timed, i);
        if (open[i].mustGo || fitsHours) {
            may.push_back(std::move(open[i]));
        } else {
            plan.leftOut.push_back({open[i].valve, neverOpenText(open[i])});
        }
    }
    return may;
}

/// How little driving the plan's stops could take in any order that keeps what is held.
double leastDriving(const Round &day, const std::vector<StopCandidate> &stops,
                    const std::vector<std::size_t> &order, const TravelTable &table)
{
    return lowerBound(table.seconds, orderRequestFor(heldStops(day, stops), order));
}

void noteOverrun(DayPlan &plan, const Round &day)
{
    if (plan.overrunsShift) {
        plan.notes << QStringLiteral("The day does not fit the shift, which ends at %1.")
                          .arg(clockText(day.shift.to));
    }
}

} // namespace

Result<DayPlan> planDay(const DriveGraph &graph, const Round &day,
                        const std::vector<StopCandidate> &candidates,
                        const TravelSettings &settings, const Progress &progress)
{
    if (const Status status = checkDay(day); !status) {
        return tl::unexpected<Error>(status.error());
    }
    DayPlan plan;
    const std::vector<StopCandidate> open = sortOut(plan, day, candidates);
    auto chosen = chooseStops(graph, day, open, settings, progress);
    if (!chosen) {
        return tl::unexpected<Error>(std::move(chosen).error());
    }
    fillTimes(plan, chosen->timed, chosen->pool, chosen->order, chosen->table);
    plan.leastDriveSeconds = leastDriving(day, chosen->pool, chosen->order, chosen->table);
    std::move(chosen->leftOut.begin(), chosen->leftOut.end(), std::back_inserter(plan.leftOut));
    noteOffStreet(plan, graph, chosen->table, chosen->pool, settings);
    noteOverrun(plan, day);
    return plan;
}

std::vector<StopCandidate> placedWhereTheCrewIs(DayPlan &plan, const Round &day,
                                                const std::vector<StopCandidate> &stops)
{
    std::vector<StopCandidate> placed = stops;
    GeoPoint here = day.start;
    for (StopCandidate &stop : placed) {
        if (!stop.place.isValid()) {
            plan.notes << QStringLiteral("Valve %1 has no place on the map: no driving is counted "
                                         "for it. Give it a place.")
                              .arg(stop.number);
            stop.place = here;
        }
        here = stop.place;
    }
    return placed;
}

void timeStops(DayPlan &plan, const Round &day, const std::vector<StopCandidate> &stops,
               bool reorder, const TravelTable &table)
{
    const TimedDay timed = timedDay(day, stops);
    std::vector<std::size_t> order(stops.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    if (reorder) {
        order = bestOrderOfDay(day, timed, stops, table);
    }
    for (const StopCandidate &stop : stops) {
        const QString bar = barText(stop, day.date);
        if (!bar.isEmpty()) {
            plan.notes << QStringLiteral("Valve %1: %2").arg(stop.number, bar);
        }
    }
    fillTimes(plan, timed, stops, order, table);
    plan.leastDriveSeconds = leastDriving(day, stops, order, table);
    noteOverrun(plan, day);
}

Result<DayPlan> timeRound(const DriveGraph &graph, const Round &day,
                          const std::vector<StopCandidate> &stops, bool reorder,
                          const TravelSettings &settings)
{
    if (const Status status = checkDay(day); !status) {
        return tl::unexpected<Error>(status.error());
    }
    DayPlan plan;
    const std::vector<StopCandidate> placed = placedWhereTheCrewIs(plan, day, stops);
    const TravelTable table = travelTable(graph, placesOf(day, placed), settings);
    timeStops(plan, day, placed, reorder, table);
    noteOffStreet(plan, graph, table, placed, settings);
    return plan;
}

} // namespace keyround
