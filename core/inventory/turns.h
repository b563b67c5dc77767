// SPDX-License-Identifier: GPL-3.0-or-later
// How many turns a valve should take from open to closed, when no count of its own is known.
#pragma once

#include "core/inventory/valve.h"

#include <optional>

namespace keyround {

struct TurnRange
{
    QuarterTurns least;
    QuarterTurns most;
};

/// Three times the size in inches plus 2 to 3: a rule of thumb for gate valves with a direct nut
/// only (common practice; figures in tests/core/inventory/test_turns.cpp with their sources).
/// Empty for every other type and for sizes not known: their first full cycle teaches it.
[[nodiscard]] std::optional<TurnRange> ruleOfThumbTurns(const Valve &valve);

} // namespace keyround
