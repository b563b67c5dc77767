// SPDX-License-Identifier: GPL-3.0-or-later
// The Office's questions, in words, and the pictures that each can be looked at by.
#pragma once

#include "core/condition/ageing.h"

#include <QStringList>

namespace keyround {

enum class Question { Pace, State, Changes, Ageing, Turns, Next, WhatIf };
inline constexpr int questionCount = 7;

[[nodiscard]] QString wordFor(Question question);
/// "pace": names of controls and of files.
[[nodiscard]] QString keyFor(Question question);
/// What stands in the list of pictures; Turns has one for each kind of valve instead.
[[nodiscard]] QStringList viewsOf(Question question);

// Places in viewsOf().
enum class PaceView { Years, ThisYear, BySize, ByZone, CrewDays, Minutes };
enum class StateView { Bands, Share };
enum class ChangesView { Bars, Map };
/// By the places in viewsOf(Question::Ageing).
[[nodiscard]] AgeingBy ageingOfView(int view);

} // namespace keyround
