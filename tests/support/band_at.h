// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/condition/ageing.h"

namespace keyround::test {

/// What the band says of one age: within a box the share may be anywhere between its ends.
inline Interval bandAt(const std::vector<BandPoint> &band, double years)
{
    Interval at{0, 1};
    for (const BandPoint &point : band) {
        if (point.years <= years) {
            at.to = point.holds.to;
        } else {
            at.from = point.holds.from;
            break;
        }
    }
    return at;
}

} // namespace keyround::test
