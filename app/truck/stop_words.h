// SPDX-License-Identifier: GPL-3.0-or-later
// Sentences that several screens of the Truck say.
#pragma once

#include "app/truck/steps/step.h"

namespace keyround {

/// What the last visit found, in sentences.
[[nodiscard]] QString lastVisitWords(const ValveHistory &history);
/// How it stands in words, "not seen" among them.
[[nodiscard]] QString standingSaid(const Standing &standing);

/// "Valve 0417, 8 in gate, main line".
[[nodiscard]] QString titleOf(const Valve &valve, UnitSystem units);
/// What the utility has settled for the end of opening; empty where it has settled nothing, or the
/// valve is not left open.
[[nodiscard]] QString backOffWords(StopDesk &desk);
/// One sentence of what will be recorded.
[[nodiscard]] QString recordSentence(const StopDesk &desk);

} // namespace keyround
