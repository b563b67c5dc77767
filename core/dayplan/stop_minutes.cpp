// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/stop_minutes.h"

#include <algorithm>

namespace keyround {

namespace {

constexpr double secondsInMinute = 60.0;

} // namespace

double plannedTurns(const Valve &valve, const Baseline &baseline, const StopTimes &times)
{
    if (baseline.source != BaselineSource::None && baseline.most.value > 0) {
        return baseline.most.turns();
    }
    if (valve.listedTurns && valve.listedTurns->value > 0) {
        return valve.listedTurns->turns();
    }
    return times.fallbackTurns;
}

double minutesFor(const Valve &valve, const Baseline &baseline, const StopTimes &times)
{
    return minutesFor(valve, baseline, StreetClass::Unknown, times, {}).minutes;
}

StopMinutes minutesFor(const Valve &valve, const Baseline &baseline, StreetClass street,
                       const StopTimes &times, const LearnedTimes &learned, const SetUp *setUp)
{
    StopMinutes stop;
    const bool large = valve.size.isKnown() && valve.size >= times.largeFrom;
    double still = times.baseMinutes + (large ? times.largeExtraMinutes : 0.0);
    const auto *figure = figureFor(learned, {valve.type, sizeClassOf(valve.size), street});
    if (figure != nullptr) {
        still = figure->minutes.valueOr(still);
        stop.by = figure->kind;
        stop.isSet = figure->minutes.set.has_value();
        stop.from = stop.isSet ? 0 : figure->minutes.from;
    } else if (setUp != nullptr) {
        stop.zoneMinutes = setUp->setUpMinutes + setUp->takeDownMinutes;
        still += stop.zoneMinutes - std::min(times.baseZoneMinutes, times.baseMinutes);
    }
    const double perTurn = learned.secondsPerTurn.valueOr(times.secondsPerTurn);
    stop.minutes =
        still + times.passes * plannedTurns(valve, baseline, times) * perTurn / secondsInMinute;
    return stop;
}

QString StopMinutes::words() const
{
    if (!by) {
        return zoneMinutes > 0 ? QStringLiteral("default, with %1 min for the work zone")
                                     .arg(zoneMinutes, 0, 'f', 0)
                               : QStringLiteral("default");
    }
    return isSet ? QStringLiteral("set by hand: %1").arg(wordsFor(*by))
                 : QStringLiteral("%1: %2 visits").arg(wordsFor(*by), QString::number(from));
}

} // namespace keyround
