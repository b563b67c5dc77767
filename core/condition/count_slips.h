// SPDX-License-Identifier: GPL-3.0-or-later
// A single count far from the one before and the one after, which agree with each other, is a slip
// of counting or of typing (277 for 27), and tells nothing of the valve. A life's first count is a
// slip where the three after it agree; its newest never is, since nothing tells yet.
#pragma once

#include <span>
#include <vector>

namespace keyround {

/// For each of one valve's counts, oldest first, whether it is a slip. Two counts agree when they
/// lie at most `apart` from each other; all in turns.
[[nodiscard]] std::vector<bool> countSlips(std::span<const double> turns, double apart);

} // namespace keyround
