// SPDX-License-Identifier: GPL-3.0-or-later
// How a table's columns share the width of a page.
#pragma once

#include <vector>

namespace keyround {

struct ColumnWish
{
    double least = 0;   ///< what it must have: its longest word, or room for the pen
    double natural = 0; ///< its longest cell
    bool pen = false;   ///< left empty for writing: takes what is over
};

/// Widths that sum to `available`: natural where it all fits (what is over goes to the pen columns,
/// or to all when there are none), else shrunk towards the least in proportion.
[[nodiscard]] std::vector<double> shareWidth(const std::vector<ColumnWish> &wishes,
                                             double available);

} // namespace keyround
