// SPDX-License-Identifier: GPL-3.0-or-later
// The town's streets: the net's stretches drawn and named, cul-de-sacs, the roads to the yard and
// to the places where water comes from, a pair of one-way streets downtown, and one lane beyond
// the wash that no street reaches (on purpose: the importer is to report it).
#pragma once

#include "sample-project/generator/random.h"
#include "sample-project/generator/town.h"

namespace keyround::sample {

void layOutStreets(Town &town, Random &random);

} // namespace keyround::sample
