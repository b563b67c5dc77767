// SPDX-License-Identifier: GPL-3.0-or-later
// What a map shows, gathered from the session once and painted anywhere: window, PNG, paper.
//
// Everything lies on one local plane in metres (core/geo/point.h says how true it is), with an
// index a layer, so that painting touches only what is seen.
#pragma once

#include "app/map/map_shut.h"
#include "app/map/plane_index.h"
#include "core/fieldlog/judgement.h"
#include "core/geo/point.h"
#include "core/inventory/valve.h"
#include "core/streets/street.h"

#include <QSet>

#include <optional>
#include <vector>

namespace keyround {

class Session;

/// The round as drawn: start, numbered stops, finish, and the driven line.
struct MapRoute
{
    struct Stop
    {
        ValveId valve;
        GeoPoint place;
        QString label; ///< "1", "2", ...
        bool done = false;
    };
    GeoPoint start;
    GeoPoint finish;
    std::vector<Stop> stops;
    GeoLine line;
    [[nodiscard]] bool isEmpty() const { return stops.empty(); }
};

/// The round's stops and driven line, for drawing and for GPX.
[[nodiscard]] MapRoute mapRouteOf(Session &session, const struct Round &round);

struct MapContent
{
    struct DrawnStreet
    {
        StreetClass kind = StreetClass::Unknown;
        PlaneLine line;
    };
    /// A street's name with the longest line that its pieces join into.
    struct NamedLine
    {
        QString name;
        PlaneLine line;
    };
    struct DrawnMain
    {
        bool large = false; ///< 12 in (DN 300) and more: drawn a little stronger
        PlaneLine line;
    };
    struct DrawnValve
    {
        ValveId id;
        QString number;
        PlanePoint at;
        double turn = 0; ///< degrees clockwise on the screen from lying east to west
        bool normallyClosed = false;
        bool leftOther = false; ///< left in another than its normal position
        Condition condition = Condition::NeverVisited;
    };

    UnitSystem units = UnitSystem::Us;
    LocalPlane plane;
    PlaneBox bounds; ///< of the layers; without route and preview
    std::vector<DrawnStreet> streets;
    std::vector<NamedLine> names;
    std::vector<DrawnMain> mains;
    std::vector<PlanePoint> hydrants;
    std::vector<DrawnValve> valves; ///< those that need somebody last: painted on top
    PlaneIndex streetIndex;
    PlaneIndex nameIndex;
    PlaneIndex mainIndex;
    PlaneIndex hydrantIndex;
    PlaneIndex valveIndex;

    MapRoute route;
    MapShut shut;
    QSet<ValveId> chosen;
    /// Conditions are what the map is looked at for: marks wherever they do not stand beside signs.
    bool conditionsFirst = false;
    std::vector<GeoPoint> preview;

    /// True when no layer has anything to draw.
    [[nodiscard]] bool isEmpty() const { return bounds.isEmpty(); }
    /// The nearest valve within reach, by its place.
    [[nodiscard]] const DrawnValve *valveNear(const PlanePoint &at, double metres) const;
};

/// Reads all layers. The route, the shut, the chosen valves and the preview are left empty.
[[nodiscard]] MapContent gatherMap(Session &session);
/// Reads the valves again and keeps the other layers: after a visit or an edit.
void gatherValves(Session &session, MapContent &content);
/// Puts these valves in the place of the content's, in the order of painting; the bounds stay.
void placeValves(std::vector<MapContent::DrawnValve> valves, MapContent &content);

} // namespace keyround
