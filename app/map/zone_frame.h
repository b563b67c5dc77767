// SPDX-License-Identifier: GPL-3.0-or-later
// Private to the zone painter: where a sketch's point comes to lie on the drawing. Traffic that
// loses its lane drives from left to right, its own side below (where traffic drives on the left:
// above). Within the activity area the street's own shape to
// scale; past its ends straight on, in steps on a broken axis.
#pragma once

#include "app/map/zone_painter.h"

#include <QPointF>

namespace keyround {

/// Dots on the broken axis from one sign to the next.
inline constexpr double signStep = 74;
/// And on the street that is crossed, beside which their words stand.
inline constexpr double sideSignStep = 34;
/// Dots out of the road to the first of them: on the oncoming side past the lines of the lengths.
[[nodiscard]] constexpr double sideSignStart(bool ownSide)
{
    return ownSide ? 24 : 44;
}

class ZoneFrame
{
public:
    ZoneFrame(const ZoneDrawing &drawing, const QRectF &area);

    /// Along in feet within the activity area, across in feet.
    [[nodiscard]] QPointF at(double along, double across) const;
    /// On the broken axis: so many dots before (negative) or past the activity area.
    [[nodiscard]] QPointF beyond(double dots, double across) const;
    /// The direction of driving on the drawing, a unit vector.
    [[nodiscard]] QPointF directionAt(double along) const;

    [[nodiscard]] double from() const { return m_from; }
    [[nodiscard]] double to() const { return m_to; }
    [[nodiscard]] double before() const { return m_before; } ///< dots of broken axis
    [[nodiscard]] double past() const { return m_past; }
    /// Dots that the street that is crossed is drawn out of the road on its own side or the other;
    /// 0 without one.
    [[nodiscard]] double crossReach(bool ownSide) const
    {
        return m_crossReach > 0 ? m_crossReach + sideSignStart(ownSide) : 0;
    }
    [[nodiscard]] double dotsAFoot() const { return m_scale; }
    [[nodiscard]] int widened() const { return m_widened; }
    [[nodiscard]] bool endsBefore() const { return m_endsBefore; } ///< the road itself
    [[nodiscard]] bool endsPast() const { return m_endsPast; }
    [[nodiscard]] double northAngle() const { return m_turn; } ///< radians, of the plane's turning

private:
    void takeActivity(const ZoneDrawing &drawing);
    void cutAtDeadEnds(const ZoneDrawing &drawing);
    void fit(const ZoneDrawing &drawing, const QRectF &area);
    void centre(const ZoneDrawing &drawing, const QRectF &area);
    [[nodiscard]] QPointF turned(const PlanePoint &point) const;

    StreetFrame m_frame;
    double m_from = -60;
    double m_to = 60;
    double m_before = 0;
    double m_past = 0;
    double m_scale = 1;
    int m_widened = 1;
    double m_turn = 0;
    double m_crossReach = 0;
    bool m_endsBefore = false;
    bool m_endsPast = false;
    QPointF m_shift;
};

} // namespace keyround
