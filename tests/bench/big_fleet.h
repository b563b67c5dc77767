// SPDX-License-Identifier: GPL-3.0-or-later
// An invented fleet for benchmarks: valves of mixed kinds on a grid of places, and twenty years of
// visits in which they age by a Weibull law, are found, and are mended. Seeded: the same each time.
#pragma once

#include "core/fieldlog/visit.h"
#include "core/inventory/valve.h"

#include <array>
#include <cmath>
#include <random>
#include <vector>

namespace keyround::bench {

struct BigFleet
{
    std::vector<Valve> valves;
    std::vector<Visit> visits; ///< by stamp
};

inline Valve bigFleetValve(int index, std::mt19937_64 &random)
{
    static constexpr std::array sizes{6, 8, 8, 8, 12, 16, 24};
    Valve valve;
    valve.id = ValveId{uuid7FromParts(1'000'000'000'000 + index, 0, random() >> 2U)};
    valve.number = QStringLiteral("%1").arg(index, 6, 10, QLatin1Char('0'));
    valve.place = GeoPoint{38.0 + index / 250 * 1e-3, -116.0 - index % 250 * 1e-3};
    valve.address = QStringLiteral("%1 Invented St").arg(index);
    const int inches = sizes[random() % sizes.size()];
    valve.size = NominalSize::ofInches(inches);
    valve.type = inches < 16           ? ValveType::Gate
                 : random() % 2U == 0U ? ValveType::GearedGate
                                       : ValveType::Butterfly;
    valve.listedTurns = QuarterTurns::ofTurns(3 * inches + 3);
    valve.installYear = 1940 + static_cast<int>(random() % 65U);
    valve.zone = QStringLiteral("Zone %1").arg(index % 12);
    valve.surface = index % 3 == 0 ? QStringLiteral("asphalt") : QStringLiteral("verge");
    if (index % 50 == 0) {
        valve.criticalCustomers = QStringLiteral("clinic (invented)");
    }
    return valve;
}

inline Visit bigFleetVisit(const Valve &valve, std::int64_t at, bool failed,
                           std::mt19937_64 &random)
{
    static const QString device = QStringLiteral("laptop-3");
    Visit visit;
    visit.valve = valve.id;
    visit.id =
        VisitId{uuid7FromParts(at, static_cast<std::uint32_t>(random() % 4096U), random() >> 2U)};
    visit.arrived = {at, -25200};
    visit.finished = {at + 600'000 + static_cast<std::int64_t>(random() % 900'000U), -25200};
    visit.crew = QStringLiteral("Crew %1").arg(1 + random() % 6U);
    visit.recordedBy = QStringLiteral("operator %1").arg(1 + random() % 12U);
    visit.device = device;
    visit.found = {Position::Open, {}};
    visit.left = {Position::Open, {}};
    const int full = valve.listedTurns->value;
    const int turns = failed ? full / 2 : full - 2 + static_cast<int>(random() % 5U);
    visit.passes = {{PassDirection::Closing, {turns}}, {PassDirection::Opening, {turns}}};
    if (failed) {
        visit.problems = {Problem::DidNotClose};
    } else if (random() % 9U == 0) {
        visit.problems = {Problem::HardToTurn};
        visit.remarks = QStringLiteral("an invented remark");
    }
    return visit;
}

inline BigFleet bigFleet(int valveCount, int visitsEach, std::uint64_t seed = 8)
{
    constexpr double yearMilliseconds = 365.25 * 86'400'000.0;
    constexpr double firstYear = 2006.0;
    constexpr double years = 20.0;
    constexpr std::int64_t begin = 1'136'142'000'000; // 2006-01-01
    std::mt19937_64 random(seed);
    std::weibull_distribution<double> life(1.6, 48.0);
    BigFleet fleet;
    fleet.valves.reserve(static_cast<std::size_t>(valveCount));
    fleet.visits.reserve(static_cast<std::size_t>(valveCount) *
                         static_cast<std::size_t>(visitsEach));
    for (int i = 0; i < valveCount; ++i) {
        Valve valve = bigFleetValve(i, random);
        double failsAt = *valve.installYear + 0.5 + life(random);
        while (failsAt < firstYear) {
            failsAt += life(random);
        }
        for (int k = 0; k < visitsEach; ++k) {
            const double spread = static_cast<double>(random() % 1000U) / 1000.0;
            const double when = firstYear + years * (k + spread) / visitsEach;
            const bool failed = when >= failsAt;
            const auto at =
                begin + static_cast<std::int64_t>((when - firstYear) * yearMilliseconds);
            fleet.visits.push_back(bigFleetVisit(valve, at, failed, random));
            if (failed && random() % 10U < 8U) {
                failsAt = when + 0.2 + life(random); // mended before the next visit
            }
        }
        fleet.valves.push_back(std::move(valve));
    }
    std::ranges::sort(fleet.visits, {}, &Visit::arrived);
    HybridTime last;
    for (Visit &visit : fleet.visits) {
        last = nextHybridTime(last, visit.arrived.utcMilliseconds);
        visit.stamp = last;
    }
    return fleet;
}

} // namespace keyround::bench
