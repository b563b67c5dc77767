// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/plan.h"

#include "core/dayplan/choose_stops.h"
#include "core/dayplan/day_clock.h"
#include "core/routing/stop_order.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace keyround {

namespace {

std::vector<GeoPoint> placesOf(const Round &day, const std::vector<StopCandidate> &stops)
{
    std::vector<GeoPoint> places{day.start, finishOf(day)};
    for (const StopCandidate &stop : stops) {
        places.push_back(stop.place);
    }
    return places;
}

Error cancelled()
{
    return {ErrorCode::Cancelled,
            QStringLiteral("Planning was stopped. The round is as it was before.")};
}

/// The highest priorities first; equal ones keep the caller's order.
std::vector<StopCandidate> byPriority(std::vector<StopCandidate> candidates)
{
    std::stable_sort(
        candidates.begin(), candidates.end(),
        [](const StopCandidate &a, const StopCandidate &b) { return a.priority > b.priority; });
    return candidates;
}

/// How many of the candidates, from the first on, are worth a table of ways: twice what could fit
/// the shift if no driving were needed, so that there is a choice. The table costs the square.
std::size_t poolSize(const std::vector<StopCandidate> &candidates, double shiftSeconds)
{
    constexpr std::size_t least = 60;
    double seconds = 0;
    std::size_t count = 0;
    while (count < candidates.size() && (count < least || seconds <= 2.0 * shiftSeconds)) {
        constexpr double quickestStop = 60.0;
        seconds += std::max(candidates[count].minutes * 60.0, quickestStop);
        ++count;
    }
    return count;
}

QString missingText(double seconds)
{
    return QStringLiteral("Does not fit the shift: %1 min are missing.")
        .arg(std::max(1L, static_cast<long>(std::ceil(seconds / 60.0 - 1e-9))));
}

/// One pass over the candidates: a pool with a table of ways, from which stops are chosen.
struct DayDraft
{
    std::vector<StopCandidate> pool;
    std::size_t kept = 0; ///< the first of the pool, chosen by an earlier pass, in their order
    TravelTable table;
    Choice choice;
};

/// Makes a pool of the stops chosen so far and the next candidates that no table was made for, as
/// far as they may still fit. False when there are none.
bool refillPool(DayDraft &draft, std::vector<StopCandidate> &waiting, double shiftSeconds)
{
    constexpr std::size_t most = 60;
    std::vector<StopCandidate> pool;
    for (const std::size_t stop : draft.choice.order) {
        pool.push_back(draft.pool[stop]);
    }
    const std::size_t kept = pool.size();
    // A stop that takes longer than what is left of the shift cannot fit, wherever it is.
    const double left = shiftSeconds - draft.choice.seconds;
    std::vector<StopCandidate> later;
    for (StopCandidate &candidate : waiting) {
        const bool mayFit = pool.size() < kept + most && candidate.minutes * 60.0 <= left;
        (mayFit ? pool : later).push_back(std::move(candidate));
    }
    waiting = std::move(later);
    if (pool.size() == kept) {
        return false;
    }
    draft.pool = std::move(pool);
    draft.kept = kept;
    return true;
}

void leaveOutRest(DayPlan &plan, const DayDraft &draft, double shiftSeconds)
{
    for (std::size_t i = 0; i < draft.pool.size(); ++i) {
        const auto &order = draft.choice.order;
        if (std::find(order.begin(), order.end(), i) != order.end()) {
            continue;
        }
        const double day =
            draft.choice.seconds + insertionSeconds(draft.table, draft.pool, order, i);
        plan.leftOut.push_back(
            {draft.pool[i].valve,
             std::isfinite(day)
                 ? missingText(day - shiftSeconds)
                 : QStringLiteral("No way leads there and back on the streets that are loaded.")});
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
    std::vector<StopCandidate> waiting;
    for (const StopCandidate &candidate : byPriority(candidates)) {
        if (candidate.place.isValid()) {
            waiting.push_back(candidate);
        } else {
            plan.leftOut.push_back(
                {candidate.valve, QStringLiteral("Has no place on the map: give it one first.")});
        }
    }
    const double shift = shiftSeconds(day);
    const auto poolEnd = waiting.begin() + static_cast<std::ptrdiff_t>(poolSize(waiting, shift));
    DayDraft draft;
    draft.pool.assign(waiting.begin(), poolEnd);
    waiting.erase(waiting.begin(), poolEnd);
    while (true) {
        if (!report(progress, 0.0, QStringLiteral("Measuring the ways between stops"))) {
            return tl::unexpected<Error>(cancelled());
        }
        draft.table = travelTable(graph, placesOf(day, draft.pool), settings);
        auto choice = chooseStops(draft.table, draft.pool, draft.kept, shift, progress);
        if (!choice) {
            return tl::unexpected<Error>(cancelled());
        }
        draft.choice = std::move(*choice);
        DayDraft next = draft;
        if (!refillPool(next, waiting, shift)) {
            break;
        }
        leaveOutRest(plan, draft, shift);
        draft = std::move(next);
    }
    fillTimes(plan, timedDay(day, draft.pool), draft.pool, draft.choice.order, draft.table);
    leaveOutRest(plan, draft, shift);
    for (const StopCandidate &candidate : waiting) {
        plan.leftOut.push_back({candidate.valve, missingText(draft.choice.seconds +
                                                             candidate.minutes * 60.0 - shift)});
    }
    noteOffStreet(plan, graph, draft.table, draft.pool, settings);
    return plan;
}

Result<DayPlan> timeRound(const DriveGraph &graph, const Round &day,
                          const std::vector<StopCandidate> &stops, bool reorder,
                          const TravelSettings &settings)
{
    if (const Status status = checkDay(day); !status) {
        return tl::unexpected<Error>(status.error());
    }
    DayPlan plan;
    // A stop without a place counts as being where the crew is: its minutes, but no driving.
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
    const TravelTable table = travelTable(graph, placesOf(day, placed), settings);
    std::vector<std::size_t> order(placed.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    if (reorder) {
        OrderRequest request;
        request.start = DayPlaces::start;
        request.finish = DayPlaces::finish;
        for (const std::size_t stop : order) {
            request.stops.push_back(DayPlaces::firstStop + stop);
        }
        order = bestOrder(table.seconds, request).stops;
        for (std::size_t &place : order) {
            place -= DayPlaces::firstStop;
        }
    }
    fillTimes(plan, timedDay(day, placed), placed, order, table);
    noteOffStreet(plan, graph, table, placed, settings);
    if (plan.overrunsShift) {
        plan.notes << QStringLiteral("The day does not fit the shift, which ends at %1.")
                          .arg(day.shift.to.toString(QStringLiteral("HH:mm")));
    }
    return plan;
}

} // namespace keyround
