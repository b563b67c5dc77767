// SPDX-License-Identifier: GPL-3.0-or-later
// The second half of building a network from layers: everything else onto its main. The rules are
// in build_network.h. Used within core/mains only.
#pragma once

#include "core/mains/join_mains.h"
#include "core/mains/segments.h"

namespace keyround {

/// What placing needs, and nothing it owns.
struct PlacingTable
{
    const NetworkInput &input;
    const NetworkOptions &options;
    const NetworkFixes &fixes;
    const KnownMains &known;
    const MainLines &lines;
    PipeNetwork &network;
    NetworkNotes &notes;
};

/// Fills the network's services, hydrants and sources, and their spots.
void placeCustomers(const PlacingTable &table, NetSpots &spots);
/// Fills the network's valves and their spots; hydrants must have been placed.
void placeValves(const PlacingTable &table, NetSpots &spots);

/// Decisions by hand about things of one kind: number to main; doubled ones: the last.
[[nodiscard]] QHash<QString, QString> mainsByHand(const std::vector<NetworkFixes::On> &fixes);

} // namespace keyround
