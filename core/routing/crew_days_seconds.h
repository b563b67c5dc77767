// SPDX-License-Identifier: GPL-3.0-or-later
// Seconds between many places, in single precision: half the memory of a Matrix (10,000 places:
// 400 MB). Values are rounded up, by less than one part in eight million, so that a plan made with
// them is kept by the exact seconds. Infinity means that there is no way.
#pragma once

#include "core/routing/matrix.h"

#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

namespace keyround {

class SecondsTable
{
public:
    SecondsTable() = default;
    explicit SecondsTable(std::size_t size) : m_size(size), m_cells(size * size, 0.0F) {}
    explicit SecondsTable(const Matrix &seconds) : SecondsTable(seconds.size())
    {
        for (std::size_t from = 0; from < m_size; ++from) {
            for (std::size_t to = 0; to < m_size; ++to) {
                set(from, to, seconds.at(from, to));
            }
        }
    }

    [[nodiscard]] std::size_t size() const { return m_size; }
    [[nodiscard]] double at(std::size_t from, std::size_t to) const
    {
        return static_cast<double>(m_cells[from * m_size + to]);
    }
    [[nodiscard]] const float *row(std::size_t from) const { return &m_cells[from * m_size]; }
    void set(std::size_t from, std::size_t to, double seconds)
    {
        m_cells[from * m_size + to] = roundedUp(seconds);
    }

    [[nodiscard]] bool isSymmetric() const
    {
        for (std::size_t from = 0; from < m_size; ++from) {
            for (std::size_t to = from + 1; to < m_size; ++to) {
                if (m_cells[from * m_size + to] != m_cells[to * m_size + from]) {
                    return false;
                }
            }
        }
        return true;
    }

    /// There and back exchanged.
    [[nodiscard]] SecondsTable transposed() const
    {
        constexpr std::size_t block = 64; // both sides stay in the cache
        SecondsTable turned(m_size);
        for (std::size_t top = 0; top < m_size; top += block) {
            for (std::size_t left = 0; left < m_size; left += block) {
                for (std::size_t i = top; i < m_size && i < top + block; ++i) {
                    for (std::size_t j = left; j < m_size && j < left + block; ++j) {
                        turned.m_cells[j * m_size + i] = m_cells[i * m_size + j];
                    }
                }
            }
        }
        return turned;
    }

private:
    [[nodiscard]] static float roundedUp(double seconds)
    {
        const auto nearest = static_cast<float>(seconds);
        return static_cast<double>(nearest) < seconds
                   ? std::nextafter(nearest, std::numeric_limits<float>::infinity())
                   : nearest;
    }

    std::size_t m_size = 0;
    std::vector<float> m_cells;
};

} // namespace keyround
