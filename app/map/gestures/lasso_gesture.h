// SPDX-License-Identifier: GPL-3.0-or-later
// A drag that draws an outline; letting go picks the valves within.
#pragma once

#include "app/map/gestures/gesture.h"

namespace keyround {

class LassoGesture final : public Gesture
{
public:
    using Gesture::Gesture;
    void press(const GestureEvent &event) override;
    void move(const GestureEvent &event) override;
    void release(const GestureEvent &event) override;
    void cancel() override;
    void paint(QPainter &painter) const override;

private:
    QPolygonF m_outline;
    bool m_dragging = false;
};

} // namespace keyround
