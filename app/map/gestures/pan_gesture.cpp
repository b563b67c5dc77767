// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/gestures/pan_gesture.h"

namespace keyround {

void PanGesture::press(const GestureEvent &event)
{
    cancel();
    if (!event.lasso) {
        m_last = event.at;
    }
}

void PanGesture::move(const GestureEvent &event)
{
    if (!m_last) {
        return;
    }
    const QPointF step = event.at - *m_last;
    if (!m_dragging && step.manhattanLength() <= slackPixels(event.byTouch)) {
        return;
    }
    m_dragging = true;
    m_last = event.at;
    surface().moveBy(step);
}

void PanGesture::release(const GestureEvent &event)
{
    move(event);
    cancel();
}

void PanGesture::cancel()
{
    m_last.reset();
    m_dragging = false;
}

} // namespace keyround
