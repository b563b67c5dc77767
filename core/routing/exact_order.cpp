// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/exact_order.h"

#include <algorithm>

namespace keyround {

std::vector<std::uint32_t> exactOrder(const Matrix &seconds)
{
    const std::size_t n = seconds.size() - 1;
    const std::size_t sets = std::size_t{1} << n;
    // best[set * n + last]: from place 0 through the set, ending at `last`, which belongs to it.
    std::vector<double> best(sets * n, unreachable);
    for (std::size_t i = 0; i < n; ++i) {
        best[(std::size_t{1} << i) * n + i] = seconds.at(0, i + 1);
    }
    for (std::size_t set = 1; set < sets; ++set) {
        for (std::size_t last = 0; last < n; ++last) {
            const double here = best[set * n + last];
            if (here == unreachable) {
                continue;
            }
            const double *row = seconds.row(last + 1);
            for (std::size_t next = 0; next < n; ++next) {
                if ((set >> next & 1U) == 0) {
                    double &cell = best[(set | std::size_t{1} << next) * n + next];
                    cell = std::min(cell, here + row[next + 1]);
                }
            }
        }
    }
    // Back from the end: at each step the place from which the known sum was reached.
    std::vector<std::uint32_t> order;
    std::size_t set = sets - 1;
    std::size_t after = 0; // place 0
    while (set != 0) {
        std::size_t from = n;
        double least = unreachable;
        for (std::size_t i = 0; i < n; ++i) {
            if ((set >> i & 1U) != 0) {
                const double total = best[set * n + i] + seconds.at(i + 1, after);
                if (from == n || total < least) {
                    from = i;
                    least = total;
                }
            }
        }
        order.push_back(static_cast<std::uint32_t>(from + 1));
        set &= ~(std::size_t{1} << from);
        after = from + 1;
    }
    std::reverse(order.begin(), order.end());
    return order;
}

} // namespace keyround
