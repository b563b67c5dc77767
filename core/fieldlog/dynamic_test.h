// SPDX-License-Identifier: GPL-3.0-or-later
// A share of the whole travel, opened and closed, as some statutes ask of an inspection: New
// Jersey's asks for the maker's turns of a credible test, or 15 % of all turns (N.J.S.A. 58:31-3,
// inspection item 3, opening then closing). It is no full cycle and no judgement of a count.
#pragma once

#include "core/fieldlog/visit.h"

#include <vector>

namespace keyround {

inline constexpr double newJerseyTestShare = 0.15;

/// Rounded up to the quarter-turn that can be counted.
[[nodiscard]] QuarterTurns dynamicTestTurns(QuarterTurns total, double share);

/// True when an opening and a closing pass each ran so far.
[[nodiscard]] bool madeDynamicTest(const std::vector<Pass> &passes, QuarterTurns total,
                                   double share);

} // namespace keyround
