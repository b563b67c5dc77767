// SPDX-License-Identifier: GPL-3.0-or-later
// What is left to decide in a request for an order, once locks and pins are taken for granted:
// every locked stretch becomes one thing to visit (entered at its first stop, left at its last),
// and what is pinned behind the start or before the finish moves the start or the finish.
//
// Locks that contradict each other (a stop with two successors, a ring) or name a stop that is not
// asked for are dropped link by link, the later one first; pins win over locks.
#pragma once

#include "core/routing/stop_order.h"

#include <cstdint>
#include <vector>

namespace keyround {

struct OrderTask
{
    std::vector<std::size_t> opening; ///< right after the start, in this order
    std::vector<std::size_t> closing; ///< right before the finish, in this order
    /// What is to be put in order; stretch i is place i + 1 of `seconds`.
    std::vector<std::vector<std::size_t>> stretches;
    /// Stretches that no order of finite seconds holds: no way to them, or none from them.
    std::vector<std::vector<std::size_t>> apart;
    /// From the end of one stretch to the beginning of the other. Place 0 is where driving begins
    /// and ends: row 0 leaves the start (or the opening), column 0 reaches the closing, the finish
    /// or, with an open end, nothing, for nothing. The diagonal is 0.
    Matrix seconds;
    double fixedSeconds = 0; ///< within stretches, opening and closing: the same in every order
};

[[nodiscard]] OrderTask orderTask(const Matrix &seconds, const OrderRequest &request);

/// All stops of the request, with the stretches in the given order of places (0 left out).
[[nodiscard]] std::vector<std::size_t> stopsInOrder(const OrderTask &task,
                                                    const std::vector<std::uint32_t> &places);

} // namespace keyround
