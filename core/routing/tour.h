// SPDX-License-Identifier: GPL-3.0-or-later
// A round trip through all places, as a ring of indices: who comes after whom is answered at once,
// and an exchange of hops rewrites only what is not in the longest piece it leaves whole.
#pragma once

#include "core/routing/tour_costs.h"

#include <array>
#include <cstdint>
#include <vector>

namespace keyround {

class Tour
{
public:
    /// Hops that one exchange may take away.
    static constexpr std::size_t mostCuts = 6;

    /// Places from index `from` on to index `to`, round the ring's end when `from` is larger.
    struct Piece
    {
        std::uint32_t from = 0;
        std::uint32_t to = 0;
        bool turned = false; ///< driven from `to` to `from`
    };
    /// All pieces of the ring in their new order.
    struct Pieces
    {
        std::array<Piece, mostCuts> list{};
        std::size_t count = 0;
    };

    explicit Tour(std::vector<std::uint32_t> order);

    [[nodiscard]] std::uint32_t size() const { return static_cast<std::uint32_t>(m_order.size()); }
    [[nodiscard]] const std::vector<std::uint32_t> &order() const { return m_order; }
    [[nodiscard]] std::uint32_t at(std::uint32_t index) const { return m_order[index]; }
    [[nodiscard]] std::uint32_t indexOf(std::uint32_t place) const { return m_index[place]; }
    [[nodiscard]] std::uint32_t after(std::uint32_t index) const
    {
        return index + 1 == size() ? 0 : index + 1;
    }
    [[nodiscard]] std::uint32_t before(std::uint32_t index) const
    {
        return index == 0 ? size() - 1 : index - 1;
    }
    [[nodiscard]] std::uint32_t next(std::uint32_t place) const
    {
        return at(after(indexOf(place)));
    }
    [[nodiscard]] std::uint32_t previous(std::uint32_t place) const
    {
        return at(before(indexOf(place)));
    }
    [[nodiscard]] std::int64_t cost(const TourCosts &costs) const;

    /// When `mirrors`, the whole ring may be turned round to save work (costs are symmetric).
    void rearrange(Pieces pieces, bool mirrors);

private:
    [[nodiscard]] std::uint32_t length(const Piece &piece) const
    {
        return piece.from <= piece.to ? piece.to - piece.from + 1
                                      : piece.to + size() - piece.from + 1;
    }

    std::vector<std::uint32_t> m_order;
    std::vector<std::uint32_t> m_index;
    std::vector<std::uint32_t> m_moved;
};

/// The pieces left by cutting a ring at a few hops, joined anew.
class Joint
{
public:
    /// Ends of pieces: 2 * piece is where it begins, 2 * piece + 1 where it ends. `low` are the
    /// indices from which the hops lead that are cut; `ranks` gets each cut's place among them.
    template <std::size_t Size> Joint(const std::array<std::uint32_t, Size> &low, std::size_t cuts);

    [[nodiscard]] unsigned tailOf(std::size_t cut) const { return 2U * m_rank[cut] + 1U; }
    [[nodiscard]] unsigned headOf(std::size_t cut) const
    {
        return m_rank[cut] + 1U == m_cuts ? 0U : 2U * m_rank[cut] + 2U;
    }
    void join(unsigned a, unsigned b)
    {
        m_link[a] = b;
        m_link[b] = a;
    }
    /// False when the joined pieces are not one ring.
    [[nodiscard]] bool ring(Tour::Pieces &pieces, const Tour &tour) const;

private:
    std::array<unsigned, Tour::mostCuts> m_rank{};
    std::array<std::uint32_t, Tour::mostCuts> m_low{}; ///< sorted
    std::array<unsigned, 2 * Tour::mostCuts> m_link{};
    std::size_t m_cuts;
};

template <std::size_t Size>
Joint::Joint(const std::array<std::uint32_t, Size> &low, std::size_t cuts) : m_cuts(cuts)
{
    for (std::size_t i = 0; i < cuts; ++i) {
        unsigned rank = 0;
        for (std::size_t j = 0; j < cuts; ++j) {
            rank += low[j] < low[i] ? 1U : 0U;
        }
        m_rank[i] = rank;
        m_low[rank] = low[i];
    }
}

inline bool Joint::ring(Tour::Pieces &pieces, const Tour &tour) const
{
    unsigned end = 0; // where a piece is entered
    pieces.count = 0;
    do {
        const unsigned piece = end / 2;
        const std::uint32_t from = tour.after(m_low[piece == 0 ? m_cuts - 1 : piece - 1]);
        pieces.list[pieces.count++] = {from, m_low[piece], (end & 1U) != 0};
        end = m_link[end ^ 1U];
    } while (end != 0 && pieces.count < m_cuts);
    return end == 0 && pieces.count == m_cuts;
}

} // namespace keyround
