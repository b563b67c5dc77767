// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/day_beam.h"

#include "core/routing/dice.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <unordered_map>

namespace keyround {

namespace {

using Words = std::vector<std::uint64_t>;

struct State
{
    double rank = 0;
    double time = 0; ///< ready to drive on
    double drive = 0;
    double prize = 0;
    std::uint64_t key = 0; ///< of the set, the last unit and the breaks taken
    std::uint32_t last = 0;
    std::uint32_t breaks = 0;
    std::uint32_t parent = 0; ///< in the level before
};

// Of more units the shortest ways would take longer than the search.
constexpr std::size_t many = 220;

class Beam
{
public:
    Beam(const DayUnits &units, const std::vector<std::uint32_t> &all, DayObjective objective,
         std::size_t width, bool byTime, bool mayLeaveOut)
        : m_units(units), m_all(all), m_mayLeaveOut(mayLeaveOut),
          m_byFinish(objective == DayObjective::EarliestFinish), m_byTime(byTime), m_width(width),
          m_words((units.size() + 63) / 64), m_times(units.states())
    {
        bestWays();
        precedences();
        Dice dice(20240731U);
        for (std::uint32_t u = 0; u < units.size(); ++u) {
            m_marks.push_back(static_cast<std::uint64_t>(dice.upTo(1U << 30U)) << 34U ^
                              static_cast<std::uint64_t>(dice.upTo(1U << 30U)) << 12U ^
                              dice.upTo(1U << 30U));
            double least = units.drive(units.start(), u);
            for (const std::uint32_t v : all) {
                least = v == u ? least : std::min(least, units.drive(v, u));
            }
            m_leastTo.push_back(least);
        }
    }

    BeamOrder run(const std::function<bool()> &goesOn)
    {
        BeamOrder result;
        result.isExact = m_all.size() <= many;
        begin();
        for (std::size_t level = 0; level < m_all.size(); ++level) {
            if (!goesOn()) {
                return {};
            }
            if (!advance()) {
                result.isExact = false;
            }
            if (m_levels.back().empty() && !m_mayLeaveOut) {
                return result;
            }
        }
        result.route = bestRoute();
        return result;
    }

private:
    /// Shortest ways between units over other units, without work: what no order can beat.
    void bestWays()
    {
        const std::size_t n = m_units.size() + 1; // the start among them
        m_ways.assign(n * n, 0.0);
        std::vector<std::uint32_t> nodes = m_all;
        nodes.push_back(m_units.start());
        for (const std::uint32_t u : nodes) {
            for (const std::uint32_t v : m_all) {
                m_ways[u * n + v] = m_units.drive(u, v);
            }
        }
        if (m_all.size() > many) {
            return;
        }
        for (const std::uint32_t over : m_all) {
            for (const std::uint32_t u : nodes) {
                const double first = m_ways[u * n + over];
                for (const std::uint32_t v : m_all) {
                    m_ways[u * n + v] = std::min(m_ways[u * n + v], first + m_ways[over * n + v]);
                }
            }
        }
    }
    [[nodiscard]] double way(std::uint32_t u, std::uint32_t v) const
    {
        return m_ways[u * (m_units.size() + 1) + v];
    }

    /// v before u where u cannot be worked before v in time.
    void precedences()
    {
        m_earlier.assign(m_units.size(), Words(m_words, 0));
        for (const std::uint32_t u : m_all) {
            const double begin =
                std::max(m_units.firstWork(u), m_units.begin() + way(m_units.start(), u));
            for (const std::uint32_t v : m_all) {
                const bool pinned = m_units.unit(v).isFirst || m_units.unit(u).isLast;
                if (m_mayLeaveOut) {
                    continue; // pins are looked at when a state is extended
                }
                if (u != v &&
                    (pinned || begin + m_units.within(u) + way(u, v) > m_units.lastArrival(v))) {
                    m_earlier[u][v / 64] |= std::uint64_t{1} << (v % 64);
                }
            }
        }
    }

