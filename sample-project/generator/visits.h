// SPDX-License-Identifier: GPL-3.0-or-later
// Six years of visits: the crews' days (seasons.h) meet the valves as they are (life.h), and what
// is written down has the noise of people counting.
#pragma once

#include "sample-project/generator/random.h"
#include "sample-project/generator/town.h"

namespace keyround::sample {

void simulateVisits(Town &town, Random &random);

} // namespace keyround::sample
