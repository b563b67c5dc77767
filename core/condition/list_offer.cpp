// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/list_offer.h"

#include <algorithm>

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

int doubtedByListAlone(const std::vector<Valve> &valves, const Histories &histories)
{
    return static_cast<int>(std::ranges::count_if(valves, [&histories](const Valve &valve) {
        const auto history = histories.constFind(valve.id);
        return history != histories.cend() && history->condition == Condition::DoesNotShut &&
               history->suggestedTurns;
    }));
}

QString doubtedByListWords(int valves)
{
    if (valves == 0) {
        return {};
    }
    const QString who = valves == 1
                            ? QStringLiteral("1 of those that do not shut counts")
                            : QStringLiteral("%1 of those that do not shut count").arg(valves);
    return who + QStringLiteral(" alike visit after visit, and only the listed turns say "
                                "otherwise: find out which is wrong, the list or the valve.");
}

} // namespace keyround
