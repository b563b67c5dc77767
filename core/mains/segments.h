// SPDX-License-Identifier: GPL-3.0-or-later
// The last step of building a network, however it was entered: cuts pipes at their valves, finds
// the segments, and hangs everybody on them. Used within core/mains only.
#pragma once

#include "core/mains/pipe_network.h"

namespace keyround {

/// A place in the network: a node, or metres along a pipe's main.
struct NetSpot
{
    NetIndex node = noIndex;
    NetIndex pipe = noIndex;
    double along = 0;

    [[nodiscard]] bool isPlaced() const { return node != noIndex || pipe != noIndex; }
};

/// Where on its pipe a valve sits: between the node and the pipe at an end, or inside.
enum class ValveSpot { AtFrom, Inside, AtTo };

/// By row of the network's lists.
struct NetSpots
{
    std::vector<ValveSpot> valves; ///< pipe and along are in the valve
    std::vector<NetSpot> services;
    std::vector<NetSpot> hydrants;
    std::vector<NetSpot> sources;
};

/// Fills pieces, segments, loads and rows of a network whose mains, nodes, pipes, valves (with pipe
/// and along), services, hydrants and sources are in place.
void formSegments(PipeNetwork &network, const NetSpots &spots);

/// Rows of pipes by main and by node; needed before anything is placed.
void indexPipes(PipeNetwork &network);

} // namespace keyround
