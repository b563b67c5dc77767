// SPDX-License-Identifier: GPL-3.0-or-later
// The town's ground plan: lines of streets on a net that is straight downtown, bent by the river
// and by the curves of the newer districts. No street crosses the river except the two bridges.
#pragma once

#include "sample-project/generator/random.h"
#include "sample-project/generator/town.h"

#include <vector>

namespace keyround::sample {

struct NetLine
{
    double at = 0; ///< before bending: east of the axis, or north
    Rank rank = Rank::Local;
};

/// Columns run north, rows run east.
[[nodiscard]] const std::vector<NetLine> &netColumns();
[[nodiscard]] const std::vector<NetLine> &netRows();
/// Columns up to this one lie west of the river, the others east.
inline constexpr int lastWesternColumn = 12;
inline constexpr int firstBridgeRow = 8;
inline constexpr int secondBridgeRow = 16;

/// Where a crossing of the net lies before bending.
[[nodiscard]] Spot flatOf(int column, int row);
[[nodiscard]] Spot bent(Spot flat);
[[nodiscard]] District districtAt(Spot flat);

/// A stretch of the net between two neighbouring crossings.
struct NetEdge
{
    int column = 0;
    int row = 0;
    bool north = false; ///< runs to the next row, else to the next column
    Rank rank = Rank::Local;
    District district = District::OldGrid;
    bool bridge = false;
};

/// The stretches that became streets: all of the grid, and in the curving districts enough to
/// reach every crossing, with some loops and many dead ends.
[[nodiscard]] std::vector<NetEdge> chosenEdges(Random &random);

} // namespace keyround::sample
