// SPDX-License-Identifier: GPL-3.0-or-later
// The pipe network of a large utility: 50,000 valves, 60,000 mains, 150,000 services (and a tenth
// of it, for the growth): building it from layers, breaks, all single shuts, what matters most.
// Times are processor milliseconds.
#include "core/mains/build_network.h"
#include "core/mains/valve_importance.h"
#include "tests/bench/timing.h"

#include <cmath>
#include <cstdio>
#include <random>

using namespace keyround;

namespace {

/// A grid of streets with a tenth of its mains left out, dead-end branches with hydrants, valves on
/// two to three of four legs of a corner, four sources at the corners.
NetworkInput utility(int valves)
{
    std::mt19937 random(1);
    const auto chance = [&](double share) {
        return static_cast<double>(random() % 100000) < 100000 * share;
    };
    const int side = static_cast<int>(std::sqrt(valves / 2.0 * 1.06));
    constexpr double block = 110;
    const LocalPlane plane(GeoPoint{38.7, -116.0});
    NetworkInput input;
    const auto spot = [&](double x, double y) { return plane.toGeo({x * block, y * block}); };
    const auto add = [&](double x1, double y1, double x2, double y2, int inches) {
        Main main;
        main.number = QStringLiteral("M%1").arg(input.mains.size());
        main.size = NominalSize::ofInches(inches);
        for (int k = 0; k <= 3; ++k)
            main.line.push_back(spot(x1 + (x2 - x1) * k / 3, y1 + (y2 - y1) * k / 3));
        input.mains.push_back(std::move(main));
    };
    const auto addValve = [&](double x, double y) {
        Valve valve;
        valve.number = QStringLiteral("V%1").arg(input.valves.size());
        valve.place = spot(x, y);
        valve.size = NominalSize::ofInches(8);
        input.valves.push_back(std::move(valve));
    };
    for (int x = 0; x < side; ++x) {
        for (int y = 0; y < side; ++y) {
            for (const bool east : {true, false}) {
                if (chance(0.1))
                    continue;
                const double dx = east ? 1 : 0;
                const double dy = east ? 0 : 1;
                add(x, y, x + dx, y + dy, chance(0.2) ? 12 : 8);
                for (const double share : {0.06, 0.94}) {
                    if (chance(0.46))
                        addValve(x + dx * share, y + dy * share);
                }
                if (chance(0.25)) { // a hydrant on its lead
                    const double at = 1.0 / 3.0;
                    add(x + dx * at, y + dy * at, x + dx * at + dy * 0.1, y + dy * at + dx * 0.1,
                        6);
                    addValve(x + dx * at + dy * 0.02, y + dy * at + dx * 0.02);
                    Hydrant hydrant;
                    hydrant.number = QStringLiteral("H%1").arg(input.hydrants.size());
                    hydrant.place = spot(x + dx * at + dy * 0.1, y + dy * at + dx * 0.1);
                    input.hydrants.push_back(hydrant);
                }
            }
        }
    }
    const std::size_t mains = input.mains.size();
    for (int i = 0; i < valves * 3; ++i) {
        Service service;
        service.number = QStringLiteral("S%1").arg(i);
        const GeoLine &line = input.mains[random() % mains].line;
        const double share = static_cast<double>(random() % 1000) / 1000;
        service.place = {line[1].latitude + share * (line[2].latitude - line[1].latitude) + 5e-5,
                         line[1].longitude + share * (line[2].longitude - line[1].longitude) +
                             5e-5};
        service.critical = chance(0.01);
        input.services.push_back(std::move(service));
    }
    for (int i = 0; i < 4; ++i) {
        const GeoLine &line = input.mains[mains / 4 * static_cast<std::size_t>(i) + mains / 8].line;
        input.sources.push_back({{}, QStringLiteral("T%1").arg(i), {}, SourceKind::Tank, line[1]});
    }
    return input;
}

struct Figures
{
    double build = 0, breakMedian = 0, breakWorst = 0, singles = 0, ranking = 0, largest = 0;
};

Figures measure(int valves)
{
    const NetworkInput input = utility(valves);
    Figures figures;
    BuiltNetwork built;
    figures.build = bench::medianTaken(3, [&] {
                        built = std::move(*buildNetwork(input, NetworkOptions{}, NetworkFixes{}));
                    }).processor;
    const PipeNetwork &network = built.network;
    std::mt19937 random(2);
    // As in the field: most work or have not been tried, one in ten does not hold.
    const ValveStates states = statesFrom(network, [&](const NetValve &) {
        const auto drawn = random() % 100;
        return ValveState{drawn < 55   ? Holds::Works
                          : drawn < 75 ? Holds::Unknown
                          : drawn < 90 ? Holds::Doubtful
                          : drawn < 95 ? Holds::DoesNotTurn
                          : drawn < 98 ? Holds::DoesNotShut
                                       : Holds::CannotReach,
                          random() % 50 == 0,
                          {}};
    });
    std::printf("%zu mains, %zu valves, %zu services, %zu hydrants -> %zu nodes, %zu pieces, "
                "%u segments, %zu notes\n",
                network.mains.size(), network.valves.size(), network.services.size(),
                network.hydrants.size(), network.nodes.size(), network.pieces.size(),
                network.segmentCount, built.report.notes.size());
    std::vector<double> breaks;
    for (int i = 0; i < 200; ++i) {
        const GeoPoint place = input.services[random() % input.services.size()].place;
        breaks.push_back(bench::medianTaken(1, [&] {
                             const auto at = breakNear(network, place, Metres{50}, UnitSystem::Us);
                             (void)planShut(network, states, *at);
                         }).processor);
    }
    std::sort(breaks.begin(), breaks.end());
    figures.breakMedian = breaks[breaks.size() / 2];
    figures.breakWorst = breaks.back();
    long cut = 0;
    figures.singles = bench::medianTaken(3, [&] {
                          const SingleShuts all(network, states);
                          for (NetIndex i = 0; i < network.valves.size(); ++i)
                              cut += all.of(i).services > 0 ? 1 : 0;
                      }).processor;
    long costly = 0;
    figures.ranking = bench::medianTaken(3, [&] {
                          for (const ValveImportance &one : valveImportance(network, states))
                              costly += one.moreAtMost > 0 ? 1 : 0;
                      }).processor;
    figures.largest =
        bench::medianTaken(3, [&] { (void)largestShuts(network, states, 20); }).processor;
    std::printf("  %ld valves cut somebody off alone, %ld cost somebody by sticking\n", cut / 3,
                costly / 3);
    return figures;
}

} // namespace

int main()
{
    const Figures small = measure(5000);
    const Figures large = measure(50000);
    const auto row = [](const char *what, double a, double b) {
        std::printf("%-32s %10.2f ms %10.2f ms   x %.1f\n", what, a, b, b / a);
    };
    std::printf("%-32s %13s %13s   growth\n", "processor time", "5,000 valves", "50,000");
    row("build from layers", small.build, large.build);
    row("one break, median of 200", small.breakMedian, large.breakMedian);
    row("one break, worst of 200", small.breakWorst, large.breakWorst);
    row("all single shuts", small.singles, large.singles);
    row("what matters most, all valves", small.ranking, large.ranking);
    row("the 20 largest shuts", small.largest, large.largest);
    return 0;
}
