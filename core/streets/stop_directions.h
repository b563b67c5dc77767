// SPDX-License-Identifier: GPL-3.0-or-later
// By which directions of its street a place is served, and what turning there takes.
//
// The seconds between places are a table of pairs, which cannot know in which direction the truck
// stands when it leaves. So that the legs of a round can still be joined:
//  - Where the truck may not turn in mid-street, one direction is fixed for the place: the one on
//    whose kerb side it lies. The truck leaves as it came; the seconds are exact.
//  - Where it may turn but the crew may not cross, the truck always stands in that direction: a
//    turn before or after is counted whole; the seconds are exact.
//  - Where it may turn and the crew may cross, each leg takes the better direction at both ends.
//    A round needs the U-turn at about every second such place, so each leg counts a quarter of
//    its seconds at each end: half a U-turn for every place, which is wrong by at most that half
//    for each, and on average right where turning is as likely as driving on.
#pragma once

#include "core/streets/driven_pieces.h"
#include "core/streets/snap.h"
#include "core/streets/turn_rules.h"

#include <array>

namespace keyround {

/// Seconds that stopping at a place adds, by direction ([1] along the piece's line, [0] against);
/// infinite where it is not served from, or left in, that direction.
struct StopDirections
{
    std::array<double, 2> arrive{};
    std::array<double, 2> leave{};
    friend bool operator==(const StopDirections &, const StopDirections &) = default;
};

[[nodiscard]] StopDirections stopDirections(const DrivenPiece &piece, StreetSide side,
                                            const TurnRules &rules);

} // namespace keyround
