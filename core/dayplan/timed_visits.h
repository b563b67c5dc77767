// SPDX-License-Identifier: GPL-3.0-or-later
// From finished rounds to what can be learned of times: each visit with its minutes on site, its
// turns, and the drive to it from the visit before, as it was and as the streets have it.
//
// Only visits that were recorded as part of a finished round count: those brought in from a file
// seldom carry real times. The drive from the yard is left out, for nobody writes down when the
// truck left it; so are drives of other days, and drives between places off the streets. Passes
// carry no times, so turningMinutes stays 0 and learnTimes() reads the turning off the minutes.
#pragma once

#include "core/common/progress.h"
#include "core/dayplan/learned_times.h"
#include "core/dayplan/plan.h"

namespace keyround {

/// `ownSpeeds` is a graph built from these streets with noClassFactors, or what was learned before
/// would be learned again. Cancelling gives what was read so far.
[[nodiscard]] std::vector<TimedVisit>
timedVisitsOf(const std::vector<Round> &rounds, const std::vector<Visit> &visits,
              const std::vector<Valve> &valves, const std::vector<Street> &streets,
              const DriveGraph &ownSpeeds, const TravelSettings &travel,
              const Progress &progress = {});

} // namespace keyround
