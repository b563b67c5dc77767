// SPDX-License-Identifier: GPL-3.0-or-later
// What a round came to, read from its visits whenever it is asked for and never stored.
#pragma once

#include "core/condition/history.h"
#include "core/dayplan/round.h"

namespace keyround {

/// Valves in the order of the round's stops; those visited without being a stop come last, by id.
struct RoundOutcome
{
    std::vector<ValveId> done;
    std::vector<ValveId> notDone;      ///< go back to the due list
    std::vector<ValveId> leftAbnormal; ///< visited, and still not in their normal position
    std::vector<ValveId> newlyBad;     ///< went out of condition on this round
    std::vector<ValveId> newDefects;   ///< became serviceable with a defect on this round
};
[[nodiscard]] RoundOutcome outcomeOf(const Round &round, const Histories &histories);

} // namespace keyround
