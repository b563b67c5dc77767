// SPDX-License-Identifier: GPL-3.0-or-later
// The median of several runs, in milliseconds.
#pragma once

#include <algorithm>
#include <chrono>
#include <vector>

namespace keyround::bench {

template <typename Work> double medianMilliseconds(int runs, Work work)
{
    std::vector<double> times;
    for (int run = 0; run < runs; ++run) {
        const auto begin = std::chrono::steady_clock::now();
        work();
        const std::chrono::duration<double, std::milli> taken =
            std::chrono::steady_clock::now() - begin;
        times.push_back(taken.count());
    }
    std::sort(times.begin(), times.end());
    return times[times.size() / 2];
}

} // namespace keyround::bench
