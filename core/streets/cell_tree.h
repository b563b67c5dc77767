// SPDX-License-Identifier: GPL-3.0-or-later
// A town cut in two, each half cut in two again, down to leaves of a few dozen junctions: the cells
// by which cell_overlay.h works out ways. Each cut is made, through the middle of the junctions, in
// that one of four directions in which the fewest arcs lead across.
#pragma once

#include "core/geo/point.h"
#include "core/streets/arc_table.h"

#include <array>
#include <cstdint>
#include <vector>

namespace keyround {

inline constexpr std::uint32_t noCell = std::numeric_limits<std::uint32_t>::max();

struct TownCell
{
    std::uint32_t parent = noCell;
    std::uint32_t depth = 0; ///< of the whole town: 0
    unsigned partOfParent = 0;
    std::array<std::uint32_t, 2> parts{noCell, noCell}; ///< none of a leaf

    /// Arcs that lead out and in, those between it and its sibling first and in the order in which
    /// the sibling has them.
    std::vector<std::uint32_t> exits;
    std::vector<std::uint32_t> entries;
    std::size_t toSibling = 0; ///< of the exits
    std::size_t fromSibling = 0;
    /// Which of the first part's exits, and then the second's, are its own; so for the entries.
    std::vector<std::uint32_t> exitOfParts;
    std::vector<std::uint32_t> entryOfParts;

    /// Of a leaf: its own arcs, then those that lead into it.
    ArcTable table;
    std::vector<std::uint32_t> localExits; ///< the exits by their numbers in that table
    std::vector<std::uint32_t> localEntries;

    [[nodiscard]] bool isLeaf() const { return parts[0] == noCell; }
};

class CellTree
{
public:
    /// `places` are the nodes' positions, by which the town is cut.
    CellTree(const ArcTable &table, const GeoLine &places);

    [[nodiscard]] std::size_t size() const { return m_cells.size(); }
    [[nodiscard]] const TownCell &cell(std::uint32_t number) const { return m_cells[number]; }
    [[nodiscard]] const TownCell &partOf(const TownCell &cell, unsigned part) const
    {
        return m_cells[cell.parts[part]];
    }
    /// The leaf in which an arc is begun, and its number in the leaf's table.
    [[nodiscard]] std::uint32_t leafAtTail(std::uint32_t arc) const
    {
        return m_leafOf[m_tails[arc]];
    }
    [[nodiscard]] std::uint32_t localAtTail(std::uint32_t arc) const { return m_localOwn[arc]; }
    /// The leaf in which an arc ends, and its number there.
    [[nodiscard]] std::uint32_t leafAtHead(std::uint32_t arc) const
    {
        return m_leafOf[m_table.arcs[arc].head];
    }
    [[nodiscard]] std::uint32_t localAtHead(std::uint32_t arc) const
    {
        return m_localInto[arc] != noArc ? m_localInto[arc] : m_localOwn[arc];
    }

private:
    void cut(std::vector<std::uint32_t> nodes, std::uint32_t parent, unsigned part);
    void findBorders();
    void fillLeaf(std::uint32_t number);

    const ArcTable &m_table;
    std::vector<PlanePoint> m_places;
    std::vector<std::uint32_t> m_tails;     ///< by arc: the node that it leaves
    std::vector<std::uint32_t> m_leafOf;    ///< by node
    std::vector<std::uint32_t> m_localOwn;  ///< by arc: its number in the leaf that it leaves
    std::vector<std::uint32_t> m_localInto; ///< by arc: in the leaf that it leads into from another
    std::vector<TownCell> m_cells;          ///< each before its parts
    std::vector<std::vector<std::uint32_t>> m_nodes; ///< by cell, of leaves only
};

} // namespace keyround
