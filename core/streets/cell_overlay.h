// SPDX-License-Identifier: GPL-3.0-or-later
// Ways between thousands of places: the town is cut into cells of about a thousand junctions, and
// what it takes to cross each cell, from every arc that leads into it to every arc that leads out,
// is worked out once. A search over those alone tells the seconds to all borders, and each place
// adds the way from the borders of its cell. Exact, as a search over all arcs is; sums are taken
// in another order, so seconds may differ in the last digits (below a microsecond in a town).
// Worked out in 1 to 2 s of processor time for 100,000 pieces of street; a row of 2,000 places then
// takes a fraction of a search (tests/bench/bench_round.cpp).
#pragma once

#include "core/geo/point.h"
#include "core/streets/arc_table.h"
#include "core/streets/way_search.h"

#include <array>
#include <cstdint>
#include <utility>
#include <vector>

namespace keyround {

class CellOverlay
{
public:
    /// `places` are the nodes' positions, by which the town is cut.
    CellOverlay(const ArcTable &table, const GeoLine &places);

    struct Reach
    {
        double seconds = 0;
        double metres = 0;
    };
    /// A place on the graph: the arcs on which it may be left, with the seconds and metres until
    /// their ends, and the arcs by which it may be reached, with those from their beginnings.
    struct Stop
    {
        struct Side
        {
            std::uint32_t arc = noArc; ///< noArc where there is no such side
            Reach reach;
        };
        std::array<Side, 2> leave;
        std::array<Side, 2> arrive;
    };

    /// What it takes from the borders of a place's cell to the place, worked out for many.
    struct Targets;
    [[nodiscard]] Targets prepare(const std::vector<Stop> &stops) const;

    /// From one place to all targets; infinite where there is no way.
    void row(const Stop &from, const Targets &targets, Reach *row) const;

private:
    struct Cell
    {
        ArcTable table;                     ///< of its own arcs, then those that lead into it
        std::vector<std::uint32_t> entries; ///< arcs of its own table, from outside
        std::vector<std::uint32_t> borderOfEntry;
        std::vector<std::uint32_t> exits;
        std::uint32_t firstExit = 0; ///< border number of the first exit; the others follow
        std::vector<double> seconds; ///< by entry, then by exit
        std::vector<double> metres;
    };
    /// An arc that leads from one cell into another.
    struct Border
    {
        std::uint32_t cell = 0; ///< that it leads into
        std::uint32_t entry = 0;
    };
    struct Scratch;

    void cutCells(const GeoLine &places);
    void fillCell(std::uint32_t cell, const std::vector<std::uint32_t> &nodes);
    void linkBorders();
    void crossCell(Cell &cell) const;
    void searchBorders(Scratch &scratch) const;

    const ArcTable &m_table;
    std::vector<std::uint32_t> m_cellOf;    ///< by node
    std::vector<std::uint32_t> m_localOwn;  ///< by arc: its number in the cell that it leaves
    std::vector<std::uint32_t> m_localInto; ///< by arc: its number in the cell that it leads into
    std::vector<std::uint32_t> m_tails;     ///< by arc: the node that it leaves
    std::vector<Cell> m_cells;
    std::vector<Border> m_borders;
};

struct CellOverlay::Targets
{
    struct InCell
    {
        std::vector<std::uint32_t> arcs;                        ///< in the cell's own numbers
        std::vector<std::pair<std::uint32_t, std::uint8_t>> of; ///< by arc: stop, side
        std::vector<Reach> fromEntries;                         ///< by arc, then by entry
    };
    std::vector<Stop> stops;
    std::vector<InCell> cells;
};

} // namespace keyround
