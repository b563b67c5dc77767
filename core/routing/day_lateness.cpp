// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/day_lateness.h"

#include <algorithm>

namespace keyround {

namespace {

/// First the seconds late, then the second of finishing.
struct Lateness
{
    double late = 0;
    double time = 0;
    friend bool operator<(const Lateness &a, const Lateness &b)
    {
        constexpr double noise = 1e-6;
        return a.late < b.late - noise || (a.late <= b.late + noise && a.time < b.time - noise);
    }
};

class LateSearch
{
public:
    LateSearch(const DayUnits &units, const std::vector<TimedStop> &stops, const TimedShift &shift,
               std::uint64_t seed)
        : m_units(units), m_stops(stops), m_shift(shift), m_dice(seed),
          m_states(shift.breaks.size() + 1)
    {
    }

    std::vector<std::uint32_t> run(std::vector<std::uint32_t> order, DayEffort &effort)
    {
        m_low = !order.empty() && m_units.unit(order.front()).isFirst ? 1 : 0;
        m_high = order.size() - (!order.empty() && m_units.unit(order.back()).isLast ? 1 : 0);
        Lateness best = descend(order, effort);
        // Stops driven along, in all, and kicks in a row that did not help.
        constexpr std::size_t mostSteps = 4'000'000;
        const std::size_t patience = 10 + 2 * order.size();
        constexpr double mostShare = 0.5; // of a time that is set
        std::size_t idle = 0;
        while (best.late > 0 && m_high > m_low + 1 && effort.keepsWatching() && idle < patience &&
               (effort.isTimed() ? effort.share() < mostShare : m_steps < mostSteps)) {
            std::vector<std::uint32_t> trial = order;
            const std::size_t kicks = 1 + m_dice.upTo(8);
            for (std::size_t n = 0; n < kicks; ++n) {
                shift(trial, m_low + m_dice.upTo(m_high - m_low), 1,
                      m_low + m_dice.upTo(m_high - m_low));
            }
            const Lateness found = descend(trial, effort);
            idle = found < best ? 0 : idle + 1;
            if (!(best < found)) {
                best = found;
                order = std::move(trial);
            }
        }
        return order;
    }

private:
    void takeBreaks()
    {
        for (std::size_t k = 0; k + 1 < m_states.size(); ++k) {
            const TimedBreak &pause = m_shift.breaks[k];
            const Lateness taken{m_states[k].late + std::max(0.0, m_states[k].time - pause.latest),
                                 std::max(m_states[k].time, pause.earliest) + pause.seconds};
            m_states[k + 1] = std::min(m_states[k + 1], taken);
        }
    }

    Lateness evaluate(const std::vector<std::uint32_t> &order)
    {
        m_steps += order.size();
        std::fill(m_states.begin(), m_states.end(), Lateness{unreachable, unreachable});
        m_states[0] = {0, m_shift.begin};
        takeBreaks();
        std::uint32_t here = m_units.start();
        for (const std::uint32_t u : order) {
            double drive = m_units.drive(here, u);
            const std::vector<std::size_t> &members = m_units.unit(u).stops;
            for (std::size_t i = 0; i < members.size(); ++i) {
                const TimedStop &stop = m_stops[members[i]];
                drive = i == 0 ? drive : m_units.hop(u, i);
                for (Lateness &state : m_states) {
                    const double arrive = state.time + drive;
                    state.late += secondsLate(stop, arrive);
                    state.time = beginOfWork(stop, arrive) + stop.service;
                }
                takeBreaks();
            }
            here = u;
        }
        Lateness best{unreachable, unreachable};
        for (std::size_t k = 0; k < m_states.size(); ++k) {
            const double finish = m_states[k].time + m_units.drive(here, m_units.finish());
            if (k + 1 == m_states.size() || finish <= m_shift.breaks[k].earliest) {
                best = std::min(best,
                                {m_states[k].late + std::max(0.0, finish - m_shift.end), finish});
            }
        }
        return best;
    }

    /// `count` units from `from` on to position `to` of what is left.
    static void shift(std::vector<std::uint32_t> &order, std::size_t from, std::size_t count,
                      std::size_t to)
    {
        const auto at = [&](std::size_t index) {
            return order.begin() + static_cast<std::ptrdiff_t>(index);
        };
        if (to > from) {
            std::rotate(at(from), at(from + count), at(to + count));
        } else {
            std::rotate(at(to), at(from), at(from + count));
        }
    }

    Lateness descend(std::vector<std::uint32_t> &order, DayEffort &effort)
    {
        constexpr std::size_t longest = 3;
        Lateness best = evaluate(order);
        std::vector<std::uint32_t> trial;
        bool improved = true;
        while (improved && effort.keepsWatching()) {
            improved = false;
            for (std::size_t count = 1; count <= longest; ++count) {
                for (std::size_t from = m_low; from + count <= m_high; ++from) {
                    Lateness bestHere = best;
                    std::size_t bestTo = from;
                    for (std::size_t to = m_low; to + count <= m_high; ++to) {
                        if (to == from) {
                            continue;
                        }
                        trial = order;
                        shift(trial, from, count, to);
                        const Lateness found = evaluate(trial);
                        if (found < bestHere) {
                            bestHere = found;
                            bestTo = to;
                        }
                    }
                    if (bestTo != from) {
                        shift(order, from, count, bestTo);
                        best = bestHere;
                        improved = true;
                    }
                }
            }
        }
        return best;
    }

    const DayUnits &m_units;
    const std::vector<TimedStop> &m_stops;
    const TimedShift &m_shift;
    Dice m_dice;
    std::vector<Lateness> m_states; ///< by breaks taken
    std::size_t m_low = 0;
    std::size_t m_high = 0;
    std::size_t m_steps = 0;
};

} // namespace

std::vector<std::uint32_t> leastLateOrder(const DayUnits &units,
                                          const std::vector<TimedStop> &stops,
                                          const TimedShift &shift, std::vector<std::uint32_t> order,
                                          DayEffort &effort, std::uint64_t seed)
{
    return LateSearch(units, stops, shift, seed).run(std::move(order), effort);
}

} // namespace keyround
