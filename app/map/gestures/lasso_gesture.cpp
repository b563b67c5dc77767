// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/gestures/lasso_gesture.h"

#include "app/shell/style.h"

#include <QPainter>

#include <utility>

namespace keyround {

void LassoGesture::press(const GestureEvent &event)
{
    cancel();
    if (event.lasso) {
        m_outline << event.at;
    }
}

void LassoGesture::move(const GestureEvent &event)
{
    if (m_outline.isEmpty()) {
        return;
    }
    const double step = (event.at - m_outline.back()).manhattanLength();
    if (!m_dragging && step <= slackPixels(event.byTouch)) {
        return;
    }
    m_dragging = true;
    if (step >= 2.0) {
        m_outline << event.at;
        surface().refreshOverlay();
    }
}

void LassoGesture::release(const GestureEvent &event)
{
    move(event);
    const bool drawn = m_dragging && m_outline.size() >= 3;
    const QPolygonF outline = std::exchange(m_outline, {});
    m_dragging = false;
    surface().refreshOverlay();
    if (drawn) {
        surface().pickWithin(outline);
    }
}

void LassoGesture::cancel()
{
    if (!m_outline.isEmpty()) {
        m_outline.clear();
        surface().refreshOverlay();
    }
    m_dragging = false;
}

void LassoGesture::paint(QPainter &painter) const
{
    if (!m_dragging) {
        return;
    }
    QColor tint = look::water;
    tint.setAlpha(36);
    painter.setBrush(tint);
    painter.setPen(QPen(look::water, 2.0, Qt::DashLine));
    painter.drawPolygon(m_outline);
}

} // namespace keyround
