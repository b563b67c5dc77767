// SPDX-License-Identifier: GPL-3.0-or-later
// One class a gesture. The map tells every gesture of every press, move and release; each decides
// for itself whether that is its own, so that they need not know of one another.
#pragma once

#include <QPointF>
#include <QPolygonF>
#include <Qt>

class QPainter;

namespace keyround {

/// What gestures may do to the map.
class MapSurface
{
public:
    MapSurface() = default;
    MapSurface(const MapSurface &) = delete;
    MapSurface &operator=(const MapSurface &) = delete;
    virtual ~MapSurface() = default;

    virtual void moveBy(const QPointF &pixels) = 0;
    virtual void zoomAbout(const QPointF &at, double factor) = 0;
    virtual void clickAt(const QPointF &at, bool byTouch) = 0;
    virtual void pickWithin(const QPolygonF &outline) = 0;
    /// Paint again what lies over the layers.
    virtual void refreshOverlay() = 0;
};

struct GestureEvent
{
    QPointF at;
    bool byTouch = false;
    bool lasso = false; ///< a drag draws a lasso: the mode is on, or Shift is held
};

class Gesture
{
public:
    explicit Gesture(MapSurface &surface) : m_surface(surface) {}
    Gesture(const Gesture &) = delete;
    Gesture &operator=(const Gesture &) = delete;
    virtual ~Gesture() = default;

    virtual void press(const GestureEvent &event) = 0;
    virtual void move(const GestureEvent &event) = 0;
    virtual void release(const GestureEvent &event) = 0;
    /// Escape, a second finger, lost focus: as if it had never begun.
    virtual void cancel() = 0;
    virtual void paint(QPainter &) const {}

protected:
    [[nodiscard]] MapSurface &surface() const { return m_surface; }
    /// A hand shakes: up to here a press is no drag. A finger in a glove shakes more.
    [[nodiscard]] static double slackPixels(bool byTouch) { return byTouch ? 14.0 : 5.0; }

private:
    MapSurface &m_surface;
};

} // namespace keyround
