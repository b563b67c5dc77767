// SPDX-License-Identifier: GPL-3.0-or-later
// What a map shows, gathered from the session once and painted anywhere: window, PNG, paper.
#pragma once

#include "core/fieldlog/judgement.h"
#include "core/geo/point.h"
#include "core/inventory/valve.h"
#include "core/streets/street.h"

#include <QSet>

#include <memory>
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

} // namespace keyround
