// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/day_clock.h"

#include "core/common/units.h"
#include "core/routing/timed_route.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace keyround {

namespace {

constexpr double lastSecond = 24 * 3600.0 - 1;

double secondOf(const QTime &time)
{
    return time.msecsSinceStartOfDay() / 1000.0;
}

/// Rounded to the nearest second; never past the end of the day.
QTime clockAt(double second)
{
    const long whole = std::lround(std::min(second, lastSecond));
    return QTime::fromMSecsSinceStartOfDay(static_cast<int>(whole) * 1000);
}

long wholeMinutes(double minutes)
{
    return std::lround(minutes);
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

QString clockText(const QTime &time)
{
    return time.toString(QStringLiteral("HH:mm"));
}

QString clockText(double second)
{
    return clockText(clockAt(second));
}

QString minutesText(double seconds)
{
    const long minutes = std::max(1L, static_cast<long>(std::ceil(seconds / 60.0 - 1e-9)));
    return minutes == 1 ? QStringLiteral("1 minute") : QStringLiteral("%1 minutes").arg(minutes);
}

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

double worthOf(const StopCandidate &candidate)
{
    return std::max(candidate.priority, 0.0) + worthOfAnyStop;
}

std::optional<std::vector<TimeWindow>> windowsFor(const WorkHours &hours, double workSeconds)
{
    std::vector<TimeWindow> windows;
    if (hours.closedBy.empty()) {
        return windows;
    }
    for (const WorkSpan &span : hours.open) {
        // Open until midnight says nothing of what comes after: work may run past it.
        const bool untilMidnight = secondOf(span.to) >= lastSecond;
        const double to = untilMidnight ? unreachable : secondOf(span.to) - workSeconds;
        if (secondOf(span.from) <= to) {
            windows.push_back({secondOf(span.from), to});
        }
    }
    if (windows.empty()) {
        return {};
    }
    return windows;
}

TimedDay timedDay(const Round &day, const std::vector<StopCandidate> &stops)
{
    TimedDay timed;
    timed.shift.start = DayPlaces::start;
    timed.shift.finish = DayPlaces::finish;
    timed.shift.begin = secondOf(day.shift.from);
    timed.shift.end = secondOf(day.shift.to);
    for (const ShiftBreak &pause : day.breaks) {
        if (pause.minutes > 0 && pause.earliest.isValid()) {
            const double earliest = secondOf(pause.earliest);
            const double latest = pause.latest.isValid() ? secondOf(pause.latest) : earliest;
            timed.shift.breaks.push_back(
                {earliest, std::max(earliest, latest), pause.minutes * 60.0});
        }
    }
    for (std::size_t i = 0; i < stops.size(); ++i) {
        TimedStop stop;
        stop.place = DayPlaces::firstStop + i;
        stop.service = stops[i].minutes * 60.0;
        stop.priority = worthOf(stops[i]);
        stop.mustGo = stops[i].mustGo;
        auto windows = windowsFor(stops[i].hours, stop.service);
        timed.neverOpen.push_back(windows ? 0 : 1);
        // Hours that are open for the whole shift are no hours at all, and cost the search nothing.
        const bool wide = windows && windows->size() == 1 &&
                          windows->front().from <= timed.shift.begin &&
                          windows->front().to >= timed.shift.end;
        if (windows && !wide) {
            stop.windows = std::move(*windows);
        }
        timed.stops.push_back(std::move(stop));
    }
    return timed;
}

bool mayBeWorked(const TimedDay &day, std::size_t stop)
{
    if (day.neverOpen[stop] != 0) {
        return false;
    }
    const TimedStop &timed = day.stops[stop];
    const double begin = beginOfWork(timed, day.shift.begin);
    return secondsLate(timed, day.shift.begin) <= 0 && begin + timed.service <= day.shift.end;
}

QString rulesText(const std::vector<BusyHours> &rules)
{
    QStringList words;
    for (const BusyHours &rule : rules) {
        words << wordsFor(rule);
    }
    words.removeDuplicates();
    return words.join(QStringLiteral("; "));
}

namespace {

/// Why a stop's work lies in busy hours; empty when it does not.
QString missedText(const RouteStop &at, const StopCandidate &stop, bool neverOpen)
{
    if (neverOpen && stop.hours.open.empty()) {
        return QStringLiteral("Busy hours leave no time for work here on this day: %1.")
            .arg(rulesText(stop.hours.closedBy));
    }
    if (neverOpen) {
        return QStringLiteral("Its %1 min are longer than any time that busy hours leave open on "
                              "this day: %2.")
            .arg(wholeMinutes(stop.minutes))
            .arg(rulesText(stop.hours.closedBy));
    }
    if (at.late <= 0) {
        return {};
    }
    std::vector<BusyHours> met;
    for (const BusyHours &rule : stop.hours.closedBy) {
        const double until =
            rule.to.msecsSinceStartOfDay() == 0 ? lastSecond + 1 : secondOf(rule.to);
        if (at.begin < until && secondOf(rule.from) < at.end) {
            met.push_back(rule);
        }
    }
    return QStringLiteral("Work from %1 to %2 lies in busy hours: %3.")
        .arg(clockText(at.begin), clockText(at.end),
             rulesText(met.empty() ? stop.hours.closedBy : met));
}

void fillStop(DayPlan &plan, const RouteStop &at, const TimedDay &day, const StopCandidate &stop,
              double metres)
{
    PlannedStop planned;
    planned.valve = stop.valve;
    planned.stopMinutes = stop.minutes;
    planned.driveSeconds = at.drive;
    planned.driveMetres = metres;
    planned.arrive = clockAt(at.arrive);
    planned.begin = clockAt(at.begin);
    planned.leave = clockAt(at.leave);
    planned.waitSeconds = at.begin > at.arrive ? at.begin - at.arrive : 0.0;
    planned.missesHours = missedText(at, stop, day.neverOpen[at.stop] != 0);
    if (!planned.missesHours.isEmpty()) {
        plan.notes << QStringLiteral("Valve %1: %2").arg(stop.number, planned.missesHours);
    }
    plan.priority += std::max(stop.priority, 0.0);
    plan.driveMetres += metres;
    plan.stops.push_back(std::move(planned));
}

void fillBreaks(DayPlan &plan, const RouteTimes &times, const TimedDay &day)
{
    for (const RouteBreak &at : times.breaks) {
        PlannedBreak pause;
        pause.from = clockAt(at.begin);
        pause.minutes = (at.end - at.begin) / 60.0;
        pause.afterStop = static_cast<int>(at.after) - 1;
        pause.isLate = at.late > 0.5;
        if (pause.isLate) {
            plan.notes << QStringLiteral("The break of %1 min begins at %2, later than %3: no stop "
                                         "ends in time for it.")
                              .arg(wholeMinutes(pause.minutes))
                              .arg(clockText(pause.from),
                                   clockText(day.shift.breaks[at.index].latest));
        }
        plan.breaks.push_back(pause);
    }
}

} // namespace

void fillTimes(DayPlan &plan, const TimedDay &day, const std::vector<StopCandidate> &stops,
               const std::vector<std::size_t> &order, const TravelTable &table)
{
    const RouteTimes times = timesAlong(table.seconds, day.shift, day.stops, order);
    plan.travel = table.kind;
    std::size_t here = DayPlaces::start;
    for (const RouteStop &at : times.stops) {
        const std::size_t there = DayPlaces::firstStop + at.stop;
        fillStop(plan, at, day, stops[at.stop], table.metres.at(here, there));
        here = there;
    }
    fillBreaks(plan, times, day);
    plan.returnSeconds = times.driveToFinish;
    plan.returnMetres = table.metres.at(here, DayPlaces::finish);
    plan.driveSeconds = times.drive;
    plan.driveMetres += plan.returnMetres;
    plan.waitSeconds = times.waited;
    plan.finish = clockAt(times.finish);
    plan.overrunsShift = times.overrun > 0.5; // half a second rounds to the end itself
    if (times.finish > lastSecond) {
        plan.notes << QStringLiteral("The day runs past midnight: it would take %1. Times after "
                                     "that stand at 23:59. Split it into several rounds.")
                          .arg(durationText({times.finish - day.shift.begin}));
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
