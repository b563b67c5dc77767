// SPDX-License-Identifier: GPL-3.0-or-later
// What a map widget holds: content that follows the session, the view, the picture of the layers,
// the gestures. Private to map_widget.cpp and map_parts.cpp.
#pragma once

#include "app/map/gestures/gesture.h"
#include "app/map/gestures/pinch_gesture.h"
#include "app/map/map_view.h"
#include "app/map/map_widget.h"

#include <QPixmap>
#include <QTimer>

#include <optional>

namespace keyround {

class MapWidget::Parts final : public MapSurface
{
public:
    Parts(MapWidget &widget, Session &session);

    // MapSurface
    void moveBy(const QPointF &pixels) override;
    void zoomAbout(const QPointF &at, double factor) override;
    void clickAt(const QPointF &at, bool byTouch) override;
    void pickWithin(const QPolygonF &outline) override;
    void refreshOverlay() override { m_widget.update(); }

    enum class Stale { Nothing, Valves, Everything };
    void markStale(Stale what);
    /// The content, read again when it is stale.
    MapContent &content();
    void setView(const MapView &view);
    [[nodiscard]] MapFrame frame() const { return {QRectF(m_widget.rect()), m_view}; }
    [[nodiscard]] const MapView &view() const { return m_view; }
    /// What an area of another shape should show: what was asked for, or what a hand has moved to.
    [[nodiscard]] MapView viewFor(const QSizeF &size) const;
    void showBox(const PlaneBox &box);
    void showKey(bool on);
    void showConditions(const std::optional<QHash<ValveId, Condition>> &conditions);
    /// The next layers are shown whole again.
    void forgetView()
    {
        m_viewTouched = false;
        m_shown.reset();
    }
    std::optional<PlaneBox> m_shown; ///< the box last asked for, while no hand has moved the map
    void resized();
    /// The layers as they are now are no longer those of the picture.
    void layersChanged();
    void paint(QPainter &painter);
    [[nodiscard]] QString tipAt(const QPointF &at);
    void tellGestures(void (Gesture::*what)(const GestureEvent &), const GestureEvent &event);
    void cancelGestures();

    bool lasso = false;
    bool picksPlaces = false;
    bool crossShown = false;
    PinchGesture pinch;

private:
    void readAgain();
    void placeConditions();
    void drawPicture();
    void drawFromPicture(QPainter &painter);
    [[nodiscard]] bool pictureCovers() const;
    [[nodiscard]] double reachMetres(bool byTouch) const;

    MapWidget &m_widget;
    Session &m_session;
    MapContent m_content;
    std::optional<QHash<ValveId, Condition>> m_conditions; ///< shown in place of today's
    std::vector<MapContent::DrawnValve> m_all;             ///< today's, while others are shown
    Stale m_stale = Stale::Everything;
    MapView m_view;
    bool m_viewTouched = false; ///< by a person: new layers no longer move it
    std::vector<std::unique_ptr<Gesture>> m_gestures;

    QPixmap m_picture; ///< the layers, larger than the widget by a margin all around
    MapView m_pictureView;
    double m_pictureMilliseconds = 0; ///< what drawing it took
    bool m_pictureStale = true;
    QTimer m_settle; ///< draws afresh when a hand rests
};

} // namespace keyround
