// SPDX-License-Identifier: GPL-3.0-or-later
// How sheets and tables speak of a valve and of its visits. One wording for all of them.
#pragma once

#include "core/condition/history.h"
#include "core/inventory/valve.h"

namespace keyround {

/// "8 in gate, closes clockwise, normally open"; with its role where that is not the main line.
[[nodiscard]] QString whatWords(const Valve &valve, UnitSystem units);
/// Address, ties, depth to the nut and surface, as far as they are known; else the position.
[[nodiscard]] QString whereWords(const Valve &valve, UnitSystem units);
/// "open", "part open, 12 turns from closed"; empty when it was not seen.
[[nodiscard]] QString standingWords(const Standing &standing);
/// "Lid missing or broken; Other: handle of the lid rusted".
[[nodiscard]] QString problemWords(const Visit &visit);
/// All passes in their order: "close 10, open 3, close 27".
[[nodiscard]] QString passWords(const std::vector<Pass> &passes);
/// "9 turns against 20 turns (listed); Lid missing; remark": what a visit found, with the count's
/// baseline.
[[nodiscard]] QString whatVisitFound(const ReadVisit &read);

} // namespace keyround
