// SPDX-License-Identifier: GPL-3.0-or-later
// The costs that the search for a tour works on: seconds as whole numbers, so that sums are exact
// and equal on every machine, and every place's candidates for the next hop.
//
// Accuracy: the scale is a power of two that puts the longest hop near 2^27, so whole seconds (and
// the lengths of published instances) are kept exactly and fractions to 1e-7 of the longest hop.
#pragma once

#include "core/routing/matrix.h"

#include <cstdint>
#include <vector>

namespace keyround {

class TourCosts
{
public:
    /// Place 0 is start and finish in one. When there and back cost the same between all other
    /// places, but not from and to place 0, the tour gets one place more, the last: the finish,
    /// tied to the start by a hop that is never given up. Then reversing costs nothing again.
    explicit TourCosts(const Matrix &seconds);

    [[nodiscard]] std::size_t size() const { return m_size; }
    [[nodiscard]] bool symmetric() const { return m_symmetric; }
    /// The place that stands for the finish alone, or 0.
    [[nodiscard]] std::uint32_t finish() const { return m_finish; }
    /// What the tie adds to every tour's cost: negative, or 0 when there is none.
    [[nodiscard]] std::int64_t tieCost() const { return m_finish == 0 ? 0 : at(0, m_finish); }
    [[nodiscard]] std::int64_t at(std::uint32_t from, std::uint32_t to) const
    {
        return m_cells[from * m_size + to];
    }

private:
    std::size_t m_size;
    bool m_symmetric = true;
    std::uint32_t m_finish = 0;
    std::vector<std::int32_t> m_cells;
};

/// For each place its nearest others, nearest first: the very nearest, and some farther ones that
/// lie in other directions (to which no nearer one is a stepping stone), so that clusters are left
/// on all sides.
class Candidates
{
public:
    struct Candidate
    {
        std::uint32_t place;
        std::int32_t cost;
    };
    /// By what it costs to drive to the other and, when `bothWays`, back: the sum of both.
    Candidates(const TourCosts &costs, bool bothWays, std::size_t nearest, std::size_t spread);

    [[nodiscard]] const Candidate *begin(std::uint32_t place) const
    {
        return m_list.data() + m_first[place];
    }
    [[nodiscard]] const Candidate *end(std::uint32_t place) const
    {
        return m_list.data() + m_first[place + 1];
    }

private:
    std::vector<Candidate> m_list;
    std::vector<std::size_t> m_first;
};

} // namespace keyround