    void begin()
    {
        m_units.leaveStart(m_times.data());
        m_levels.emplace_back();
        m_sets.emplace_back();
        for (std::uint32_t k = 0; k < m_times.size(); ++k) {
            if (m_times[k] < DayUnits::tooLate) {
                State state;
                state.time = m_times[k];
                state.last = m_units.start();
                state.breaks = k;
                m_levels.back().push_back(state);
                m_sets.back().resize(m_sets.back().size() + m_words, 0);
            }
        }
        m_remaining = 0;
        for (const std::uint32_t u : m_all) {
            m_remaining += m_leastTo[u];
        }
        m_ranks.assign(m_levels.back().size(), m_remaining);
    }

    void extend(std::uint32_t from, std::uint32_t u)
    {
        const State &state = m_levels.back()[from];
        if (state.last != m_units.start() &&
            (m_units.unit(u).isFirst || m_units.unit(state.last).isLast)) {
            return;
        }
        const double drive = m_units.drive(state.last, u);
        std::fill(m_times.begin(), m_times.end(), DayUnits::impossible);
        m_times[state.breaks] = state.time + drive;
        if (m_units.isSimple()) {
            m_times[0] = m_units.workSimple(u, m_times[0]);
        } else if (!m_units.work(u, m_times.data())) {
            return;
        }
        for (std::uint32_t k = 0; k < m_times.size(); ++k) {
            if (m_times[k] >= DayUnits::tooLate) {
                continue;
            }
            State next;
            next.time = m_times[k];
            next.drive = state.drive + drive;
            next.prize = state.prize + m_units.prize(u);
            next.last = u;
            next.breaks = k;
            next.parent = from;
            next.key = m_keys[from] ^ m_marks[u];
            const double ahead = m_ranks[from] - m_leastTo[u];
            next.rank = (m_byTime || m_byFinish ? next.time : next.drive) + ahead +
                        1e-6 * (m_byTime || m_byFinish ? next.drive : next.time);
            m_found.push_back(next);
        }
    }

    /// What is not yet visited can still be reached in time.
    [[nodiscard]] bool isAlive(const State &state, const std::uint64_t *set) const
    {
        return m_mayLeaveOut || std::all_of(m_all.begin(), m_all.end(), [&](std::uint32_t v) {
                   return v == state.last || (set[v / 64] >> (v % 64) & 1U) != 0 ||
                          state.time + way(state.last, v) <= m_units.lastArrival(v);
               });
    }

    /// The next level. False when states had to be given up.
    bool advance()
    {
        const std::vector<State> &level = m_levels.back();
        const Words &sets = m_sets.back();
        if (m_keys.size() != level.size()) {
            m_keys.assign(level.size(), 0);
        }
        m_found.clear();
        for (std::uint32_t from = 0; from < level.size(); ++from) {
            const std::uint64_t *set = &sets[from * m_words];
            for (const std::uint32_t u : m_all) {
                bool open = (set[u / 64] >> (u % 64) & 1U) == 0;
                for (std::size_t w = 0; open && w < m_words; ++w) {
                    open = (m_earlier[u][w] & ~set[w]) == 0;
                }
                if (open) {
                    extend(from, u);
                }
            }
        }
        std::sort(m_found.begin(), m_found.end(), [](const State &a, const State &b) {
            return a.rank != b.rank
                       ? a.rank < b.rank
                       : (a.parent != b.parent ? a.parent < b.parent : a.last < b.last);
        });
        return keepBest();
    }

