// SPDX-License-Identifier: GPL-3.0-or-later
// The map: the table on which the day is laid out. Streets quiet, mains thin, valves as bow-ties
// (filled: normally closed; turned along their main) with a mark for condition, the route as one
// drawn line with numbered stops.
//
// Drag moves it; wheel, pinch, + and - change the scale; arrows move, Home shows all; Enter clicks
// what the cross in the middle points at (the cross shows while the keyboard holds the map).
// Shift with a drag draws a lasso at any time.
#pragma once

#include "app/map/map_content.h"

#include <QHash>
#include <QWidget>

#include <memory>
#include <optional>

class QPainter;
class QTouchEvent;

namespace keyround {

class Session;

class MapWidget final : public QWidget
{
    Q_OBJECT
public:
    explicit MapWidget(Session &session, QWidget *parent = nullptr);
    ~MapWidget() override;

    /// The route to draw over the layers; empty takes it away.
    void setRoute(const MapRoute &route);
    /// The shut to draw over the layers; an empty one takes it away.
    void setShut(const MapShut &shut);
    /// Valves drawn with a ring in the colour of what can be acted on.
    void setChosen(const QSet<ValveId> &chosen);
    /// Draws these valves alone, in these conditions: another day's. Empty (not: no valves) brings
    /// back all of them as they are.
    void setConditionsShown(const std::optional<QHash<ValveId, Condition>> &conditions);
    /// Points drawn in front of everything: an import's preview.
    void setPreview(const std::vector<GeoPoint> &points);

    void showAll();
    /// Shows the route with its start and finish; everything when there is none.
    void showRoute();
    /// Brings the valve into view, near enough to see its sign.
    void showValve(const ValveId &valve);
    void showPoints(const std::vector<GeoPoint> &points);
    /// Shows this place without moving the map when it is seen already.
    void showPlace(const GeoPoint &place);
    void zoom(double factor); ///< about the middle

    /// While on, a drag draws a lasso instead of moving the map.
    void setLasso(bool on);
    /// While on, every click means a place, also one on a valve.
    void setPicksPlaces(bool on);
    /// The key to the signs, in a corner.
    void setKeyShown(bool on);

    /// Paints what is seen, whole, into an area, and the key to the signs beside it: for files.
    void paintInto(QPainter &painter, const QRectF &area);

    [[nodiscard]] QPointF screenPoint(const GeoPoint &place) const;
    [[nodiscard]] double pixelsPerMetre() const;

    [[nodiscard]] QSize sizeHint() const override { return {640, 480}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {240, 180}; }

Q_SIGNALS:
    void valveClicked(const ValveId &valve);
    void valvesPicked(const QList<ValveId> &valves); ///< by lasso
    void placeClicked(const GeoPoint &place);        ///< where no valve is

protected:
    bool event(QEvent *event) override;
    void paintEvent(QPaintEvent *event) override;
    void resizeEvent(QResizeEvent *event) override;
    void mousePressEvent(QMouseEvent *event) override;
    void mouseMoveEvent(QMouseEvent *event) override;
    void mouseReleaseEvent(QMouseEvent *event) override;
    void wheelEvent(QWheelEvent *event) override;
    void keyPressEvent(QKeyEvent *event) override;
    void focusInEvent(QFocusEvent *event) override;
    void focusOutEvent(QFocusEvent *event) override;

private:
    bool touchEvent(QTouchEvent *event);
    void listen(Session &session);
    void buildButtons();

    class Parts;
    std::unique_ptr<Parts> m_parts;
};

} // namespace keyround
