// SPDX-License-Identifier: GPL-3.0-or-later
// Which way and how far from one place to another, for a person who stands at the first.
// Bearings are degrees clockwise from true north, 0 up to 360. Within 0.05 degrees of the
// geodesic's first bearing up to 5 km below 65 degrees (test_bearing.cpp, GeographicLib).
#pragma once

#include "core/geo/point.h"

#include <QString>

#include <optional>
#include <vector>

namespace keyround {

/// Zero for two equal places.
[[nodiscard]] double bearingBetween(const GeoPoint &from, const GeoPoint &to);

/// One of eight: "north", "north-east", ...
[[nodiscard]] QString compassWords(double degrees);

/// The nearest of some places, by distanceBetween(); places that are not valid are passed over.
struct NearestPlace
{
    std::size_t index = 0;
    Metres away;
};
[[nodiscard]] std::optional<NearestPlace> nearestPlace(const GeoPoint &from,
                                                       const std::vector<GeoPoint> &places);

/// "120 ft to the north-east"; "here" within what the screen would round to nothing (half a metre).
[[nodiscard]] QString awayWords(const GeoPoint &from, const GeoPoint &to, UnitSystem units);

} // namespace keyround
