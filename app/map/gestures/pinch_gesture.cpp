// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/gestures/pinch_gesture.h"

#include <algorithm>
#include <cmath>

namespace keyround {

void PinchGesture::move(const QPointF &first, const QPointF &second)
{
    const QPointF between = second - first;
    // Fingers that nearly touch would make the scale jump.
    const Fingers now{(first + second) / 2, std::max(20.0, std::hypot(between.x(), between.y()))};
    if (m_last) {
        m_surface.moveBy(now.middle - m_last->middle);
        m_surface.zoomAbout(now.middle, now.apart / m_last->apart);
    }
    m_last = now;
}

} // namespace keyround
