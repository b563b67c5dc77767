// SPDX-License-Identifier: GPL-3.0-or-later
// Why a valve is left out of a day, in plain words that say what would let it in.
#pragma once

#include "core/dayplan/plan.h"
#include "core/routing/day_route.h"

namespace keyround {

/// What keeps a candidate out before any day is worked out: no place, held, skills, a later day.
/// Empty when nothing does.
[[nodiscard]] QString barText(const StopCandidate &candidate, const QDate &date);

/// "Does not fit the shift: 8 minutes more would let it in."
[[nodiscard]] QString missingText(double seconds);
/// The same from straight lines: "about 8 minutes more".
[[nodiscard]] QString aboutMissingText(double seconds);

/// Its hours are open at no time of the shift, or for less than its work takes.
[[nodiscard]] QString neverOpenText(const StopCandidate &candidate);

[[nodiscard]] QString leftOutText(const LeftOutStop &left, const StopCandidate &candidate);

} // namespace keyround
