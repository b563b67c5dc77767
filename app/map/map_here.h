// SPDX-License-Identifier: GPL-3.0-or-later
// Where the laptop is, drawn over the map: a full dot with the circle that the position may be off
// by and the direction of travel while the fix is current; a hollow dot with its age in words once
// it is old or lost.
#pragma once

#include "app/map/map_view.h"

class QPainter;

namespace keyround {

class LocalPlane;
class PositionFeed;

void paintHere(QPainter &painter, const MapFrame &frame, const LocalPlane &plane,
               const PositionFeed &feed);

} // namespace keyround
