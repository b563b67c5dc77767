// SPDX-License-Identifier: GPL-3.0-or-later
// How long a round takes to plan, the table of ways included, on an invented grid of about 100,000
// pieces of street with one-ways, and how that grows with the stops and with the town: 40 stops in
// under 300 ms. Then tables alone, for a day (100 places, goal 40 ms) and for a backlog (2,000
// places, goal 5 s on two processors), by cells and, for comparison, by a search for each row.
#include "core/dayplan/plan.h"
#include "tests/bench/timing.h"
#include "tests/support/grid_town.h"

#include <cstdio>
#include <random>

using namespace keyround;

namespace {

constexpr int runs = 7;
constexpr double townMetres = 22000.0;

std::vector<StopCandidate> candidates(std::size_t count, double metres, unsigned seed)
{
    std::mt19937 random(seed);
    const LocalPlane plane(GeoPoint{41.0, -90.0});
    std::uniform_real_distribution<double> anywhere(0.0, metres);
    std::vector<StopCandidate> made;
    for (unsigned i = 0; i < count; ++i) {
        const double x = anywhere(random);
        const GeoPoint place = plane.toGeo(PlanePoint{x, anywhere(random)});
        made.push_back({{uuid7FromParts(1, 0, i)}, QString::number(i), place, 1.0, 1.0});
    }
    return made;
}

void planRounds(const DriveGraph &graph, const char *where, double metres)
{
    for (const std::size_t count : {10U, 20U, 40U, 80U}) {
        const auto stops = candidates(count, metres, 1);
        Round day;
        day.start = stops.front().place;
        day.shift = {QTime(0, 0), QTime(23, 0)};
        std::vector<GeoPoint> places;
        for (const StopCandidate &stop : stops) {
            places.push_back(stop.place);
        }
        const bench::Taken table =
            bench::medianTaken(runs, [&] { (void)travelTable(graph, places, TravelSettings()); });
        std::size_t fitted = 0;
        const bench::Taken whole = bench::medianTaken(runs, [&] {
            const auto plan = planDay(graph, day, stops, TravelSettings());
            fitted = plan ? plan->stops.size() : 0;
        });
        std::printf("%s, %2zu stops (%zu fit): planned in %.0f ms (processor %.0f), of "
                    "which ways %.0f ms (processor %.0f)\n",
                    where, count, fitted, whole.wall, whole.processor, table.wall, table.processor);
    }
}

void fillTables(const DriveGraph &graph, const char *where, double metres, std::size_t count,
                TableMethod method, const char *how)
{
    std::vector<Snap> snaps;
    for (const StopCandidate &stop : candidates(count, metres, 3)) {
        if (const auto snap = graph.snap(stop.place)) {
            snaps.push_back(*snap);
        }
    }
    const bench::Taken taken = bench::medianTaken(
        count > 500 ? 3 : runs, [&] { (void)graph.wayTable(snaps, snaps, method); });
    std::printf("%s, table of %4zu places by %s: %.0f ms (processor %.0f, %.2f a place)\n", where,
                snaps.size(), how, taken.wall, taken.processor,
                taken.processor / static_cast<double>(snaps.size()));
}

/// Builds a square town; its cells are made in the background, and the first table waits for them.
DriveGraph timedTown(std::size_t columns)
{
    const auto town = tests::gridTown(columns, columns, 0.2, 0.02, JunctionRule::EndPoints, 1);
    DriveGraph graph;
    const std::vector<GeoPoint> corner{town.junctions.front()};
    const bench::Taken whole = bench::medianTaken(3, [&] {
        graph = DriveGraph::build(town.streets);
        const std::vector<Snap> one{*graph.snap(corner.front())};
        (void)graph.wayTable(one, one, TableMethod::Cells);
    });
    std::printf(
        "graph of %zu pieces, %zu nodes: built with its cells in %.0f ms (processor %.0f)\n",
        graph.report().pieces, graph.report().nodes, whole.wall, whole.processor);
    return graph;
}

} // namespace

int main()
{
    for (const std::size_t columns : {75U, 150U}) {
        const DriveGraph smaller = timedTown(columns);
        fillTables(smaller, "all over the town", 100.0 * static_cast<double>(columns), 100,
                   TableMethod::Cells, "cells");
    }
    const DriveGraph graph = timedTown(225);
    planRounds(graph, "stops all over 22 km", townMetres);
    planRounds(graph, "stops within 4 km", 4000.0);

    fillTables(graph, "within 4 km", 4000.0, 100, TableMethod::Rows, "rows");
    fillTables(graph, "all over 22 km", townMetres, 100, TableMethod::Rows, "rows");
    fillTables(graph, "within 4 km", 4000.0, 100, TableMethod::Cells, "cells");
    for (const std::size_t count : {40U, 100U, 250U, 500U, 1000U, 2000U}) {
        fillTables(graph, "all over 22 km", townMetres, count, TableMethod::Cells, "cells");
    }

    // A long due list of which a shift of 8.5 hours takes what fits.
    auto due = candidates(1200, townMetres / 2, 2);
    for (std::size_t i = 0; i < due.size(); ++i) {
        due[i].minutes = 12.0;
        due[i].priority = static_cast<double>(i % 50);
    }
    Round day;
    day.start = due.front().place;
    std::size_t fitted = 0;
    const bench::Taken whole = bench::medianTaken(runs, [&] {
        const auto plan = planDay(graph, day, due, TravelSettings());
        fitted = plan ? plan->stops.size() : 0;
    });
    std::printf("1200 due, %zu fit 8.5 h: planned in %.0f ms (processor %.0f)\n", fitted,
                whole.wall, whole.processor);
    return 0;
}
