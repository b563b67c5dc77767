// SPDX-License-Identifier: GPL-3.0-or-later
// The median of several runs, in milliseconds: as a clock on the wall sees it, and as processor
// time of all threads, which says more on a machine that is busy with other work.
#pragma once

#include <algorithm>
#include <chrono>
#include <ctime>
#include <utility>
#include <vector>

namespace keyround::bench {

struct Taken
{
    double wall = 0;
    double processor = 0;
};

template <typename Work> Taken medianTaken(int runs, Work work)
{
    std::vector<double> walls;
    std::vector<double> processors;
    for (int run = 0; run < runs; ++run) {
        const auto begin = std::chrono::steady_clock::now();
        const std::clock_t ticks = std::clock();
        work();
        processors.push_back(1000.0 * static_cast<double>(std::clock() - ticks) / CLOCKS_PER_SEC);
        const std::chrono::duration<double, std::milli> taken =
            std::chrono::steady_clock::now() - begin;
        walls.push_back(taken.count());
    }
    std::sort(walls.begin(), walls.end());
    std::sort(processors.begin(), processors.end());
    return {walls[walls.size() / 2], processors[processors.size() / 2]};
}

/// As a clock on the wall sees it.
template <typename Work> double medianMilliseconds(int runs, Work work)
{
    return medianTaken(runs, std::move(work)).wall;
}

} // namespace keyround::bench
