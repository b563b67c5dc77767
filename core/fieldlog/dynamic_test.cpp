// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/dynamic_test.h"

#include <algorithm>
#include <cmath>

namespace keyround {

QuarterTurns dynamicTestTurns(QuarterTurns total, double share)
{
    // The hair keeps 15 % of 20 turns at 3 whatever the binary fraction makes of it.
    return {static_cast<int>(std::ceil(total.value * share - 1e-9))};
}

bool madeDynamicTest(const std::vector<Pass> &passes, QuarterTurns total, double share)
{
    const QuarterTurns needed = dynamicTestTurns(total, share);
    const auto ran = [&](PassDirection direction) {
        return std::ranges::any_of(passes, [&](const Pass &pass) {
            return pass.direction == direction && pass.turns >= needed;
        });
    };
    return needed.value > 0 && ran(PassDirection::Opening) && ran(PassDirection::Closing);
}

} // namespace keyround
