// SPDX-License-Identifier: GPL-3.0-or-later
// Street layers come cut at every crossing, and a block is too short for its name. This joins the
// pieces of one name where exactly two of them meet.
#pragma once

#include "app/map/map_content.h"

namespace keyround {

/// Ends nearer than `joinMetres` count as one. Pieces without a name are left out.
[[nodiscard]] std::vector<MapContent::NamedLine>
joinedNameLines(const std::vector<MapContent::NamedLine> &pieces, double joinMetres = 1.0);

} // namespace keyround
