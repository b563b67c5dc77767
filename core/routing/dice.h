// SPDX-License-Identifier: GPL-3.0-or-later
// Dice of our own, so that searches give the same answer on every machine: xorshift64* (Vigna
// 2016, "An experimental exploration of Marsaglia's xorshift generators, scrambled").
#pragma once

#include <cstdint>

namespace keyround {

class Dice
{
public:
    explicit Dice(std::uint64_t seed) : m_state((seed + 1) * 0x9E3779B97F4A7C15ULL | 1U) {}

    /// 0 to below - 1; below is not 0 and less than 2^31.
    std::size_t upTo(std::size_t below)
    {
        return static_cast<std::size_t>((next() >> 33U) % below);
    }
    /// From 0 up to, and without, 1.
    double share() { return static_cast<double>(next() >> 34U) / 1073741824.0; }

private:
    std::uint64_t next()
    {
        m_state ^= m_state >> 12U;
        m_state ^= m_state << 25U;
        m_state ^= m_state >> 27U;
        return m_state * 0x2545F4914F6CDD1DULL;
    }

    std::uint64_t m_state;
};

} // namespace keyround
