// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/tour_costs.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr double longestCell = 134217728.0; // 2^27: five of them, and a tie, stay within 32 bits
constexpr std::int32_t tie = -(1 << 30);

struct Scale
{
    double factor = 1.0;
    std::int32_t noWay = 0;

    [[nodiscard]] std::int32_t whole(double seconds) const
    {
        return std::isfinite(seconds) ? static_cast<std::int32_t>(std::lround(seconds * factor))
                                      : noWay;
    }
};

Scale scaleFor(const Matrix &seconds)
{
    double longest = 0;
    bool gaps = false;
    for (std::size_t from = 0; from < seconds.size(); ++from) {
        for (std::size_t to = 0; to < seconds.size(); ++to) {
            const double hop = seconds.at(from, to);
            gaps = gaps || !std::isfinite(hop);
            longest = std::isfinite(hop) ? std::max(longest, hop) : longest;
        }
    }
    // A hop that does not exist costs more than all others of a tour together.
    const double noWay = gaps ? 2.0 * static_cast<double>(seconds.size()) * longest : longest;
    Scale scale;
    if (noWay > 0) {
        scale.factor = std::exp2(std::floor(std::log2(longestCell / noWay)));
    }
    scale.noWay = static_cast<std::int32_t>(std::lround(noWay * scale.factor));
    return scale;
}

} // namespace

TourCosts::TourCosts(const Matrix &seconds) : m_size(seconds.size())
{
    const Scale scale = scaleFor(seconds);
    const std::size_t n = seconds.size();
    bool sameLegs = true;
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = i + 1; j < n; ++j) {
            const bool same = scale.whole(seconds.at(i, j)) == scale.whole(seconds.at(j, i));
            (i == 0 ? sameLegs : m_symmetric) = (i == 0 ? sameLegs : m_symmetric) && same;
        }
    }
    if (m_symmetric && !sameLegs) {
        m_finish = static_cast<std::uint32_t>(n);
        m_size = n + 1;
    }
    m_cells.assign(m_size * m_size, 0);
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = 0; j < n; ++j) {
            m_cells[i * m_size + j] = scale.whole(seconds.at(i, j));
        }
    }
    if (m_finish != 0) {
        for (std::size_t i = 1; i < n; ++i) {
            m_cells[n * m_size + i] = m_cells[i * m_size + n] = m_cells[i * m_size];
            m_cells[i * m_size] = m_cells[i];
        }
        m_cells[n] = m_cells[n * m_size] = tie;
    }
}

Candidates::Candidates(const TourCosts &costs, bool bothWays, std::size_t nearest,
                       std::size_t spread)
{
    const auto cost = [&](std::uint32_t from, std::uint32_t to) {
        return costs.at(from, to) + (bothWays ? costs.at(to, from) : 0);
    };
    const auto size = static_cast<std::uint32_t>(costs.size());
    std::vector<std::uint32_t> others;
    std::vector<std::uint32_t> kept;
    for (std::uint32_t place = 0; place < size; ++place) {
        others.clear();
        for (std::uint32_t other = 0; other < size; ++other) {
            if (other != place) {
                others.push_back(other);
            }
        }
        const std::size_t looked = std::min<std::size_t>(others.size(), 10 * (nearest + spread));
        std::partial_sort(others.begin(), others.begin() + static_cast<std::ptrdiff_t>(looked),
                          others.end(), [&](std::uint32_t a, std::uint32_t b) {
                              const std::int64_t costA = cost(place, a);
                              const std::int64_t costB = cost(place, b);
                              return costA != costB ? costA < costB : a < b;
                          });
        kept.clear();
        std::size_t added = 0;
        for (std::size_t i = 0; i < looked && (i < nearest || added < spread); ++i) {
            const std::uint32_t other = others[i];
            const bool behind = std::any_of(kept.begin(), kept.end(), [&](std::uint32_t near) {
                return cost(near, other) < cost(place, other);
            });
            if (i < nearest || !behind) {
                kept.push_back(other);
                added += i < nearest ? 0 : 1;
            }
        }
        m_first.push_back(m_list.size());
        for (const std::uint32_t other : kept) {
            // The tie is no hop to choose; it is in every tour.
            if (costs.at(place, other) != tie) {
                m_list.push_back({other, static_cast<std::int32_t>(cost(place, other))});
            }
        }
    }
    m_first.push_back(m_list.size());
}

} // namespace keyround
