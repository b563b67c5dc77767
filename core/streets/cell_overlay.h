// SPDX-License-Identifier: GPL-3.0-or-later
// Ways between many places by a tree of cells (cell_tree.h). For every cell is worked out what it
// takes to cross it, from each arc that leads in to each that leads out; from the leaves, by
// searches, to the whole town, where the ways between the arcs on a cut come from those across the
// two cells that it parts. What it takes from a place to the arcs on the cuts around it, and from
// those to a place, are then a few sums for each; and a way between two places is the least by any
// arc of the cuts that are around both, or lies within one leaf. Exact, as a search over all arcs
// is; sums are taken in another order, so seconds may differ in the last digits (below a
// microsecond in a town).
// For 98,789 pieces of street (tests/bench/bench_round.cpp, processor time on a busy machine): 0.8
// s to work out, about 90 MB to keep (reckoned, not measured); then 1.3 ms a place for 100 places
// all over town, where a search for each takes 20 ms, and 2.5 ms a place for 2,000.
#pragma once

#include "core/streets/cell_tree.h"
#include "core/streets/reach_grid.h"
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

    /// The numbers of places, neighbours one after another: what is read for one then is at hand
    /// for the next.
    [[nodiscard]] std::vector<std::uint32_t> byNeighbourhood(const std::vector<Stop> &stops) const;

    /// What it takes to many places from the cuts around them.
    struct Targets
    {
        struct InLeaf
        {
            std::vector<std::uint32_t> arcs;                        ///< in the leaf's own numbers
            std::vector<std::pair<std::uint32_t, std::uint8_t>> of; ///< by arc: stop, side
            ReachGrid fromEntries;                                  ///< by arc, then by entry
        };
        struct AroundCut
        {
            std::vector<std::uint32_t> stops; ///< those inside the cell
            ReachGrid fromCut;                ///< by arc on the cut, then by those stops
            std::vector<double> least;        ///< by arc on the cut: seconds to the nearest of them
        };
        std::vector<Stop> stops;
        std::vector<InLeaf> leaves;   ///< by cell
        std::vector<AroundCut> cells; ///< by cell
    };
    [[nodiscard]] Targets prepare(const std::vector<Stop> &stops) const;

    /// From some places to all targets, a row for each; out of reach where there is no way. A few
    /// dozen at a time are fastest.
    void rows(const std::vector<Stop> &from, const Targets &targets, ReachGrid &rows) const;

private:
    struct Inside
    {
        /// From the beginning of each entry to that of each exit.
        ReachGrid across;
        /// Between the beginnings of the arcs on the cut: those from the first part into the
        /// second, then those back.
        ReachGrid between;
        std::size_t there = 0; ///< how many from the first part into the second

        /// The arcs on the cut that lead out of a part: where they begin among all, and how many.
        [[nodiscard]] std::pair<std::size_t, std::size_t> leadingOutOf(unsigned part) const
        {
            return part == 0 ? std::pair(std::size_t{0}, there)
                             : std::pair(there, between.columns() - there);
        }
    };
    /// What is known at the borders of a cell while it is carried outwards.
    struct Front
    {
        std::uint32_t cell = 0;
        ReachGrid atBorders; ///< one row
    };

    [[nodiscard]] static WaySearch &leafSearch();
    [[nodiscard]] static Reach reachedIn(WaySearch &search, const ArcTable &table,
                                         const Reach &base, std::uint32_t arc);
    void crossLeaf(std::uint32_t number);
    void joinParts(std::uint32_t number);
    void crossFrom(std::uint32_t number, std::size_t entry);
    /// To the arcs on the cut of a cell, from what is known at the exits of one part of it.
    void reachCut(const TownCell &cell, const Inside &inside, unsigned part,
                  const ReachGrid &atExits, std::size_t row, ReachGrid &atCut) const;
    /// To the exits of the cell.
    void reachExits(const TownCell &cell, const Inside &inside, unsigned part,
                    const ReachGrid &atExits, std::size_t row, const ReachGrid &atCut,
                    ReachGrid &out, std::size_t outRow) const;
    /// The same backwards: from the arcs on the cut, by what is known from the entries of a part.
    void leaveCut(const Inside &inside, unsigned part, const ReachGrid &fromEntries,
                  ReachGrid &fromCut) const;
    void leaveEntries(const TownCell &cell, const Inside &inside, unsigned part,
                      const ReachGrid &fromEntries, const ReachGrid &fromCut, ReachGrid &out) const;
    void reachLeafTargets(Targets &targets, std::uint32_t number) const;
    void carryTarget(Targets &targets, std::uint32_t stop) const;
    std::vector<Front> leaveLeaves(const Stop &from, const Targets &targets, ReachGrid &rows,
                                   std::size_t row) const;
    static void meetTargets(const Targets::AroundCut &around,
                            const std::vector<std::pair<std::size_t, ReachGrid>> &atCut,
                            ReachGrid &rows);
    template <typename Raise> void carryOut(std::vector<Front> &fronts, const Raise &raise) const;

    CellTree m_tree;
    std::vector<Inside> m_inside; ///< by cell
};

} // namespace keyround
