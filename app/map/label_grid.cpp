// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/label_grid.h"

#include <algorithm>
#include <cmath>

namespace keyround {

LabelGrid::LabelGrid(const QRectF &area, double cellPixels)
    : m_area(area), m_cell(cellPixels),
      m_columns(std::max(1, static_cast<int>(std::ceil(area.width() / cellPixels)))),
      m_rows(std::max(1, static_cast<int>(std::ceil(area.height() / cellPixels)))),
      m_taken(static_cast<std::size_t>(m_columns) * static_cast<std::size_t>(m_rows), false)
{
}

LabelGrid::Cells LabelGrid::cellsOf(const QRectF &box) const
{
    const auto cell = [this](double pixels, int count) {
        return static_cast<int>(std::clamp(std::floor(pixels / m_cell), 0.0, double(count - 1)));
    };
    return {cell(box.left() - m_area.left(), m_columns), cell(box.top() - m_area.top(), m_rows),
            cell(box.right() - m_area.left(), m_columns),
            cell(box.bottom() - m_area.top(), m_rows)};
}

std::size_t LabelGrid::indexOf(int row, int column) const
{
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(m_columns) +
           static_cast<std::size_t>(column);
}

bool LabelGrid::isFree(const QRectF &box) const
{
    if (!m_area.contains(box)) {
        return false;
    }
    const Cells cells = cellsOf(box);
    for (int row = cells.top; row <= cells.bottom; ++row) {
        for (int column = cells.left; column <= cells.right; ++column) {
            if (m_taken[indexOf(row, column)]) {
                return false;
            }
        }
    }
    return true;
}

void LabelGrid::take(const QRectF &box)
{
    if (!m_area.intersects(box)) {
        return;
    }
    const Cells cells = cellsOf(box);
    for (int row = cells.top; row <= cells.bottom; ++row) {
        for (int column = cells.left; column <= cells.right; ++column) {
            m_taken[indexOf(row, column)] = true;
        }
    }
}

bool LabelGrid::takeIfFree(const std::vector<QRectF> &boxes)
{
    if (!std::ranges::all_of(boxes, [this](const QRectF &box) { return isFree(box); })) {
        return false;
    }
    for (const QRectF &box : boxes) {
        take(box);
    }
    return true;
}

} // namespace keyround
