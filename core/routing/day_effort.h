// SPDX-License-Identifier: GPL-3.0-or-later
// How much a search may do: counted rounds, or for benchmarks processor time; and whether it should
// stop because its watcher said so.
#pragma once

#include "core/routing/day_route.h"

#include <algorithm>
#include <ctime>

namespace keyround {

class DayEffort
{
public:
    DayEffort(const DayRouteOptions &options, const Progress &progress)
        : m_progress(progress), m_rounds(options.rounds), m_budget(options.budgetMilliseconds),
          m_begin(std::clock())
    {
    }

    [[nodiscard]] bool isTimed() const { return m_budget.has_value(); }
    [[nodiscard]] bool wasCancelled() const { return m_cancelled; }
    [[nodiscard]] std::size_t rounds() const { return m_rounds; }
    /// What is done of the whole, from 0 to 1.
    [[nodiscard]] double share() const
    {
        const double all = m_budget ? *m_budget : static_cast<double>(m_rounds);
        const double done = m_budget ? milliseconds() : static_cast<double>(m_done);
        return all > 0 ? std::min(1.0, done / all) : 1.0;
    }
    /// Counts a round. False when the effort is spent or the watcher cancelled.
    bool goOn()
    {
        ++m_done;
        return share() < 1.0 && keepsWatching();
    }
    bool keepsWatching()
    {
        constexpr std::size_t between = 64; // rounds
        if (!m_cancelled && m_asked++ % between == 0) {
            m_cancelled = !report(m_progress, share(), QStringLiteral("Choosing stops"));
        }
        return !m_cancelled;
    }

private:
    [[nodiscard]] double milliseconds() const
    {
        return 1000.0 * static_cast<double>(std::clock() - m_begin) / CLOCKS_PER_SEC;
    }

    const Progress &m_progress;
    std::size_t m_rounds;
    std::size_t m_done = 0;
    std::size_t m_asked = 0;
    std::optional<double> m_budget;
    std::clock_t m_begin;
    bool m_cancelled = false;
};

} // namespace keyround
