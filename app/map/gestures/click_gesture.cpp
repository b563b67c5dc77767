// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/gestures/click_gesture.h"

namespace keyround {

void ClickGesture::move(const GestureEvent &event)
{
    if (m_from && (event.at - *m_from).manhattanLength() > slackPixels(event.byTouch)) {
        m_from.reset();
    }
}

void ClickGesture::release(const GestureEvent &event)
{
    move(event);
    if (m_from) {
        m_from.reset();
        surface().clickAt(event.at, event.byTouch);
    }
}

} // namespace keyround
