// SPDX-License-Identifier: GPL-3.0-or-later
// The map: the table on which the day is laid out. Streets quiet, mains thin, valves as bow-ties
// (filled: normally closed; turned along their main) with a mark for condition, the route as one
// drawn line with numbered stops. Pan by drag, zoom by wheel, pinch, + and -, all by keyboard too.
#pragma once

#include "app/map/map_content.h"

#include <QWidget>

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
    /// Valves drawn with a ring in the colour of what can be acted on.
    void setChosen(const QSet<ValveId> &chosen);
    /// Points drawn in front of everything: an import's preview.
    void setPreview(const std::vector<GeoPoint> &points);

    void showAll();
    void showValve(const ValveId &valve);
    void showPoints(const std::vector<GeoPoint> &points);

    /// While on, a drag draws a lasso instead of moving the map.
    void setLasso(bool on);

    [[nodiscard]] QPointF screenPoint(const GeoPoint &place) const;

Q_SIGNALS:
    void valveClicked(const ValveId &valve);
    void valvesPicked(const QList<ValveId> &valves); ///< by lasso
    void placeClicked(const GeoPoint &place);        ///< where no valve is

private:
    struct Parts;
    std::unique_ptr<Parts> m_parts;
};

} // namespace keyround
