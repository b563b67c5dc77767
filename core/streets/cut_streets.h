// SPDX-License-Identifier: GPL-3.0-or-later
// Cuts streets into pieces from junction to junction, by the rule that each layer follows:
//  - SharedNodes (OpenStreetMap): streets meet where they have a point in common, to the last
//    digit, and nowhere else. (Two nodes drawn at one coordinate are taken for one.)
//  - EndPoints (centrelines): ends within the tolerance of each other are one junction. An end
//    within the tolerance of the middle of another street is a junction too, and cuts that street
//    there, whether it has a point there or not: a centreline that ends on another is a side
//    street. Two streets that cross without an end of either stay apart, even where both have a
//    point: one runs over the other, or the layer would have ended them there.
//  - Where both rules meet, an end of an EndPoints street joins the junctions and ends of a
//    SharedNodes street within the tolerance, but does not cut it.
// Joining chains: ends at 0, 0.8 and 1.6 m are one junction at 1 m of tolerance. Pieces are drawn
// to the junction's place, so a line never jumps and its length is what is driven.
#pragma once

#include "core/streets/street.h"

#include <cstdint>
#include <vector>

namespace keyround {

struct StreetPiece
{
    std::size_t street = 0; ///< index of the street it was cut from
    std::uint32_t from = 0; ///< node at its first point
    std::uint32_t to = 0;
    GeoLine line;
};

struct CutStreets
{
    std::vector<GeoPoint> nodes;
    std::vector<StreetPiece> pieces;
    std::size_t leftOut = 0; ///< streets not drivable or with fewer than two points
};

[[nodiscard]] CutStreets cutStreets(const std::vector<Street> &streets, double joinMetres);

} // namespace keyround
