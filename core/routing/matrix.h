// SPDX-License-Identifier: GPL-3.0-or-later
// Seconds between places, as a square table. Asymmetric: one-way streets make there and back
// differ. Infinity means that there is no way.
#pragma once

#include <cstddef>
#include <limits>
#include <vector>

namespace keyround {

inline constexpr double unreachable = std::numeric_limits<double>::infinity();

class Matrix
{
public:
    Matrix() = default;
    explicit Matrix(std::size_t size, double value = 0.0)
        : m_size(size), m_cells(size * size, value)
    {
    }
    [[nodiscard]] std::size_t size() const { return m_size; }
    [[nodiscard]] double at(std::size_t from, std::size_t to) const
    {
        return m_cells[from * m_size + to];
    }
    void set(std::size_t from, std::size_t to, double value)
    {
        m_cells[from * m_size + to] = value;
    }
    [[nodiscard]] const double *row(std::size_t from) const { return &m_cells[from * m_size]; }

private:
    std::size_t m_size = 0;
    std::vector<double> m_cells;
};

} // namespace keyround
