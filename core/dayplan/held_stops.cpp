// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/held_stops.h"

#include "core/dayplan/day_clock.h"

#include <QHash>

#include <algorithm>
#include <utility>

namespace keyround {

HeldStops heldStops(const Round &day, const std::vector<StopCandidate> &candidates)
{
    QHash<ValveId, std::size_t> indices;
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        indices.insert(candidates[i].valve, i);
    }
    const auto indexOf = [&](const ValveId &valve) -> std::optional<std::size_t> {
        const auto found = indices.constFind(valve);
        return found == indices.cend() ? std::nullopt : std::optional(*found);
    };
    HeldStops held;
    std::vector<std::size_t> stretch;
    const auto close = [&] {
        if (stretch.size() > 1) {
            held.stretches.push_back(stretch);
        }
        stretch.clear();
    };
    for (const ValveId &valve : day.stops) {
        const auto index = indexOf(valve);
        if (!index) {
            close();
            continue;
        }
        stretch.push_back(*index);
        if (!day.heldToNext.contains(valve)) {
            close();
        }
    }
    close();
    if (!day.stops.empty()) {
        held.first = day.firstIsPinned ? indexOf(day.stops.front()) : std::nullopt;
        held.last = day.lastIsPinned ? indexOf(day.stops.back()) : std::nullopt;
    }
    return held;
}

QSet<ValveId> heldValves(const Round &day)
{
    QSet<ValveId> held;
    for (std::size_t i = 0; i < day.stops.size(); ++i) {
        const bool toNext = i + 1 < day.stops.size() && day.heldToNext.contains(day.stops[i]);
        const bool toLast = i > 0 && day.heldToNext.contains(day.stops[i - 1]);
        const bool first = i == 0 && day.firstIsPinned;
        const bool last = i + 1 == day.stops.size() && day.lastIsPinned;
        if (toNext || toLast || first || last) {
            held.insert(day.stops[i]);
        }
    }
    return held;
}

OrderRequest orderRequestFor(const HeldStops &held, const std::vector<std::size_t> &stops)
{
    OrderRequest request;
    request.start = DayPlaces::start;
    request.finish = DayPlaces::finish;
    const auto places = [](const std::vector<std::size_t> &of) {
        std::vector<std::size_t> made;
        for (const std::size_t stop : of) {
            made.push_back(DayPlaces::firstStop + stop);
        }
        return made;
    };
    const auto isAmong = [](const std::vector<std::size_t> &all, std::size_t stop) {
        return std::find(all.begin(), all.end(), stop) != all.end();
    };
    request.stops = places(stops);
    // A pinned stop takes its stretch along, which then is no stretch any more.
    if (held.first && isAmong(stops, *held.first)) {
        request.pinnedFirst = places({*held.first});
    }
    bool lastIsFirst = held.last == held.first;
    if (held.last && isAmong(stops, *held.last) && !lastIsFirst) {
        request.pinnedLast = places({*held.last});
    }
    for (const std::vector<std::size_t> &stretch : held.stretches) {
        if (!std::all_of(stretch.begin(), stretch.end(),
                         [&](std::size_t stop) { return isAmong(stops, stop); })) {
            continue;
        }
        if (held.first && isAmong(stretch, *held.first)) {
            request.pinnedFirst = places(stretch);
            lastIsFirst = held.last && isAmong(stretch, *held.last);
            if (lastIsFirst) {
                request.pinnedLast.clear();
            }
        } else if (held.last && isAmong(stretch, *held.last)) {
            request.pinnedLast = places(stretch);
        } else {
            request.locked.push_back(places(stretch));
        }
    }
    return request;
}

} // namespace keyround
