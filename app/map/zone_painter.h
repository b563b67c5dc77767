// SPDX-License-Identifier: GPL-3.0-or-later
// A work zone drawn from what was worked out, for screen and paper alike: lanes, what is closed,
// cones, signs, flaggers and the lid on the street's own shape.
//
// The activity area (taper, buffer, work space) is to scale along the road. A lane would be a hair
// in it where tapers are long, so widths may be drawn larger by a whole number, and signs stand far
// before it, so they are drawn on a broken axis with their distances written. The drawing says
// both.
#pragma once

#include "core/workzone/sketch.h"

#include <QRectF>
#include <QString>

class QPainter;

namespace keyround {

struct ZoneDrawing
{
    Sketch sketch;
    PlaneLine street; ///< metres on a plane, north up
    PlanePoint lid;
    bool forward = true;
    bool drivesLeft = false; ///< traffic does
    /// The road ends at the line's first or last point: nothing is drawn past it.
    bool firstIsDeadEnd = false;
    bool lastIsDeadEnd = false;
    bool isRoadAssumed = false; ///< lanes were not asked: the road's width is not to be trusted
    QString streetName;
    UnitSystem units = UnitSystem::Us;
};

[[nodiscard]] ZoneDrawing zoneDrawing(const Site &site, const SetUp &setUp, UnitSystem units);
/// Nothing is drawn in an area of less than 240 x 160 dots.
void paintZone(QPainter &painter, const QRectF &area, const ZoneDrawing &drawing);

} // namespace keyround
