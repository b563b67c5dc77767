// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/reach_grid.h"

#include <algorithm>
#include <cstring>

namespace keyround {

namespace {

/// Two columns at once: a vector type that GCC and Clang know, as every 64-bit processor does.
using Lanes __attribute__((vector_size(16))) = double;
constexpr std::size_t laneCount = 2;

Lanes lanesAt(const double *from)
{
    Lanes lanes;
    std::memcpy(&lanes, from, sizeof lanes);
    return lanes;
}

void store(double *into, const Lanes &lanes)
{
    std::memcpy(into, &lanes, sizeof lanes);
}

Lanes least2(const Lanes &a, const Lanes &b)
{
    return a < b ? a : b;
}

} // namespace

void ReachGrid::lower(std::size_t row, std::size_t column, const Reach &base, const ReachGrid &by,
                      const Stretch &stretch)
{
    const std::size_t from = stretch.row * by.m_columns + stretch.column;
    const double *__restrict seconds = by.m_seconds.data() + from;
    const double *__restrict metres = by.m_metres.data() + from;
    double *__restrict bestSeconds = m_seconds.data() + row * m_columns + column;
    double *__restrict bestMetres = m_metres.data() + row * m_columns + column;
    const Lanes begin{base.seconds, base.seconds};
    const Lanes metresBegin{base.metres, base.metres};
    std::size_t i = 0;
    for (; i + laneCount <= stretch.count; i += laneCount) {
        const Lanes there = begin + lanesAt(seconds + i);
        const Lanes before = lanesAt(bestSeconds + i);
        const auto isLess = there < before;
        store(bestSeconds + i, isLess ? there : before);
        store(bestMetres + i, isLess ? metresBegin + lanesAt(metres + i) : lanesAt(bestMetres + i));
    }
    for (; i < stretch.count; ++i) {
        if (base.seconds + seconds[i] < bestSeconds[i]) {
            bestSeconds[i] = base.seconds + seconds[i];
            bestMetres[i] = base.metres + metres[i];
        }
    }
}

Reach ReachGrid::leastSum(const Stretch &stretch, const ReachGrid &with, std::size_t row,
                          std::size_t column) const
{
    const std::size_t from = stretch.row * m_columns + stretch.column;
    const std::size_t rest = row * with.m_columns + column;
    const double *__restrict a = m_seconds.data() + from;
    const double *__restrict b = with.m_seconds.data() + rest;
    double least = outOfReach.seconds;
    std::size_t at = stretch.count;
    const auto lookAt = [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) {
            if (a[i] + b[i] < least) {
                least = a[i] + b[i];
                at = i;
            }
        }
    };
    // Most blocks hold nothing less: their least alone is found sooner.
    constexpr std::size_t block = 4 * laneCount;
    std::size_t i = 0;
    for (; i + block <= stretch.count; i += block) {
        const auto sums = [&](std::size_t k) { return lanesAt(a + i + k) + lanesAt(b + i + k); };
        const Lanes lesser = least2(least2(sums(0), sums(laneCount)),
                                    least2(sums(2 * laneCount), sums(3 * laneCount)));
        if (lesser[0] < least || lesser[1] < least) {
            lookAt(i, i + block);
        }
    }
    lookAt(i, stretch.count);
    return at == stretch.count ? outOfReach
                               : Reach{least, m_metres[from + at] + with.m_metres[rest + at]};
}

double ReachGrid::mostSeconds(std::size_t row) const
{
    const auto first = m_seconds.begin() + static_cast<std::ptrdiff_t>(row * m_columns);
    const auto last = first + static_cast<std::ptrdiff_t>(m_columns);
    return first == last ? -outOfReach.seconds : *std::max_element(first, last);
}

double ReachGrid::leastSeconds(std::size_t row) const
{
    const auto first = m_seconds.begin() + static_cast<std::ptrdiff_t>(row * m_columns);
    const auto last = first + static_cast<std::ptrdiff_t>(m_columns);
    return first == last ? outOfReach.seconds : *std::min_element(first, last);
}

} // namespace keyround
