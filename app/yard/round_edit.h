// SPDX-License-Identifier: GPL-3.0-or-later
// What a hand does to a round's stops, as plain functions from one round to the next: adding,
// dropping and moving stops, keeping one first or last, holding a stretch together, marking what
// must go. They keep the round's marks true: whoever is held moves with its stretch, nothing lands
// inside a stretch or beyond a stop that is kept first or last, and a mark goes with its stop.
// Nothing is stored; indices that are no stops change nothing.
#pragma once

#include "core/dayplan/round.h"

#include <QList>

namespace keyround {

/// The stops from `first` to `last`, both included, that stay together.
struct HeldStretch
{
    int first = 0;
    int last = 0;
    [[nodiscard]] int size() const { return last - first + 1; }
    friend bool operator==(const HeldStretch &, const HeldStretch &) = default;
};
/// The stretch that a stop belongs to; the stop alone when nothing holds it.
[[nodiscard]] HeldStretch heldStretch(const Round &round, int stop);
[[nodiscard]] int stopIndex(const Round &round, const ValveId &valve); ///< -1: no stop

/// Puts the stop, with those it is held to, where it becomes number `to` (from 0), as near as the
/// marks allow. A stop that is kept first or last and is taken away from there is no longer kept.
[[nodiscard]] Round withStopMoved(const Round &round, int from, int to);
/// The number that the stop has to get to stand before the one that is number `before` now (the
/// count of stops: at the end).
[[nodiscard]] int landingBefore(const Round &round, int from, int before);

/// At the end, before a stop that is kept last. Those that are stops already stay where they are.
[[nodiscard]] Round withStopsAdded(Round round, const QList<ValveId> &valves);
[[nodiscard]] Round withStopsDropped(Round round, const QList<ValveId> &valves);
/// The same stops in this order; those that it lacks stand at the end.
[[nodiscard]] Round withOrder(Round round, const std::vector<ValveId> &order);

/// Makes the stop the first (last) and keeps it there, or lets go of it.
[[nodiscard]] Round withFirstKept(Round round, const ValveId &valve, bool kept);
[[nodiscard]] Round withLastKept(Round round, const ValveId &valve, bool kept);

/// What can be held together: stops that follow one another, or one stop with its follower.
/// Sorted indices; empty when these stops cannot be held.
[[nodiscard]] QList<int> holdable(const Round &round, const QList<ValveId> &valves);
[[nodiscard]] bool isHeld(const Round &round, const QList<ValveId> &valves);
[[nodiscard]] Round withHeld(Round round, const QList<ValveId> &valves, bool held);

/// Marks as what must go; valves that are no stops yet become stops.
[[nodiscard]] Round withMustGo(Round round, const QList<ValveId> &valves, bool mustGo);

/// Whether an order of the same stops leaves first, last and held stretches as they are.
[[nodiscard]] bool keepsMarks(const Round &round, const std::vector<ValveId> &order);

} // namespace keyround
