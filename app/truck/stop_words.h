// SPDX-License-Identifier: GPL-3.0-or-later
// Sentences that several screens of the Truck say.
#pragma once

#include "app/truck/steps/step.h"

namespace keyround {

/// What the last visit found, in sentences.
[[nodiscard]] QString lastVisitWords(const ValveHistory &history);
/// Problems in words, with those of "other".
[[nodiscard]] QString problemWords(const QList<Problem> &problems, const QString &other);
/// "open", "part open, 6 turns from closed".
[[nodiscard]] QString standingWords(const Standing &standing);

/// "Valve 0417, 8 in gate, main line".
[[nodiscard]] QString titleOf(const Valve &valve, UnitSystem units);
/// One sentence of what will be recorded.
[[nodiscard]] QString recordSentence(const StopDesk &desk);

} // namespace keyround
