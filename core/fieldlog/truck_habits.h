// SPDX-License-Identifier: GPL-3.0-or-later
// What the utility has settled for the work at the stop: when the stop offers itself, how far to
// turn back after opening, the unit of torque, its own problems, its own words for a stuck valve.
#pragma once

#include "core/common/units.h"
#include "core/fieldlog/torque.h"
#include "core/fieldlog/visit.h"

#include <QString>

#include <array>
#include <vector>

namespace keyround {

/// A problem that the utility adds to the trade's. Its words are its key: they stay in the records
/// as they were written, so other words are another problem.
struct OwnProblem
{
    QString words;
    ProblemGroup group = ProblemGroup::Other; ///< where it stands on the screen
    bool inUse = true;                        ///< false: no longer offered, still readable
    friend bool operator==(const OwnProblem &, const OwnProblem &) = default;
};

/// Back-off after opening fully, so that the stem does not stand jammed against its stop. Three
/// values are published:
/// - one quarter turn: UFC 3-230-02 (10 July 2001), section 8.3.1.1;
/// - one half turn: Hurricane WV, Code 941.08 (for the valve of a hydrant);
/// - about one turn: UFC 3-230-02, section 8.3.3.2.
struct BackOffValue
{
    QuarterTurns turns;
    const char *source;
};
inline constexpr std::array<BackOffValue, 3> publishedBackOffs{
    BackOffValue{{1}, "UFC 3-230-02, section 8.3.1.1"},
    BackOffValue{{2}, "Hurricane WV, Code 941.08"},
    BackOffValue{{4}, "UFC 3-230-02, section 8.3.3.2"}};

struct TruckHabits
{
    /// Within it the stop offers itself when a position fix is at hand. Common practice, no source:
    /// a fix of a plain receiver is good to about 5 m, a map's place to about 10 m.
    Metres arrivalDistance{30};
    QuarterTurns backOff{1}; ///< the least of the published ones; none: no reminder
    TorqueUnit torqueUnit = TorqueUnit::FootPounds;
    std::vector<OwnProblem> ownProblems;
    QString stuckProcedure; ///< plain text; shown before common practice where it is given
    friend bool operator==(const TruckHabits &, const TruckHabits &) = default;
};

/// Empty when the habits can be kept; else what is wrong with them.
[[nodiscard]] QString faultIn(const TruckHabits &habits);

} // namespace keyround
