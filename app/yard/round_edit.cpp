// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/round_edit.h"

#include <algorithm>

namespace keyround {

namespace {

int countOf(const Round &round)
{
    return static_cast<int>(round.stops.size());
}

const ValveId &stopAt(const Round &round, int index)
{
    return round.stops[static_cast<size_t>(index)];
}

bool isHeldToNext(const Round &round, int index)
{
    return index >= 0 && index + 1 < countOf(round) &&
           round.heldToNext.contains(stopAt(round, index));
}

/// Marks of what is no stop any more, and of what has no follower, mean nothing.
void forgetIdleMarks(Round &round)
{
    const QSet<ValveId> stops(round.stops.begin(), round.stops.end());
    round.mustGo.intersect(stops);
    round.heldToNext.intersect(stops);
    if (round.stops.empty()) {
        round.firstIsPinned = false;
        round.lastIsPinned = false;
    } else {
        round.heldToNext.remove(round.stops.back());
    }
}

/// The place nearest to `at`, in the direction of the move, that is not inside a stretch.
int outsideStretches(const Round &rest, int at, bool isForward)
{
    while (at > 0 && at < countOf(rest) && isHeldToNext(rest, at - 1)) {
        at += isForward ? 1 : -1;
    }
    return at;
}

} // namespace

int stopIndex(const Round &round, const ValveId &valve)
{
    const auto found = std::ranges::find(round.stops, valve);
    return found == round.stops.end() ? -1 : static_cast<int>(found - round.stops.begin());
}

HeldStretch heldStretch(const Round &round, int stop)
{
    HeldStretch stretch{stop, stop};
    while (isHeldToNext(round, stretch.first - 1)) {
        --stretch.first;
    }
    while (isHeldToNext(round, stretch.last)) {
        ++stretch.last;
    }
    return stretch;
}

Round withStopMoved(const Round &round, int from, int to)
{
    const int count = countOf(round);
    if (from < 0 || from >= count || to < 0 || to >= count || from == to) {
        return round;
    }
    const HeldStretch stretch = heldStretch(round, from);
    Round rest = round;
    const auto begin = rest.stops.begin();
    rest.stops.erase(begin + stretch.first, begin + stretch.last + 1);
    const bool takesFirst = stretch.first == 0;
    const bool takesLast = stretch.last == count - 1;
    int at = std::clamp(to - (from - stretch.first), 0, countOf(rest));
    if (round.firstIsPinned && !takesFirst) {
        at = std::max(at, 1);
    }
    if (round.lastIsPinned && !takesLast) {
        at = std::min(at, countOf(rest) - 1);
    }
    at = outsideStretches(rest, at, to > from);
    if ((round.firstIsPinned && !takesFirst && at == 0) ||
        (round.lastIsPinned && !takesLast && at == countOf(rest))) {
        return round; // a stretch reaches to the stop that is kept there
    }
    Round after = rest;
    after.stops.insert(after.stops.begin() + at, round.stops.begin() + stretch.first,
                       round.stops.begin() + stretch.last + 1);
    after.firstIsPinned = round.firstIsPinned && (!takesFirst || at == 0);
    after.lastIsPinned = round.lastIsPinned && (!takesLast || at == countOf(rest));
    return after;
}

int landingBefore(const Round &round, int from, int before)
{
    const HeldStretch stretch = heldStretch(round, from);
    const int taken = std::clamp(before - stretch.first, 0, stretch.size());
    return std::clamp(before - taken + (from - stretch.first), 0, countOf(round) - 1);
}

Round withStopsAdded(Round round, const QList<ValveId> &valves)
{
    int at = countOf(round);
    if (round.lastIsPinned && at > 0) {
        at = heldStretch(round, at - 1).first;
    }
    if (round.firstIsPinned && at == 0) {
        at = countOf(round); // first and last are one: the new ones follow the first
        round.lastIsPinned = at == 0;
    }
    for (const ValveId &valve : valves) {
        if (stopIndex(round, valve) < 0) {
            round.stops.insert(round.stops.begin() + at, valve);
            ++at;
        }
    }
    return round;
}

Round withStopsDropped(Round round, const QList<ValveId> &valves)
{
    for (const ValveId &valve : valves) {
        const int index = stopIndex(round, valve);
        if (index < 0) {
            continue;
        }
        // Out of the middle of a stretch, its neighbours stay together; off its end, they do not.
        if (index > 0 && !isHeldToNext(round, index)) {
            round.heldToNext.remove(stopAt(round, index - 1));
        }
        round.firstIsPinned = round.firstIsPinned && index != 0;
        round.lastIsPinned = round.lastIsPinned && index != countOf(round) - 1;
        round.stops.erase(round.stops.begin() + index);
    }
    forgetIdleMarks(round);
    return round;
}

Round withOrder(Round round, const std::vector<ValveId> &order)
{
    std::vector<ValveId> stops;
    for (const ValveId &valve : order) {
        if (stopIndex(round, valve) >= 0) {
            stops.push_back(valve);
        }
    }
    for (const ValveId &valve : round.stops) {
        if (std::ranges::find(stops, valve) == stops.end()) {
            stops.push_back(valve);
        }
    }
    round.stops = std::move(stops);
    return round;
}

Round withFirstKept(Round round, const ValveId &valve, bool kept)
{
    const int index = stopIndex(round, valve);
    if (index < 0) {
        return round;
    }
    round.firstIsPinned = false;
    if (!kept) {
        return round;
    }
    if (index > 0) {
        round.heldToNext.remove(stopAt(round, index - 1)); // it leads its stretch from now on
    }
    round = withStopMoved(round, index, 0);
    round.firstIsPinned = stopIndex(round, valve) == 0;
    return round;
}

Round withLastKept(Round round, const ValveId &valve, bool kept)
{
    const int index = stopIndex(round, valve);
    if (index < 0) {
        return round;
    }
    round.lastIsPinned = false;
    if (!kept) {
        return round;
    }
    round.heldToNext.remove(valve);
    round = withStopMoved(round, index, countOf(round) - 1);
    round.lastIsPinned = stopIndex(round, valve) == countOf(round) - 1;
    return round;
}

QList<int> holdable(const Round &round, const QList<ValveId> &valves)
{
    QList<int> indices;
    for (const ValveId &valve : valves) {
        indices << stopIndex(round, valve);
    }
    std::ranges::sort(indices);
    if (indices.isEmpty() || indices.first() < 0) {
        return {};
    }
    if (indices.size() == 1) {
        if (indices.first() + 1 == countOf(round)) {
            return heldStretch(round, indices.first()).size() > 1 ? indices : QList<int>{};
        }
        return {indices.first(), indices.first() + 1};
    }
    const bool isRow = indices.last() - indices.first() + 1 == indices.size();
    return isRow ? indices : QList<int>{};
}

bool isHeld(const Round &round, const QList<ValveId> &valves)
{
    const QList<int> indices = holdable(round, valves);
    if (indices.isEmpty()) {
        return false;
    }
    if (valves.size() == 1) {
        return heldStretch(round, stopIndex(round, valves.first())).size() > 1;
    }
    return std::all_of(indices.begin(), indices.end() - 1,
                       [&](int index) { return isHeldToNext(round, index); });
}

Round withHeld(Round round, const QList<ValveId> &valves, bool held)
{
    const QList<int> indices = holdable(round, valves);
    if (indices.isEmpty()) {
        return round;
    }
    int first = indices.first();
    int last = indices.last();
    if (!held) { // the whole of what they belong to
        const HeldStretch begin = heldStretch(round, first);
        const HeldStretch end = heldStretch(round, valves.size() == 1 ? first : last);
        first = begin.first;
        last = end.last;
    }
    for (int index = first; index < last; ++index) {
        if (held) {
            round.heldToNext.insert(stopAt(round, index));
        } else {
            round.heldToNext.remove(stopAt(round, index));
        }
    }
    return round;
}

Round withMustGo(Round round, const QList<ValveId> &valves, bool mustGo)
{
    if (mustGo) {
        round = withStopsAdded(std::move(round), valves);
        round.mustGo.unite(QSet<ValveId>(valves.begin(), valves.end()));
    } else {
        round.mustGo.subtract(QSet<ValveId>(valves.begin(), valves.end()));
    }
    return round;
}

bool keepsMarks(const Round &round, const std::vector<ValveId> &order)
{
    Round after = round;
    after.stops = order;
    if (!std::ranges::is_permutation(round.stops, order) || order.empty()) {
        return order.empty() && round.stops.empty();
    }
    if ((round.firstIsPinned && order.front() != round.stops.front()) ||
        (round.lastIsPinned && order.back() != round.stops.back())) {
        return false;
    }
    for (int index = 0; index + 1 < countOf(round); ++index) {
        const int there = stopIndex(after, stopAt(round, index));
        if (isHeldToNext(round, index) &&
            (there + 1 >= countOf(after) || stopAt(after, there + 1) != stopAt(round, index + 1))) {
            return false;
        }
    }
    return true;
}

} // namespace keyround
