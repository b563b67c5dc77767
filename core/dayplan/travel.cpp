// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/plan.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <thread>

namespace keyround {

namespace {

Way estimate(const GeoPoint &from, const GeoPoint &to, const TravelSettings &settings)
{
    Way way;
    way.metres = distanceBetween(from, to).value * settings.detourFactor;
    way.seconds = way.metres / settings.estimateMetresPerSecond;
    return way;
}

/// The ways from each snapped place to all, on as many threads as the machine has processors: the
/// rows do not know of each other, so the table is the same whatever their number.
std::vector<std::vector<Way>> waysBetween(const DriveGraph &graph, const std::vector<Snap> &snaps)
{
    std::vector<std::vector<Way>> rows(snaps.size());
    std::atomic<std::size_t> next{0};
    const auto work = [&] {
        for (std::size_t row = next++; row < snaps.size(); row = next++) {
            rows[row] = graph.waysFrom(snaps[row], snaps);
        }
    };
    constexpr std::size_t rowsPerThread = 8; // a thread for less costs more than it saves
    const std::size_t processors = std::max(1U, std::thread::hardware_concurrency());
    std::vector<std::thread> helpers(std::min(processors, snaps.size() / rowsPerThread + 1) - 1);
    for (std::thread &helper : helpers) {
        helper = std::thread(work);
    }
    work();
    for (std::thread &helper : helpers) {
        helper.join();
    }
    return rows;
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
    const std::vector<std::vector<Way>> ways = waysBetween(graph, snaps);
    for (std::size_t a = 0; a < snaps.size(); ++a) {
        for (std::size_t b = 0; b < snaps.size(); ++b) {
            table.seconds.set(snapped[a], snapped[b], ways[a][b].seconds);
            table.metres.set(snapped[a], snapped[b], ways[a][b].metres);
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
