// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/list_offer.h"

namespace keyround {

std::optional<QuarterTurns> listedTurnsToOffer(const Valve &valve, const ValveHistory &before,
                                               const Visit &now, const Tolerance &tolerance)
{
    const std::optional<QuarterTurns> travel = travelBothWays(now, tolerance);
    if (!travel || !valve.listedTurns || valve.listedTurns->value <= 0) {
        return std::nullopt;
    }
    ValveHistory with = before;
    with.visits.emplace_back().visit = now;
    if (const auto both = suggestListedTurns(valve, with, tolerance)) {
        return both;
    }
    const QuarterTurns listed = *valve.listedTurns;
    const bool beyond = travel->value > listed.value + allowance(tolerance, listed).value;
    return beyond ? travel : std::nullopt;
}

} // namespace keyround
