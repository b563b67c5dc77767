// SPDX-License-Identifier: GPL-3.0-or-later
// The mains under the streets: sizes, years, materials, pressure zones. A main lies 9 ft east and
// 7 ft south of its street's centre line, so mains that meet share their end point exactly. Zones
// are parts of the pipe graph that hold a source each; where mains of two zones meet there is a
// closed boundary valve (valves.h).
#pragma once

#include "sample-project/generator/random.h"
#include "sample-project/generator/town.h"

namespace keyround::sample {

void layMains(Town &town, Random &random);
/// The plant and the tanks, each at the dead end of the main that it feeds.
void markSources(Town &town);
/// True when the main joins corners of two pressure zones.
[[nodiscard]] bool crossesZones(const Town &town, const MainPiece &main);
[[nodiscard]] std::string materialFor(int inches, int year, Random &random);
/// Adds a branch (no corners) off another main and returns its index.
int addBranch(Town &town, int fromMain, Line line, int inches, int year, Random &random);

} // namespace keyround::sample
