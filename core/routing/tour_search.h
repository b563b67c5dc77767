// SPDX-License-Identifier: GPL-3.0-or-later
// Shortens a round trip. From nearest neighbour on, hops are exchanged in chains of up to five, as
// long as what is taken away exceeds what is put in (S. Lin and B. W. Kernighan 1973; K. Helsgaun
// 2000), each place trying only its candidates. Where there and back differ, two kinds of chains
// take turns: those that turn no stretch round (P. C. Kanellakis and C. H. Papadimitriou 1980), and
// shorter ones that do, guided by the sum of both directions and judged by what each turned
// stretch really costs. Out of a dead end a kick exchanges three neighbouring stretches (the
// double bridge of O. Martin, S. W. Otto and E. W. Felten 1991); what follows is kept when it is
// not longer by more than a patience that shrinks to nothing.
//
// Whole numbers, counted kicks and dice of its own: the same answer on every machine, unless the
// clock ends the search.
#pragma once

#include "core/common/progress.h"
#include "core/routing/matrix.h"

#include <cstdint>
#include <vector>

namespace keyround {

/// Fewer places than this, place 0 among them, need no search.
inline constexpr std::size_t leastSearched = 5;

struct SearchEffort
{
    std::size_t kicks = 0;
    double milliseconds = 0; ///< above 0: kicks until then instead of a number of them
    std::uint64_t seed = 1;
};

/// A short round from place 0 through all others and back to it, without place 0 (see
/// OrderTask::seconds). Never longer than nearest neighbour. Needs `leastSearched` places.
[[nodiscard]] std::vector<std::uint32_t>
searchedOrder(const Matrix &seconds, const SearchEffort &effort, const Progress &progress = {});

/// Goes from each place, 0 first, to the nearest not yet visited; without place 0.
[[nodiscard]] std::vector<std::uint32_t> nearestNeighbourOrder(const Matrix &seconds);

} // namespace keyround
