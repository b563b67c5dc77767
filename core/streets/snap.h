// SPDX-License-Identifier: GPL-3.0-or-later
// Where a place touches the drive graph.
#pragma once

#include "core/geo/point.h"

#include <cstddef>

namespace keyround {

/// Of a street, looking along its line from the first point.
enum class StreetSide { Middle, Left, Right };

struct Snap
{
    std::size_t edge = 0;    ///< index of a cut piece of street
    double along = 0;        ///< metres from the piece's first point
    double offsetMetres = 0; ///< how far the place lies from the street
    GeoPoint onStreet;
    StreetSide side = StreetSide::Middle;
};

/// On which side of the directed segment from a to b a place lies.
[[nodiscard]] StreetSide sideOf(const GeoPoint &a, const GeoPoint &b, const GeoPoint &place,
                                double middleMetres);

} // namespace keyround
