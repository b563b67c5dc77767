// SPDX-License-Identifier: GPL-3.0-or-later
// Painting a map: for the window, for picture files, for paper; the same drawing everywhere.
#pragma once

#include "app/map/map_content.h"
#include "app/map/map_view.h"
#include "core/common/result.h"

#include <QSize>
#include <QString>

class QPainter;

namespace keyround {

/// Everything but scale bar and key, clipped to the area.
void paintMapLayers(QPainter &painter, const QRectF &area, const MapContent &content,
                    const MapView &view);

/// The whole map with its scale bar and north, and with the key where the view asks for it. An
/// area without layers says so.
void paintMap(QPainter &painter, const QRectF &area, const MapContent &content,
              const MapView &view);

/// What a picture of this route should show: the route, or everything when it is empty.
[[nodiscard]] MapView viewOfRoute(const MapContent &content, const MapRoute &route,
                                  const QSizeF &size);

/// The project's map with a route (may be empty) as a PNG, key and scale bar included.
[[nodiscard]] Status saveMapPng(Session &session, const MapRoute &route, const QString &path,
                                const QSize &size = {1600, 1200});

} // namespace keyround
