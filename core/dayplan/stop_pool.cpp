// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/stop_pool.h"

#include "core/dayplan/day_clock.h"

#include <algorithm>
#include <numeric>
#include <optional>

namespace keyround {

namespace {

constexpr double quickestStop = 60.0; // seconds; what takes less is not told from it

double workSeconds(const StopCandidate &candidate)
{
    return std::max(candidate.minutes * 60.0, quickestStop);
}

/// A route of straight lines that grows stop by stop, and what each candidate would add to it.
class Sketch
{
public:
    Sketch(const Round &day, const std::vector<StopCandidate> &candidates,
           const TravelSettings &settings)
        : m_ways(day.start, settings), m_candidates(candidates), m_taken(candidates.size(), 0),
          m_detour(candidates.size(), {0, 0})
    {
        m_route = {m_ways.at(day.start), m_ways.at(finishOf(day))};
        for (const StopCandidate &candidate : candidates) {
            m_places.push_back(m_ways.at(candidate.place));
        }
        for (std::size_t i = 0; i < candidates.size(); ++i) {
            seek(i);
        }
    }

    [[nodiscard]] const std::vector<std::size_t> &pool() const { return m_pool; }

    void take(std::size_t candidate)
    {
        const std::size_t hop = m_detour[candidate].hop;
        m_route.insert(m_route.begin() + static_cast<std::ptrdiff_t>(hop) + 1, m_places[candidate]);
        m_taken[candidate] = 1;
        m_pool.push_back(candidate);
        for (std::size_t i = 0; i < m_candidates.size(); ++i) {
            if (m_taken[i] != 0) {
                continue;
            }
            if (m_detour[i].hop == hop) {
                seek(i); // its hop is not there any more
                continue;
            }
            m_detour[i].hop += m_detour[i].hop > hop ? 1 : 0;
            consider(i, hop);
            consider(i, hop + 1);
        }
    }

    /// The candidate that earns most for the time that it takes; none when all are taken.
    [[nodiscard]] std::optional<std::size_t> bestForItsTime() const
    {
        std::optional<std::size_t> best;
        double most = -1;
        for (std::size_t i = 0; i < m_candidates.size(); ++i) {
            const double earns =
                worthOf(m_candidates[i]) / (workSeconds(m_candidates[i]) + m_detour[i].seconds);
            if (m_taken[i] == 0 && earns > most) {
                most = earns;
                best = i;
            }
        }
        return best;
    }

private:
    struct Detour
    {
        std::size_t hop = 0; ///< index in the route of the place before
        double seconds = 0;
    };

    [[nodiscard]] double detourAt(std::size_t candidate, std::size_t hop) const
    {
        const PlanePoint &place = m_places[candidate];
        return m_ways.between(m_route[hop], place) + m_ways.between(place, m_route[hop + 1]) -
               m_ways.between(m_route[hop], m_route[hop + 1]);
    }
    void consider(std::size_t candidate, std::size_t hop)
    {
        const double seconds = detourAt(candidate, hop);
        if (seconds < m_detour[candidate].seconds) {
            m_detour[candidate] = {hop, seconds};
        }
    }
    void seek(std::size_t candidate)
    {
        m_detour[candidate] = {0, detourAt(candidate, 0)};
        for (std::size_t hop = 1; hop + 1 < m_route.size(); ++hop) {
            consider(candidate, hop);
        }
    }

    SketchedWays m_ways;
    const std::vector<StopCandidate> &m_candidates;
    std::vector<PlanePoint> m_places;
    std::vector<PlanePoint> m_route;
    std::vector<char> m_taken;
    std::vector<Detour> m_detour;
    std::vector<std::size_t> m_pool;
};

} // namespace

std::size_t poolSize(const std::vector<StopCandidate> &candidates, double shiftSeconds)
{
    constexpr std::size_t least = 60;
    constexpr std::size_t most = 160;
    if (candidates.size() <= least) {
        return candidates.size();
    }
    // By the middle one, so that a few long stops at the head of the list do not count for all.
    std::vector<double> seconds;
    for (const StopCandidate &candidate : candidates) {
        seconds.push_back(workSeconds(candidate));
    }
    const auto middle = seconds.begin() + static_cast<std::ptrdiff_t>(seconds.size() / 2);
    std::nth_element(seconds.begin(), middle, seconds.end());
    const double wanted = 2.0 * shiftSeconds / *middle;
    const auto size = static_cast<std::size_t>(std::clamp(wanted, 0.0, 1e6));
    return std::min(candidates.size(), std::clamp(size, least, most));
}

std::vector<std::size_t> choosePool(const Round &day, const std::vector<StopCandidate> &candidates,
                                    std::size_t size, const TravelSettings &settings)
{
    std::vector<std::size_t> ranked(candidates.size());
    std::iota(ranked.begin(), ranked.end(), std::size_t{0});
    // Equal ones keep the caller's order.
    std::stable_sort(ranked.begin(), ranked.end(), [&](std::size_t a, std::size_t b) {
        const bool aGoes = candidates[a].mustGo;
        const bool bGoes = candidates[b].mustGo;
        return aGoes != bGoes ? aGoes : candidates[a].priority > candidates[b].priority;
    });
    if (size >= candidates.size()) {
        return ranked;
    }
    Sketch sketch(day, candidates, settings);
    for (const std::size_t candidate : ranked) {
        if (!candidates[candidate].mustGo && sketch.pool().size() >= size / 4) {
            break;
        }
        sketch.take(candidate);
    }
    while (sketch.pool().size() < size) {
        const auto next = sketch.bestForItsTime();
        if (!next) {
            break;
        }
        sketch.take(*next);
    }
    return sketch.pool();
}

double sketchedInsertion(const SketchedWays &ways, const std::vector<PlanePoint> &route,
                         const StopCandidate &candidate)
{
    const PlanePoint place = ways.at(candidate.place);
    double least = unreachable;
    for (std::size_t hop = 0; hop + 1 < route.size(); ++hop) {
        least =
            std::min(least, ways.between(route[hop], place) + ways.between(place, route[hop + 1]) -
                                ways.between(route[hop], route[hop + 1]));
    }
    return least + candidate.minutes * 60.0;
}

} // namespace keyround
