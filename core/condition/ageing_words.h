// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the ageing figure: a group's curve in plain words.
#pragma once

#include "core/condition/ageing.h"

namespace keyround {

/// By which age the share that holds falls to `holds`; empty where the curve never does.
[[nodiscard]] std::optional<OutBy> outBy(const AgeingGroup &group, double holds);
/// Of a group with a curve; the times are those that the curve was made of, and are what it counts.
[[nodiscard]] QString readingOf(const AgeingGroup &group,
                                const std::vector<FailureInterval> &times);
[[nodiscard]] QString tooFewReading(const AgeingGroup &group, const AgeingOptions &options);

} // namespace keyround