    bool keepBest()
    {
        std::vector<State> kept;
        Words keptSets;
        std::vector<std::uint64_t> keys;
        std::vector<double> ranks;
        std::unordered_multimap<std::uint64_t, std::size_t> known;
        bool all = true;
        const Words &sets = m_sets.back();
        for (const State &state : m_found) {
            const std::uint64_t key =
                state.key * 0x9E3779B97F4A7C15ULL + std::uint64_t{state.last} * 64U + state.breaks;
            const auto [from, to] = known.equal_range(key);
            const bool beaten = std::any_of(from, to, [&](const auto &other) {
                return kept[other.second].time <= state.time &&
                       kept[other.second].drive <= state.drive;
            });
            const std::uint64_t *set = &sets[state.parent * m_words];
            if (beaten || !isAlive(state, set)) {
                continue;
            }
            if (kept.size() >= m_width) {
                all = false;
                break;
            }
            known.emplace(key, kept.size());
            keptSets.insert(keptSets.end(), set, set + m_words);
            keptSets[kept.size() * m_words + state.last / 64] |= std::uint64_t{1}
                                                                 << (state.last % 64);
            keys.push_back(state.key);
            ranks.push_back(m_ranks[state.parent] - m_leastTo[state.last]);
            kept.push_back(state);
        }
        m_levels.push_back(std::move(kept));
        m_sets.push_back(std::move(keptSets));
        m_keys = std::move(keys);
        m_ranks = std::move(ranks);
        return all;
    }

    [[nodiscard]] std::vector<std::uint32_t> bestRoute()
    {
        std::vector<double> latest(m_units.states());
        m_units.latestFinish(latest.data());
        double least = DayUnits::impossible;
        double most = -1;
        std::size_t atLevel = 0;
        std::uint32_t at = 0;
        for (std::size_t n = m_mayLeaveOut ? 0 : m_levels.size() - 1; n < m_levels.size(); ++n) {
            for (std::uint32_t i = 0; i < m_levels[n].size(); ++i) {
                const State &state = m_levels[n][i];
                const double home = m_units.drive(state.last, m_units.finish());
                const double cost = home + (m_byFinish ? state.time : state.drive);
                const double noise = 1e-9 * (1.0 + std::abs(most));
                const bool isBetter =
                    state.prize > most + noise || (state.prize >= most - noise && cost < least);
                if (state.time + home <= latest[state.breaks] && isBetter) {
                    most = state.prize;
                    least = cost;
                    atLevel = n;
                    at = i;
                }
            }
        }
        std::vector<std::uint32_t> route;
        for (std::size_t n = atLevel; n > 0; --n) {
            route.push_back(m_levels[n][at].last);
            at = m_levels[n][at].parent;
        }
        std::reverse(route.begin(), route.end());
        return route;
    }

    const DayUnits &m_units;
    const std::vector<std::uint32_t> &m_all;
    bool m_mayLeaveOut;
    bool m_byFinish;
    bool m_byTime;
    std::size_t m_width;
    std::size_t m_words;
    std::vector<double> m_times;
    std::vector<double> m_ways;
    std::vector<Words> m_earlier;
    std::vector<std::uint64_t> m_marks;
    std::vector<double> m_leastTo; ///< the shortest leg to each
    double m_remaining = 0;
    std::vector<std::vector<State>> m_levels;
    std::vector<Words> m_sets; ///< visited, by level and state
    std::vector<std::uint64_t> m_keys;
    std::vector<double> m_ranks; ///< what is left to drive at least
    std::vector<State> m_found;
};

} // namespace

BeamOrder beamOrder(const DayUnits &units, const std::vector<std::uint32_t> &all,
                    DayObjective objective, std::size_t width, bool byTime,
                    const std::function<bool()> &goesOn)
{
    return Beam(units, all, objective, width, byTime, false).run(goesOn);
}

BeamOrder bestSelection(const DayUnits &units, DayObjective objective,
                        const std::function<bool()> &goesOn)
{
    std::vector<std::uint32_t> all(units.size());
    std::iota(all.begin(), all.end(), 0U);
    return Beam(units, all, objective, ~std::size_t{0}, false, true).run(goesOn);
}

} // namespace keyround
