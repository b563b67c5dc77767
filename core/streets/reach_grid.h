// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of seconds with the metres of the same ways, and the one step that all work on them is made
// of: lowering a row by another that lies some way behind. Seconds decide; of equal ones the first
// stays.
#pragma once

#include <cstddef>
#include <limits>
#include <vector>

namespace keyround {

struct Reach
{
    double seconds = 0;
    double metres = 0;

    [[nodiscard]] Reach operator+(const Reach &rest) const
    {
        return {seconds + rest.seconds, metres + rest.metres};
    }
};

inline constexpr Reach outOfReach{std::numeric_limits<double>::infinity(),
                                  std::numeric_limits<double>::infinity()};

class ReachGrid
{
public:
    ReachGrid() = default;
    ReachGrid(std::size_t rows, std::size_t columns) { reset(rows, columns); }

    /// All out of reach.
    void reset(std::size_t rows, std::size_t columns)
    {
        m_columns = columns;
        m_seconds.assign(rows * columns, outOfReach.seconds);
        m_metres.assign(rows * columns, outOfReach.metres);
    }
    [[nodiscard]] std::size_t columns() const { return m_columns; }
    [[nodiscard]] Reach at(std::size_t row, std::size_t column) const
    {
        return {m_seconds[row * m_columns + column], m_metres[row * m_columns + column]};
    }
    [[nodiscard]] bool isReached(std::size_t row, std::size_t column) const
    {
        return m_seconds[row * m_columns + column] < outOfReach.seconds;
    }
    void set(std::size_t row, std::size_t column, const Reach &reach)
    {
        m_seconds[row * m_columns + column] = reach.seconds;
        m_metres[row * m_columns + column] = reach.metres;
    }
    void lower(std::size_t row, std::size_t column, const Reach &reach)
    {
        if (reach.seconds < m_seconds[row * m_columns + column]) {
            set(row, column, reach);
        }
    }
    /// Some columns of a row.
    struct Stretch
    {
        std::size_t row = 0;
        std::size_t column = 0;
        std::size_t count = 0;
    };
    /// Lowers as many columns, from the one given, by `base` and then the stretch of another row.
    void lower(std::size_t row, std::size_t column, const Reach &base, const ReachGrid &by,
               const Stretch &stretch);
    /// The least sum of a stretch and as many columns of another grid's row.
    [[nodiscard]] Reach leastSum(const Stretch &stretch, const ReachGrid &with, std::size_t row,
                                 std::size_t column) const;
    /// The largest and the least seconds of a row; infinite and minus infinite for an empty one.
    [[nodiscard]] double mostSeconds(std::size_t row) const;
    [[nodiscard]] double leastSeconds(std::size_t row) const;

private:
    std::size_t m_columns = 0;
    std::vector<double> m_seconds;
    std::vector<double> m_metres;
};

} // namespace keyround
