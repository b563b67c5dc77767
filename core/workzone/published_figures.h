// SPDX-License-Identifier: GPL-3.0-or-later
// The published figures of temporary traffic control: MUTCD, 11th edition (FHWA, December 2023),
// Part 6, tables 6B-1 to 6B-4 and section 6K.01. Read from a public copy of Part 6 that
// calls itself unverified; table 6B-3 agrees with a second, page-cited one. The road authority's
// own rules go before them.
//
// The source speaks feet and miles an hour, and so does this folder, so that no rounding gets in
// between; the screen turns them into metres where the project asks for it.
#pragma once

#include "core/common/result.h"
#include "core/common/units.h"

#include <compare>

namespace keyround {

struct Feet
{
    double value = 0;
    [[nodiscard]] constexpr Metres metres() const { return {value * metresPerFoot}; }
    [[nodiscard]] static constexpr Feet of(Metres length) { return {length.value / metresPerFoot}; }
    friend auto operator<=>(const Feet &, const Feet &) = default;
};

/// Whole feet, upwards: what is published as "at least" is never shortened by rounding.
[[nodiscard]] Feet roundedUp(Feet length);
/// "320 ft", or metres, both rounded up.
[[nodiscard]] QString lengthAtLeastText(Feet length, UnitSystem units);

/// "40 ft", or metres, both rounded down: for what may be no longer.
[[nodiscard]] QString lengthAtMostText(Feet length, UnitSystem units);

/// What table 6B-1 tells apart. Where urban low speed ends is the agency's to say.
enum class RoadSetting { UrbanLowSpeed, UrbanHighSpeed, Rural, Freeway };
[[nodiscard]] QString wordFor(RoadSetting setting);

/// Table 6B-1. a: from the transition to the first sign before it; b: to the second; c: to the
/// third.
struct SignSpacing
{
    Feet a;
    Feet b;
    Feet c;
};
[[nodiscard]] SignSpacing advanceSignSpacing(RoadSetting setting);

/// Table 6B-2, which may be used for the buffer (6B.06): 20 to 75 mph in steps of 5. A speed
/// between two steps takes the higher one, a lower one than 20 takes that of 20.
/// BadInput above 75 mph, and for no speed at all.
[[nodiscard]] Result<Feet> stoppingSightDistance(double mph);

/// Table 6B-4: L = W S^2 / 60 up to 40 mph, L = W S from 45 mph. Between them the source says
/// nothing: the longer of the two is taken, and said.
struct TaperLength
{
    Feet full; ///< L, not rounded
    bool isBetweenRules = false;
};
/// BadInput without a width or a speed, and above 75 mph.
[[nodiscard]] Result<TaperLength> taperLength(Feet width, double mph);

/// Table 6B-3. The shoulder taper is printed as 0.33 L; a third of L, rounded up, is the safer
/// reading (California tabulates that: 107 ft where 0.33 L gives 105.6).
enum class TaperKind { Merging, Shifting, Shoulder, OneLaneTwoWay, Downstream };
[[nodiscard]] QString wordFor(TaperKind kind);
/// The shortest that the table allows, rounded up to whole feet.
[[nodiscard]] Feet shortestTaper(TaperKind kind, Feet full);
/// The longest that the table allows for one-lane two-way and downstream tapers; without limit for
/// the others.
[[nodiscard]] Feet longestTaper(TaperKind kind);

/// 6K.01: devices stand at most as many feet apart as the speed has mph in tapers, twice that in
/// tangents. About 20 ft in a one-lane two-way taper (from a text of the 2009 edition).
[[nodiscard]] Feet taperSpacing(TaperKind kind, double mph);
[[nodiscard]] Feet tangentSpacing(double mph);

} // namespace keyround
