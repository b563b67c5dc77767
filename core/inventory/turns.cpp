// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/inventory/turns.h"

namespace keyround {

std::optional<TurnRange> ruleOfThumbTurns(const Valve &valve)
{
    if (valve.type != ValveType::Gate || !valve.size.isKnown()) {
        return std::nullopt;
    }
    // Three turns an inch are three quarter-turns a quarter-inch.
    const int base = 3 * valve.size.quarterInches;
    return TurnRange{{base + QuarterTurns::ofTurns(2).value},
                     {base + QuarterTurns::ofTurns(3).value}};
}

} // namespace keyround
