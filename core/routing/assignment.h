// SPDX-License-Identifier: GPL-3.0-or-later
// The cheapest assignment of a follower to every place, by shortest augmenting paths (H. W. Kuhn
// 1955, R. Jonker and A. Volgenant 1987), and the prices that prove it. Cubic time: 170 places take
// a few milliseconds.
#pragma once

#include "core/routing/matrix.h"

#include <vector>

namespace keyround {

struct AssignmentPrices
{
    /// leaving[i] + reaching[j] <= cost(i, j) for all i != j; their sum is the assignment's cost.
    std::vector<double> leaving;
    std::vector<double> reaching;
};

/// Costs must be finite. No place follows itself.
[[nodiscard]] AssignmentPrices assignmentPrices(const Matrix &costs);

} // namespace keyround
