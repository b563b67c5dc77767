// SPDX-License-Identifier: GPL-3.0-or-later
// The set-up drawn to scale on the street's own shape: where each cone, sign and flagger stands.
// First as feet along and across the street, then, bent along its line, as places in metres on a
// plane around the lid. What is drawn is what was worked out: nothing is added here.
//
// Along: feet from the lid in the direction of the traffic that loses its lane. Across: feet from
// the road's middle; positive on that traffic's own side: its right where traffic drives on the
// right, its left where it drives on the left.
#pragma once

#include "core/geo/point.h"
#include "core/workzone/set_up.h"

#include <optional>
#include <vector>

namespace keyround {

struct SketchItem
{
    enum class Kind { Cone, Sign, Flagger, Lid };
    Kind kind = Kind::Cone;
    Feet along;
    Feet across;
    QString words;              ///< a sign's legend; "flagger"
    bool facesOncoming = false; ///< read by the traffic that comes the other way
    /// Stands on the street that is crossed: 1: on its part on that traffic's own side, 2: on the
    /// other. `across` is then measured along that street, and `along` says nothing.
    int sideStreet = 0;
};

struct SketchStretch
{
    ZonePart part;
    Feet from; ///< along
    Feet to;
};

struct Sketch
{
    Feet roadWidth; ///< of all lanes
    Feet shoulder;  ///< on either side; 0: none
    int lanes = 2;
    bool isOneWay = false;
    Feet workFrom; ///< along
    Feet workTo;
    Feet closedFrom; ///< across: what the work closes lies between these
    Feet closedTo;
    Feet closedEdge; ///< across: where the closure begins; the cones stand away from it
    /// Along: the middle of the street that is crossed, where this kind of set-up has it, for where
    /// it really is nobody has said. Empty away from intersections.
    std::optional<Feet> crossAt;
    std::vector<SketchStretch> stretches;
    std::vector<SketchItem> items;
    Feet first; ///< along: the farthest upstream that anything stands
    Feet last;
};

[[nodiscard]] Sketch sketchOf(const Site &site, const SetUp &setUp);

/// A sketch's point on the plane: the street's line is followed from the place nearest to the lid,
/// and continued straight past its ends. `forward`: the traffic that loses its lane drives the
/// line from its first point to its last.
class StreetFrame
{
public:
    /// The line must have two different points; a straight one to the east is used without them.
    StreetFrame(PlaneLine street, const PlanePoint &lid, bool forward, bool drivesLeft = false);
    [[nodiscard]] PlanePoint at(Feet along, Feet across) const;
    /// The direction of driving there, in radians from east, counterclockwise.
    [[nodiscard]] double directionAt(Feet along) const;

private:
    struct Spot
    {
        PlanePoint point;
        double direction = 0;
    };
    [[nodiscard]] Spot spotAt(double metresAlong) const;

    PlaneLine m_line;
    std::vector<double> m_metres; ///< from the first point, by point
    double m_lid = 0;             ///< metres along at the lid
    double m_side = 1;            ///< -1 where traffic drives on the left
};

} // namespace keyround
