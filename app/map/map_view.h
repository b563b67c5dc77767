// SPDX-License-Identifier: GPL-3.0-or-later
// What part of the plane is looked at, and how large. North is always up. Screen lengths are the
// painter's own pixels: for paper, scale the painter first (a pixel is meant to be 1/96 in).
#pragma once

#include "app/map/plane_index.h"

#include <QPointF>
#include <QRectF>
#include <QSizeF>

namespace keyround {

struct MapView
{
    static constexpr double leastScale = 0.001; ///< pixels a metre: 1 km is a pixel
    static constexpr double mostScale = 40.0;

    PlanePoint centre;
    double pixelsPerMetre = 0.2;
    bool withKey = false; ///< draw the key to the signs in a corner

    friend bool operator==(const MapView &, const MapView &) = default;
};

/// A view onto an area of the painter.
struct MapFrame
{
    QRectF area;
    MapView view;

    [[nodiscard]] QPointF toScreen(const PlanePoint &point) const
    {
        return {area.center().x() + (point.x - view.centre.x) * view.pixelsPerMetre,
                area.center().y() - (point.y - view.centre.y) * view.pixelsPerMetre};
    }
    [[nodiscard]] PlanePoint toPlane(const QPointF &point) const
    {
        return {view.centre.x + (point.x() - area.center().x()) / view.pixelsPerMetre,
                view.centre.y - (point.y() - area.center().y()) / view.pixelsPerMetre};
    }
    /// What is seen, and some pixels more.
    [[nodiscard]] PlaneBox seen(double marginPixels) const
    {
        PlaneBox box;
        box.take(toPlane(area.topLeft()));
        box.take(toPlane(area.bottomRight()));
        return box.grown(marginPixels / view.pixelsPerMetre);
    }
};

/// The view that shows the whole box in an area of this size, with a margin around it. One point
/// alone is shown with its neighbourhood. An empty box gives the default view.
[[nodiscard]] MapView viewOf(const PlaneBox &box, const QSizeF &size, double marginPixels = 40.0);

} // namespace keyround
