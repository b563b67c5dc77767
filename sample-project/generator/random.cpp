// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-project/generator/random.h"

#include <bit>
#include <cmath>
#include <numbers>

namespace keyround::sample {

Random::Random(std::uint64_t seed)
{
    for (std::uint64_t &word : m_state) {
        seed += 0x9e3779b97f4a7c15ULL;
        std::uint64_t z = seed;
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
        word = z ^ (z >> 31);
    }
}

std::uint64_t Random::next()
{
    const std::uint64_t result = std::rotl(m_state[1] * 5, 7) * 9;
    const std::uint64_t shifted = m_state[1] << 17;
    m_state[2] ^= m_state[0];
    m_state[3] ^= m_state[1];
    m_state[1] ^= m_state[2];
    m_state[0] ^= m_state[3];
    m_state[2] ^= shifted;
    m_state[3] = std::rotl(m_state[3], 45);
    return result;
}

double Random::share()
{
    return static_cast<double>(next() >> 11) * 0x1.0p-53;
}

double Random::between(double least, double most)
{
    return least + (most - least) * share();
}

int Random::whole(int least, int most)
{
    return least + static_cast<int>(share() * (static_cast<double>(most) - least + 1.0));
}

bool Random::chance(double share_)
{
    return share() < share_;
}

double Random::normal(double mean, double deviation)
{
    // Box and Muller; 1 - share() is never 0.
    const double radius = std::sqrt(-2.0 * std::log(1.0 - share()));
    return mean + deviation * radius * std::cos(2.0 * std::numbers::pi * share());
}

double Random::exponential(double mean)
{
    return -mean * std::log(1.0 - share());
}

double Random::weibull(double shape, double scale)
{
    return scale * std::pow(-std::log(1.0 - share()), 1.0 / shape);
}

std::size_t Random::weighted(const std::vector<double> &weights)
{
    double sum = 0;
    for (const double weight : weights)
        sum += weight;
    double drawn = share() * sum;
    for (std::size_t i = 0; i + 1 < weights.size(); ++i) {
        drawn -= weights[i];
        if (drawn < 0)
            return i;
    }
    return weights.size() - 1;
}

} // namespace keyround::sample
