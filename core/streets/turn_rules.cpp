// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/turn_rules.h"

#include <cmath>
#include <numbers>

namespace keyround {

TurnRules cleaned(const TurnRules &rules)
{
    const TurnRules defaults;
    TurnRules clean = rules;
    for (const auto figure :
         {&TurnRules::straightSeconds, &TurnRules::nearTurnSeconds, &TurnRules::farTurnSeconds,
          &TurnRules::uTurnSeconds, &TurnRules::deadEndSeconds, &TurnRules::straightDegrees,
          &TurnRules::middleMetres}) {
        if (!std::isfinite(clean.*figure) || clean.*figure < 0.0) {
            clean.*figure = defaults.*figure;
        }
    }
    return clean;
}

double secondsToTurn(const TurnRules &rules, double bearingIn, double bearingOut, unsigned arms)
{
    if (arms < 3) {
        return 0.0;
    }
    // Between -180 and 180, clockwise positive: to the right.
    const double off = std::remainder(bearingOut - bearingIn, 2.0 * std::numbers::pi);
    if (std::abs(off) <= rules.straightDegrees * std::numbers::pi / 180.0) {
        return rules.straightSeconds;
    }
    const bool toTheRight = off > 0.0;
    return toTheRight == (rules.drivingSide == DrivingSide::Right) ? rules.nearTurnSeconds
                                                                   : rules.farTurnSeconds;
}

} // namespace keyround
