// SPDX-License-Identifier: GPL-3.0-or-later
// What the truck must carry for a round, on paper, with a box to tick.
#pragma once

#include "core/dayplan/load_list.h"
#include "core/dayplan/round.h"
#include "core/reports/sheet.h"

namespace keyround {

/// Stops are named by their place in the round: "1, 3 (decides), 4".
[[nodiscard]] Sheet loadSheet(const Round &round, const std::vector<LoadLine> &lines,
                              const QString &utility);

} // namespace keyround
