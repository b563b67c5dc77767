// SPDX-License-Identifier: GPL-3.0-or-later
// In which order visits are read: by arrival; those that arrived together by stamp, then by id.
#pragma once

#include "core/fieldlog/visit.h"

namespace keyround {

[[nodiscard]] inline bool isStampedBefore(const Visit &a, const Visit &b)
{
    return a.stamp != b.stamp ? a.stamp < b.stamp : a.id < b.id;
}

[[nodiscard]] inline bool isReadBefore(const Visit &a, const Visit &b)
{
    return a.arrived != b.arrived ? a.arrived < b.arrived : isStampedBefore(a, b);
}

} // namespace keyround
