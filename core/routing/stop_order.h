// SPDX-License-Identifier: GPL-3.0-or-later
// The order of a round's stops. Works on a table of seconds and knows nothing of valves or
// streets. Up to 12 things to order are solved exactly; more are searched by deep exchanges of
// hops and kicks out of their dead ends (tour_search.h). Never longer than nearest neighbour.
// Where a stop cannot be reached and left again by any order, it is put after the others (before
// what is pinned last), and the seconds are infinite.
//
// The same input gives the same answer on every machine, unless a budget of milliseconds is set.
#pragma once

#include "core/common/progress.h"
#include "core/routing/matrix.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace keyround {

struct OrderRequest
{
    /// Index of the start in the matrix; the tour begins here.
    std::size_t start = 0;
    /// Index of the finish; the start's own index closes the tour; empty: finish anywhere.
    std::optional<std::size_t> finish;
    /// What is to be visited (start and finish are not among them).
    std::vector<std::size_t> stops;
    /// Stretches of stops that follow each other in this order, with nothing between them.
    std::vector<std::vector<std::size_t>> locked;
    std::vector<std::size_t> pinnedFirst; ///< right after the start, in this order
    std::vector<std::size_t> pinnedLast;  ///< right before the finish (or the open end)
    /// How long to search: kicks for every stop; 0 ends in the first dead end.
    /// At the default, 20 invented rounds of 20 to 100 stops on street grids with one-ways lay
    /// 0.04 % above the best orders known for them on average, 0.8 % at worst; 20 stops take 15 ms
    /// of processor time, 40 stops 45 ms, 80 stops 140 ms.
    /// At the default, 20 invented rounds of 20 to 100 stops on street grids with one-ways lay
    /// 0.04 % above the best orders known for them on average, 0.8 % at worst; 20 stops take 15 ms
    /// of processor time, 40 stops 45 ms, 80 stops 140 ms.
    std::size_t kicksPerStop = 40;
    /// When above 0, the search goes on for this long by the clock instead of counting kicks. What
    /// it finds then depends on the machine and on what else that machine does.
    double budgetMilliseconds = 0;
    /// Of the search's dice.
    std::uint64_t seed = 1;
};

struct StopOrder
{
    std::vector<std::size_t> stops; ///< in the order of visiting
    double seconds = 0; ///< start to finish, driving only; infinite when there is no way
};

/// When `progress` cancels, the best order found until then is the answer.
[[nodiscard]] StopOrder bestOrder(const Matrix &seconds, const OrderRequest &request,
                                  const Progress &progress = {});

/// The seconds of a given order.
[[nodiscard]] double secondsOf(const Matrix &seconds, const OrderRequest &request,
                               const std::vector<std::size_t> &stops);

} // namespace keyround
