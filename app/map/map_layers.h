// SPDX-License-Identifier: GPL-3.0-or-later
// The layers of the map, each painted by one function over the one below it.
#pragma once

#include "app/map/label_grid.h"
#include "app/map/map_content.h"
#include "app/map/map_view.h"

#include <QPolygonF>

#include <functional>
#include <vector>

class QPainter;

namespace keyround {

/// How much a map at this scale can hold.
[[nodiscard]] inline bool showsBowTies(const MapView &view)
{
    return view.pixelsPerMetre >= 0.30;
}
[[nodiscard]] inline bool showsMarksBeside(const MapView &view)
{
    return view.pixelsPerMetre >= 0.55;
}
[[nodiscard]] inline bool showsNumbers(const MapView &view)
{
    return view.pixelsPerMetre >= 1.5;
}

/// A line on the screen, without points that fall onto the one before.
[[nodiscard]] QPolygonF screenLine(const PlaneLine &line, const MapFrame &frame);

void paintStreets(QPainter &painter, const MapFrame &frame, const MapContent &content);
void paintMains(QPainter &painter, const MapFrame &frame, const MapContent &content);
void paintHydrants(QPainter &painter, const MapFrame &frame, const MapContent &content);
/// Names along their lines, only where they fit.
void paintStreetNames(QPainter &painter, const MapFrame &frame, const MapContent &content,
                      LabelGrid &labels);

/// Takes the cells of the valves' signs, so that names keep clear of them.
void reserveValves(const MapFrame &frame, const MapContent &content, LabelGrid &labels);
void paintValves(QPainter &painter, const MapFrame &frame, const MapContent &content,
                 LabelGrid &labels);
/// A bow-tie: two triangles tip to tip; filled when normally closed.
void drawBowTie(QPainter &painter, const QPointF &at, double degrees, bool filled, double half);

void paintRouteLine(QPainter &painter, const MapFrame &frame, const MapContent &content);
/// Takes the cells of the driven line, so that names stand beside it.
void reserveRoute(const MapFrame &frame, const MapContent &content, LabelGrid &labels);
/// The same for any line on the screen.
void reserveLine(const MapFrame &frame, const QPolygonF &line, LabelGrid &labels);
/// Where a stop's numbered disc stands, and how large it is.
struct PlacedStop
{
    std::size_t stop = 0; ///< in the route
    QPointF at;           ///< of the valve
    QPointF middle;       ///< of the disc
    double radius = 0;
};
/// Finds places for the stops that are seen, off one another and off what `labels` holds.
[[nodiscard]] std::vector<PlacedStop> placeStops(const QPainter &painter, const MapFrame &frame,
                                                 const MapContent &content, LabelGrid &labels);
/// The numbered stops, start and finish.
void paintRouteStops(QPainter &painter, const MapFrame &frame, const MapContent &content,
                     const std::vector<PlacedStop> &stops);
void paintPreview(QPainter &painter, const MapFrame &frame, const MapContent &content);

/// The shut: its pieces of pipe, under the valves, and its signs, over everything.
void paintShutLines(QPainter &painter, const MapFrame &frame, const MapContent &content);
/// Takes the cells of the pieces, so that names stand beside them.
void reserveShut(const MapFrame &frame, const MapContent &content, LabelGrid &labels);
void paintShutSigns(QPainter &painter, const MapFrame &frame, const MapContent &content);

/// A line of the key: words, and how their sign is drawn about a place.
struct KeyLine
{
    QString words;
    std::function<void(const QPointF &)> draw;
};
[[nodiscard]] std::vector<KeyLine> shutKeyLines(QPainter &painter, const MapShut &shut);

/// Scale bar with its length in the project's units, and north.
void paintScaleBar(QPainter &painter, const QRectF &area, const MapView &view, UnitSystem units);
void paintKey(QPainter &painter, const QRectF &area, const MapContent &content);

/// Text that stays readable over lines: a paper-coloured edge around it. `at` is the baseline's
/// left end.
void drawHaloText(QPainter &painter, const QPointF &at, const QString &text, const QColor &colour);

} // namespace keyround
