// SPDX-License-Identifier: GPL-3.0-or-later
// The town's own dice. The standard library fixes the output of its engines but not of its
// distributions, so both are written here: the same seed gives the same town with every compiler.
// Draw at most once in the arguments of a call and in the operands of a sum: their order is each
// compiler's own. The engine is xoshiro256** seeded by splitmix64 (both public domain, by Blackman
// and Vigna).
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace keyround::sample {

class Random
{
public:
    explicit Random(std::uint64_t seed);

    std::uint64_t next();
    double share();                            ///< at least 0, below 1
    double between(double least, double most); ///< evenly
    int whole(int least, int most);            ///< both ends included
    bool chance(double share_);
    double normal(double mean, double deviation);
    double exponential(double mean);
    /// Inverse of the Weibull distribution's 1 - exp(-(t/scale)^shape).
    double weibull(double shape, double scale);
    /// Index drawn in proportion to the weights.
    std::size_t weighted(const std::vector<double> &weights);

    template <typename T> const T &pick(const std::vector<T> &from)
    {
        return from[static_cast<std::size_t>(whole(0, static_cast<int>(from.size()) - 1))];
    }
    template <typename T> void shuffle(std::vector<T> &items)
    {
        for (std::size_t i = items.size(); i > 1; --i)
            std::swap(items[i - 1],
                      items[static_cast<std::size_t>(whole(0, static_cast<int>(i) - 1))]);
    }

private:
    std::array<std::uint64_t, 4> m_state{};
};

} // namespace keyround::sample
