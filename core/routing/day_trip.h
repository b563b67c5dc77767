// SPDX-License-Identifier: GPL-3.0-or-later
// A day under search: units in an order that keeps all windows, breaks and the end, with what is
// needed to check a change of it at once.
#pragma once

#include "core/routing/day_units.h"

#include <cstdint>
#include <vector>

namespace keyround {

class DayTrip
{
public:
    static constexpr std::uint32_t absent = ~std::uint32_t{0};

    explicit DayTrip(const DayUnits &units);

    [[nodiscard]] const std::vector<std::uint32_t> &route() const { return m_route; }
    [[nodiscard]] std::size_t size() const { return m_route.size(); }
    [[nodiscard]] std::uint32_t positionOf(std::uint32_t u) const { return m_position[u]; }
    [[nodiscard]] bool has(std::uint32_t u) const { return m_position[u] != absent; }
    /// The unit before gap g (gaps 0 to size()), or the start; the unit after it, or the finish.
    [[nodiscard]] std::uint32_t before(std::size_t gap) const
    {
        return gap == 0 ? m_units->start() : m_route[gap - 1];
    }
    [[nodiscard]] std::uint32_t after(std::size_t gap) const
    {
        return gap == m_route.size() ? m_units->finish() : m_route[gap];
    }
    /// Units that may change places are those at [lowest(), highest()).
    [[nodiscard]] std::size_t lowest() const
    {
        return !m_route.empty() && m_units->unit(m_route.front()).isFirst ? 1 : 0;
    }
    [[nodiscard]] std::size_t highest() const
    {
        const bool pinned = !m_route.empty() && m_units->unit(m_route.back()).isLast;
        return m_route.size() - (pinned && m_route.size() > lowest() ? 1 : 0);
    }
    [[nodiscard]] double prize() const { return m_prize; }
    [[nodiscard]] double drive() const { return m_drive; }
    [[nodiscard]] double finish() const { return m_finish; }
    /// False when the route misses a window, a break or the end.
    [[nodiscard]] bool isKept() const { return m_kept; }
    [[nodiscard]] double ready(std::size_t gap) const { return m_ready[gap * m_units->states()]; }

    /// True when the stretch at [from, to) may be replaced by these units.
    [[nodiscard]] bool fits(std::size_t from, std::size_t to, const std::uint32_t *units,
                            std::size_t count) const;
    /// A piece of the route: [from, to), driven the other way round when turned.
    struct Piece
    {
        std::size_t from;
        std::size_t to;
        bool turned;
    };
    /// True when the stretch at [from, to) may be replaced by two pieces of the route. `finish`,
    /// when asked for, becomes the second at which the day then ends.
    [[nodiscard]] bool fits(std::size_t from, std::size_t to, const Piece &first,
                            const Piece &second, double *finish) const;

    /// When the day ends with this unit put in at a gap; impossible when it does not fit there.
    [[nodiscard]] double finishWith(std::size_t gap, std::uint32_t u) const;

    void assign(std::vector<std::uint32_t> route);
    void replace(std::size_t from, std::size_t to, const std::uint32_t *units, std::size_t count);
    /// Puts two neighbouring pieces in this order.
    void rearrange(const Piece &first, const Piece &second);
    /// What is driven along [from, to) less than the other way round.
    [[nodiscard]] double turningCost(std::size_t from, std::size_t to) const
    {
        return to - from < 2 ? 0.0
                             : (m_backward[to - 1] - m_backward[from]) -
                                   (m_forward[to - 1] - m_forward[from]);
    }

private:
    void refresh();
    [[nodiscard]] bool mayFit(std::size_t from, std::size_t to, std::uint32_t u) const;
    bool step(std::uint32_t from, std::uint32_t to, double *times) const;
    [[nodiscard]] bool arrives(std::uint32_t from, std::size_t to, const double *times) const;
    bool walk(const Piece &piece, std::uint32_t &here, double *times) const;
    [[nodiscard]] double finishFrom(std::uint32_t here, std::size_t to, double *times) const;

    const DayUnits *m_units;
    std::vector<std::uint32_t> m_route;
    std::vector<std::uint32_t> m_position;
    std::vector<double> m_ready;    ///< earliest, at each gap, by breaks taken
    std::vector<double> m_latest;   ///< latest arrival at each unit, and at the finish
    std::vector<double> m_forward;  ///< seconds driven between units up to each, from the first
    std::vector<double> m_backward; ///< of the same stretch the other way
    mutable std::vector<double> m_times;
    double m_prize = 0;
    double m_drive = 0;
    double m_finish = 0;
    bool m_kept = true;
};

} // namespace keyround
