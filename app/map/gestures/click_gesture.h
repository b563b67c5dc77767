// SPDX-License-Identifier: GPL-3.0-or-later
// A press and a release at one place.
#pragma once

#include "app/map/gestures/gesture.h"

#include <optional>

namespace keyround {

class ClickGesture final : public Gesture
{
public:
    using Gesture::Gesture;
    void press(const GestureEvent &event) override { m_from = event.at; }
    void move(const GestureEvent &event) override;
    void release(const GestureEvent &event) override;
    void cancel() override { m_from.reset(); }

private:
    std::optional<QPointF> m_from;
};

} // namespace keyround
