// SPDX-License-Identifier: GPL-3.0-or-later
// A street beyond one drawn stretch: the stretches of the same name that follow it end to end, and
// whether the road ends there.
#pragma once

#include "core/streets/street.h"

#include <vector>

namespace keyround {

struct StreetLine
{
    GeoLine line; ///< in the direction of the stretch that it was asked for
    bool firstIsDeadEnd = false;
    bool lastIsDeadEnd = false;
};

/// Follows the stretch at `index` both ways, at most `reach` past each of its ends. Ends meet
/// within a metre. Linear in the number of streets for each stretch that is followed.
[[nodiscard]] StreetLine followedStreet(const std::vector<Street> &streets, std::size_t index,
                                        Metres reach);

} // namespace keyround
