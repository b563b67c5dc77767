// SPDX-License-Identifier: GPL-3.0-or-later
// When a crew at the valve may be offered to correct the listed turns. An offer, never applied by
// itself: the edit keeps the old value, who, when and why.
#pragma once

#include "core/condition/history.h"

namespace keyround {

/// A count to put in the list's place, from the visit that is being made and those before it:
/// - two visits, this one the second, that ran the valve both ways, agree with each other and not
///   with the list (suggestListedTurns()); or
/// - this visit alone, when its closing and its opening pass agree and went beyond the list. A
///   count below the list is never taken from one visit: a valve that does not close fully looks
///   alike.
/// Empty when nothing is listed, or this visit did not run the valve both ways.
[[nodiscard]] std::optional<QuarterTurns> listedTurnsToOffer(const Valve &valve,
                                                             const ValveHistory &before,
                                                             const Visit &now,
                                                             const Tolerance &tolerance);

/// How many of these valves are taken not to shut although their last counts agree with each other:
/// only the listed turns say otherwise (ValveHistory::suggestedTurns).
[[nodiscard]] int doubtedByListAlone(const std::vector<Valve> &valves, const Histories &histories);
/// The same as a sentence; empty where there is none.
[[nodiscard]] QString doubtedByListWords(int valves);

} // namespace keyround
