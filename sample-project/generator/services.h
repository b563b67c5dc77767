// SPDX-License-Identifier: GPL-3.0-or-later
// Customers' connections along the mains, and the few who cannot go without water. Customers have
// numbers instead of names; telephone numbers are from the block 555-0100 to 555-0199, which is
// kept for fiction.
#pragma once

#include "sample-project/generator/random.h"
#include "sample-project/generator/town.h"

namespace keyround::sample {

void connectServices(Town &town, Random &random);
/// Places the critical customers, each with a service, and names them at the valves around.
void placeCriticalCustomers(Town &town, Random &random);

} // namespace keyround::sample
