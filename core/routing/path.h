// SPDX-License-Identifier: GPL-3.0-or-later
// The path that the search for a stop order works on: a fixed first and a fixed last place, the
// stops between them, and the moves that change their order. Closed rounds, rounds that end
// elsewhere and open ones differ only in what it costs to reach the last place.
//
// There and back cost differently (one-way streets), so the seconds of a stretch driven backwards
// are not those of the stretch: sums along the path are kept for both directions, and a move that
// turns a stretch round is judged by them. Every gain is exact, in a few additions.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace keyround {

/// Costs between the places of a path: 0 is the first, size() - 1 the last, the others are stops.
/// All finite.
class PathCosts
{
public:
    explicit PathCosts(std::size_t size) : m_size(size), m_cells(size * size, 0.0) {}
    [[nodiscard]] std::size_t size() const { return m_size; }
    [[nodiscard]] double at(std::uint32_t from, std::uint32_t to) const
    {
        return m_cells[from * m_size + to];
    }
    void set(std::size_t from, std::size_t to, double cost) { m_cells[from * m_size + to] = cost; }

private:
    std::size_t m_size;
    std::vector<double> m_cells;
};

class Path
{
public:
    /// Takes an order of all places, the first and the last one at its ends.
    Path(const PathCosts &costs, std::vector<std::uint32_t> order);

    [[nodiscard]] const std::vector<std::uint32_t> &order() const { return m_order; }
    [[nodiscard]] double cost() const { return m_ahead.back(); }
    [[nodiscard]] std::size_t lastIndex() const { return m_order.size() - 1; }
    [[nodiscard]] std::size_t indexOf(std::uint32_t place) const { return m_index[place]; }
    [[nodiscard]] std::uint32_t at(std::size_t index) const { return m_order[index]; }

    /// What is saved by driving the stops at [i, j] in the other direction (2-opt).
    /// 0 < i <= j < lastIndex().
    [[nodiscard]] double reversalGain(std::size_t i, std::size_t j) const;
    void reverse(std::size_t i, std::size_t j);

    /// What is saved by moving the stops at [i, j] to between k and k + 1, turned round or not
    /// (Or-opt; with long stretches Or-3opt). k < i - 1 or k > j.
    [[nodiscard]] double moveGain(std::size_t i, std::size_t j, std::size_t k, bool turned) const;
    void move(std::size_t i, std::size_t j, std::size_t k, bool turned);

    /// Takes over another order of the same places.
    void assign(const std::vector<std::uint32_t> &order);

private:
    void refresh(std::size_t from, std::size_t to);
    [[nodiscard]] double hop(std::size_t i, std::size_t j) const
    {
        return m_costs->at(m_order[i], m_order[j]);
    }

    const PathCosts *m_costs;
    std::vector<std::uint32_t> m_order;
    std::vector<std::size_t> m_index;
    std::vector<double> m_ahead; ///< cost from the first place up to each index
    std::vector<double> m_back;  ///< cost of the same stretch driven the other way
};

// Asked for in every step of the search, and therefore here.
inline double Path::reversalGain(std::size_t i, std::size_t j) const
{
    const double before = hop(i - 1, i) + hop(j, j + 1) + (m_ahead[j] - m_ahead[i]);
    const double after = hop(i - 1, j) + hop(i, j + 1) + (m_back[j] - m_back[i]);
    return before - after;
}

inline double Path::moveGain(std::size_t i, std::size_t j, std::size_t k, bool turned) const
{
    const double freed = hop(i - 1, i) + hop(j, j + 1) - hop(i - 1, j + 1) + hop(k, k + 1);
    if (!turned) {
        return freed - hop(k, i) - hop(j, k + 1);
    }
    const double within = (m_back[j] - m_back[i]) - (m_ahead[j] - m_ahead[i]);
    return freed - hop(k, j) - hop(i, k + 1) - within;
}

} // namespace keyround
