// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of a table that do not know of each other, worked out on as many threads as the machine has
// processors: the table is the same whatever their number.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <thread>
#include <vector>

namespace keyround {

/// Calls work(row) for each row. A thread for fewer than eight rows costs more than it saves.
template <typename Work> void forEachRow(std::size_t rows, const Work &work)
{
    std::atomic<std::size_t> next{0};
    const auto take = [&] {
        for (std::size_t row = next++; row < rows; row = next++) {
            work(row);
        }
    };
    constexpr std::size_t rowsPerThread = 8;
    const std::size_t processors = std::max(1U, std::thread::hardware_concurrency());
    std::vector<std::thread> helpers(std::min(processors, rows / rowsPerThread + 1) - 1);
    for (std::thread &helper : helpers) {
        helper = std::thread(take);
    }
    take();
    for (std::thread &helper : helpers) {
        helper.join();
    }
}

} // namespace keyround
