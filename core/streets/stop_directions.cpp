// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/stop_directions.h"

#include <cmath>
#include <limits>

namespace keyround {

StreetSide sideOf(const GeoPoint &a, const GeoPoint &b, const GeoPoint &place, double middleMetres)
{
    const LocalPlane plane(place);
    const PlanePoint from = plane.toPlane(a);
    const PlanePoint to = plane.toPlane(b);
    const double length = distance(from, to);
    if (length <= 0.0) {
        return StreetSide::Middle;
    }
    // The place is the plane's origin; positive to the left.
    const double off = ((to.y - from.y) * from.x - (to.x - from.x) * from.y) / length;
    if (std::abs(off) < middleMetres) {
        return StreetSide::Middle;
    }
    return off > 0.0 ? StreetSide::Left : StreetSide::Right;
}

StopDirections stopDirections(const DrivenPiece &piece, StreetSide side, const TurnRules &rules)
{
    constexpr double never = std::numeric_limits<double>::infinity();
    if (!piece.forward || !piece.backward) {
        const std::array<double, 2> only{piece.backward ? 0.0 : never, piece.forward ? 0.0 : never};
        return {only, only};
    }
    const TurnRules::OfClass &allows = rules.at(piece.kind);
    if (allows.uTurnMidStreet && !allows.kerbSideOnly) {
        const double quarter = rules.uTurnSeconds / 4.0;
        return {{quarter, quarter}, {quarter, quarter}};
    }
    const StreetSide kerb =
        rules.drivingSide == DrivingSide::Right ? StreetSide::Right : StreetSide::Left;
    const double turned = allows.uTurnMidStreet ? rules.uTurnSeconds : never;
    const bool standsForward = side == kerb || side == StreetSide::Middle;
    const std::array<double, 2> stands{standsForward ? turned : 0.0, standsForward ? 0.0 : turned};
    return {stands, stands};
}

} // namespace keyround
