// SPDX-License-Identifier: GPL-3.0-or-later
// The shortest order itself, by the recursion over sets of places of M. Held and R. M. Karp (1962,
// "A dynamic programming approach to sequencing problems") and R. Bellman (1962). Time and memory
// double with each place: 12 places take about a millisecond and 0.4 MB.
#pragma once

#include "core/routing/matrix.h"

#include <cstdint>
#include <vector>

namespace keyround {

inline constexpr std::size_t mostExactPlaces = 12;

/// The shortest round from place 0 through all others and back to it, without place 0. Infinite
/// seconds are hops that do not exist. At most mostExactPlaces places beside place 0.
[[nodiscard]] std::vector<std::uint32_t> exactOrder(const Matrix &seconds);

} // namespace keyround
