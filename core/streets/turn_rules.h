// SPDX-License-Identifier: GPL-3.0-or-later
// What turning takes and where it is allowed, and from which side of a street a place is served.
// Every figure here is a setting; the defaults are common practice, no source.
//
// Turns: seconds at junctions of three or more arms, by how far the truck bears off; nothing at a
// mere bend or where just two pieces of street meet. "Near" is the turn towards the kerb that one
// drives along (right where one drives on the right), "far" the one across the oncoming lane.
//
// U-turns: at a dead end always. At a junction and in mid-street where the class of the street
// allows it. A truck on a street that does not allow one turns at the junction in the mouth of a
// side street that does: the seconds of turning in, the U-turn and turning out, no metres. Where a
// street could otherwise not be left again or not be driven in one of its directions, the U-turn at
// its ends is allowed whatever its class.
//
// Side: where a class does not let the crew cross it or the truck turn on it, a place on a two-way
// street is reached, and left again, only by the direction on whose kerb side it lies. Elsewhere
// either direction serves, and the truck may leave as it came or turn.
#pragma once

#include "core/streets/street.h"

#include <array>

namespace keyround {

enum class DrivingSide { Right, Left };

struct TurnRules
{
    struct OfClass
    {
        bool uTurnAtJunction = true;
        bool uTurnMidStreet = true;
        bool kerbSideOnly = false; ///< also where no U-turn is allowed in mid-street
        friend bool operator==(const OfClass &, const OfClass &) = default;
    };

    DrivingSide drivingSide = DrivingSide::Right;
    double straightSeconds = 2.0;
    double nearTurnSeconds = 4.0;
    double farTurnSeconds = 8.0;
    double uTurnSeconds = 20.0;    ///< a truck with a machine on a trailer, in three moves
    double deadEndSeconds = 15.0;  ///< the U-turn at a dead end, often a turning circle
    double straightDegrees = 45.0; ///< bearing off by no more than this is straight on
    /// A place nearer than this to the line of its street lies in the carriageway's middle: on
    /// neither side. Where a side is needed it is served by the direction that the line is drawn.
    double middleMetres = 1.0;
    std::array<OfClass, streetClassCount> ofClass{{
        {true, true, false},   // Unknown
        {false, false, true},  // Motorway
        {false, false, true},  // Arterial
        {false, false, false}, // Collector
        {true, true, false},   // Residential
        {true, true, false},   // ServiceRoad
        {true, true, false},   // Path
    }};

    [[nodiscard]] const OfClass &at(StreetClass kind) const
    {
        return ofClass[static_cast<std::size_t>(kind)];
    }
    friend bool operator==(const TurnRules &, const TurnRules &) = default;
};

/// The rules with every figure that cannot be (negative, not a number) set back to its default.
[[nodiscard]] TurnRules cleaned(const TurnRules &rules);

/// Seconds for driving on from one piece of street to another at a junction of so many pieces.
/// Bearings are radians, clockwise from north, in the direction of driving.
[[nodiscard]] double secondsToTurn(const TurnRules &rules, double bearingIn, double bearingOut,
                                   unsigned arms);

} // namespace keyround
