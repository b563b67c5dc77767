// SPDX-License-Identifier: GPL-3.0-or-later
// A set-up in words, for screen, sheet and console alike. What no table gives is marked.
#pragma once

#include "core/workzone/set_up.h"

namespace keyround {

struct SetUpLine
{
    QString what;   ///< "Buffer"
    QString amount; ///< "250 ft"
    QString why;    ///< where it is from; "common practice" where no table gives it
};

/// "Typical application 10: Lane Closure on a Two-Lane Road Using Flaggers".
[[nodiscard]] QString headlineOf(const SetUp &setUp);
/// Tapers, buffer, work space, cones, signs, flaggers, people, minutes, in the order of setting up.
[[nodiscard]] std::vector<SetUpLine> linesOf(const SetUp &setUp, UnitSystem units);
/// "ROAD WORK AHEAD 300 ft, ONE LANE ROAD AHEAD 200 ft": one approach, the farthest first.
[[nodiscard]] QString signWords(const SetUp &setUp, int approach, UnitSystem units);
/// Who changed what, and why; empty where all is as worked out.
[[nodiscard]] QStringList changeWords(const SetUp &setUp);

} // namespace keyround
