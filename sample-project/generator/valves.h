// SPDX-License-Identifier: GPL-3.0-or-later
// Valves on the mains, hydrants on their leads, fire lines, bypasses round the large valves, and
// the customers that cannot go without water.
#pragma once

#include "sample-project/generator/random.h"
#include "sample-project/generator/town.h"

namespace keyround::sample {

/// A valve on a main, with its turns as they are and as they are listed.
[[nodiscard]] ValvePoint valveOn(const Town &town, int main, Spot spot, Role role, Random &random);

/// Main line, boundary and blow-off valves.
void setValves(Town &town, Random &random);
/// Hydrants with leads, fire lines, bypasses: each a branch of its own with its valve.
void setBranches(Town &town, Random &random);
/// Addresses, ties, pages and numbers, once all valves are there.
void numberValves(Town &town, Random &random);

} // namespace keyround::sample
