// SPDX-License-Identifier: GPL-3.0-or-later
// Keeps labels off one another: a grid of cells over the area, each taken or free. Coarse on
// purpose: a label that touches a cell has it whole.
#pragma once

#include <QRectF>

#include <vector>

namespace keyround {

class LabelGrid
{
public:
    explicit LabelGrid(const QRectF &area, double cellPixels = 6.0);

    /// True when all of it lies within the area and no cell of it is taken.
    [[nodiscard]] bool isFree(const QRectF &box) const;
    /// Takes the cells, wherever they are.
    void take(const QRectF &box);
    /// Takes all boxes when all are free; else takes none.
    [[nodiscard]] bool takeIfFree(const std::vector<QRectF> &boxes);

private:
    struct Cells
    {
        int left, top, right, bottom;
    };
    [[nodiscard]] Cells cellsOf(const QRectF &box) const;
    [[nodiscard]] std::size_t indexOf(int row, int column) const;

    QRectF m_area;
    double m_cell;
    int m_columns;
    int m_rows;
    std::vector<bool> m_taken;
};

} // namespace keyround
