// SPDX-License-Identifier: GPL-3.0-or-later
// How many minutes a stop is planned with: what the utility's own rounds have taught of its kind,
// or the settings where they have not, and the turns of its baseline.
#pragma once

#include "core/dayplan/learned_times.h"
#include "core/dayplan/round.h"
#include "core/fieldlog/judgement.h"
#include "core/inventory/valve.h"
#include "core/workzone/set_up.h"

namespace keyround {

/// The turns of one pass that are planned for: the longer end of the baseline, else the listed
/// turns, else the settings' figure.
[[nodiscard]] double plannedTurns(const Valve &valve, const Baseline &baseline,
                                  const StopTimes &times);

/// By the settings alone.
[[nodiscard]] double minutesFor(const Valve &valve, const Baseline &baseline,
                                const StopTimes &times);

struct StopMinutes
{
    double minutes = 0; ///< on site
    /// The kind whose learned (or set) minutes were taken; empty: the settings' default.
    std::optional<StopKind> by;
    int from = 0; ///< visits behind the figure; 0 for a default and for what a person set
    /// "gate, up to 8 in, residential: 34 visits", "set by hand: ...", "default".
    [[nodiscard]] QString words() const;
    bool isSet = false; ///< by a person
    /// Of them, for a set-up that was worked out, up and down; 0 where none was.
    double zoneMinutes = 0;
};
/// A learned figure of large valves holds what they take more, and a learned figure of a class of
/// street the cones that its streets want: nothing is added to it. To the settings' default the
/// minutes of the set-up are added, in the place of StopTimes::baseZoneMinutes; null: none worked
/// out.
[[nodiscard]] StopMinutes minutesFor(const Valve &valve, const Baseline &baseline,
                                     StreetClass street, const StopTimes &times,
                                     const LearnedTimes &learned, const SetUp *setUp = nullptr);

} // namespace keyround
