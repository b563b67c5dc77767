// SPDX-License-Identifier: GPL-3.0-or-later
// A drag that moves the map under the hand.
#pragma once

#include "app/map/gestures/gesture.h"

#include <optional>

namespace keyround {

class PanGesture final : public Gesture
{
public:
    using Gesture::Gesture;
    void press(const GestureEvent &event) override;
    void move(const GestureEvent &event) override;
    void release(const GestureEvent &event) override;
    void cancel() override;

private:
    std::optional<QPointF> m_last;
    bool m_dragging = false;
};

} // namespace keyround
