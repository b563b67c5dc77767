// SPDX-License-Identifier: GPL-3.0-or-later
// Two fingers: apart and together changes the scale about the point between them, and moving both
// moves the map.
#pragma once

#include "app/map/gestures/gesture.h"

#include <optional>

namespace keyround {

class PinchGesture
{
public:
    explicit PinchGesture(MapSurface &surface) : m_surface(surface) {}
    void move(const QPointF &first, const QPointF &second);
    void end() { m_last.reset(); }

private:
    struct Fingers
    {
        QPointF middle;
        double apart = 0;
    };
    MapSurface &m_surface;
    std::optional<Fingers> m_last;
};

} // namespace keyround
