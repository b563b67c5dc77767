// SPDX-License-Identifier: GPL-3.0-or-later
// Private to the zone painter: what its parts share while one drawing is painted.
#pragma once

#include "app/map/zone_frame.h"

#include <QColor>
#include <QFontMetricsF>
#include <QPolygonF>

#include <vector>

class QPainter;

namespace keyround {

struct ZoneCanvas
{
    QPainter &painter;
    QRectF area;
    const ZoneDrawing &drawing;
    const Sketch &sketch;
    QFontMetricsF metrics;
    ZoneFrame frame;
    std::vector<QRectF> taken; ///< where words stand already: others make way
    int unseen = 0;            ///< signs and flaggers that would stand past the road's end

    [[nodiscard]] double edge() const { return sketch.roadWidth.value / 2.0; }
    /// The outermost of the road, shoulders among it.
    [[nodiscard]] double outer() const { return edge() + sketch.shoulder.value; }
    /// Downwards on the drawing is towards the own side of the traffic that loses its lane; where
    /// traffic drives on the left it is the other way round.
    [[nodiscard]] double down() const { return drawing.drivesLeft ? -1.0 : 1.0; }
    [[nodiscard]] bool isDrawn(double along) const
    {
        return along >= frame.from() - 1 && along <= frame.to() + 1;
    }
};

/// Half the drawn width of the street that is crossed, in dots.
[[nodiscard]] double crossingHalf(const ZoneCanvas &canvas);

/// The road itself: lanes, ends, the street that is crossed, what is closed, the work space.
void paintZoneRoad(ZoneCanvas &canvas);
/// Cones, lid, flaggers and signs with their words, and the lengths of the stretches.
void paintZoneThings(ZoneCanvas &canvas);

inline const QColor zoneConeFill(0xD5, 0x5E, 0x00);

} // namespace keyround
