// SPDX-License-Identifier: GPL-3.0-or-later
// A grid of streets invented by dice, for tests and benchmarks that need many junctions: one-way
// streets, missing blocks and differing speeds, and the same graph told as plain arcs for checking
// against another library.
#pragma once

#include "core/streets/street.h"

#include <QString>

#include <random>
#include <vector>

namespace keyround::tests {

struct GridTown
{
    struct Block
    {
        std::size_t from = 0; ///< junction number
        std::size_t to = 0;
        double metresPerSecond = 0;
        OneWay oneWay = OneWay::No;
    };
    std::vector<GeoPoint> junctions;
    std::vector<Block> blocks;
    std::vector<Street> streets; ///< one a block, in the same order
};

/// Junctions about 100 m apart, each moved by up to 20 m, so that no two ways are equal.
inline GridTown gridTown(std::size_t columns, std::size_t rows, double oneWayShare,
                         double missingShare, JunctionRule rule, unsigned seed)
{
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> share(0.0, 1.0);
    const LocalPlane plane(GeoPoint{41.0, -90.0});
    GridTown town;
    for (std::size_t y = 0; y < rows; ++y) {
        for (std::size_t x = 0; x < columns; ++x) {
            const double east = 100.0 * static_cast<double>(x) + 20.0 * share(random);
            const double north = 100.0 * static_cast<double>(y) + 20.0 * share(random);
            town.junctions.push_back(plane.toGeo(PlanePoint{east, north}));
        }
    }
    const auto add = [&](std::size_t from, std::size_t to) {
        if (share(random) < missingShare) {
            return;
        }
        GridTown::Block block{from, to, 8.0 + 8.0 * share(random), OneWay::No};
        if (share(random) < oneWayShare) {
            block.oneWay = share(random) < 0.5 ? OneWay::Forward : OneWay::Backward;
        }
        Street street;
        street.name = QStringLiteral("Block %1").arg(town.blocks.size());
        street.junctions = rule;
        street.oneWay = block.oneWay;
        street.metresPerSecond = block.metresPerSecond;
        street.line = {town.junctions[from], town.junctions[to]};
        town.blocks.push_back(block);
        town.streets.push_back(std::move(street));
    };
    for (std::size_t y = 0; y < rows; ++y) {
        for (std::size_t x = 0; x < columns; ++x) {
            const std::size_t here = y * columns + x;
            if (x + 1 < columns) {
                add(here, here + 1);
            }
            if (y + 1 < rows) {
                add(here, here + columns);
            }
        }
    }
    return town;
}

} // namespace keyround::tests
