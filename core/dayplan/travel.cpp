// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/plan.h"

#include <cmath>

namespace keyround {

namespace {

Way estimate(const GeoPoint &from, const GeoPoint &to, const TravelSettings &settings)
{
    Way way;
    way.metres = distanceBetween(from, to).value * settings.detourFactor;
    way.seconds = way.metres / settings.estimateMetresPerSecond;
    return way;
}

} // namespace

QString wordFor(TravelKind kind)
{
    return kind == TravelKind::Streets ? QStringLiteral("streets") : QStringLiteral("estimate");
}

TravelTable travelTable(const DriveGraph &graph, const std::vector<GeoPoint> &places,
                        const TravelSettings &settings)
{
    TravelTable table;
    table.seconds = Matrix(places.size());
    table.metres = Matrix(places.size());
    std::vector<Snap> snaps;
    std::vector<std::size_t> snapped; // the places that the snaps belong to
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (const auto snap = graph.snap(places[i], settings.snapMetres)) {
            snaps.push_back(*snap);
            snapped.push_back(i);
        } else if (!graph.isEmpty()) {
            table.offStreet.push_back(i);
        }
        for (std::size_t k = 0; k < places.size(); ++k) {
            const Way way = estimate(places[i], places[k], settings);
            table.seconds.set(i, k, way.seconds);
            table.metres.set(i, k, way.metres);
        }
    }
    if (snaps.size() < 2) {
        return table; // no leg is driven on streets
    }
    table.kind = TravelKind::Streets;
    const WayTable ways = graph.wayTable(snaps, snaps);
    for (std::size_t a = 0; a < snaps.size(); ++a) {
        for (std::size_t b = 0; b < snaps.size(); ++b) {
            table.seconds.set(snapped[a], snapped[b], ways.secondsAt(a, b));
            table.metres.set(snapped[a], snapped[b], ways.metresAt(a, b));
        }
    }
    return table;
}

GeoLine legLine(const DriveGraph &graph, const GeoPoint &from, const GeoPoint &to,
                const TravelSettings &settings)
{
    const auto first = graph.snap(from, settings.snapMetres);
    const auto last = graph.snap(to, settings.snapMetres);
    if (first && last) {
        Way way = graph.wayBetween(*first, *last);
        if (std::isfinite(way.seconds)) {
            return std::move(way.line);
        }
    }
    return {from, to};
}

} // namespace keyround
