// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/cell_overlay.h"
#include "core/streets/row_threads.h"

#include <algorithm>
#include <functional>
#include <map>

namespace keyround {

void CellOverlay::leaveCut(const Inside &inside, unsigned part, const ReachGrid &fromEntries,
                           ReachGrid &fromCut) const
{
    const std::size_t all = inside.between.columns();
    const auto [first, count] = inside.leadingOutOf(1 - part);
    fromCut.reset(1, all);
    for (std::size_t i = 0; i < all; ++i) {
        fromCut.set(0, i, inside.between.leastSum({i, first, count}, fromEntries, 0, 0));
    }
}

void CellOverlay::leaveEntries(const TownCell &cell, const Inside &inside, unsigned part,
                               const ReachGrid &fromEntries, const ReachGrid &fromCut,
                               ReachGrid &out) const
{
    out.reset(1, cell.entries.size());
    const std::size_t inFirst = m_tree.partOf(cell, 0).entries.size();
    for (std::size_t e = 0; e < cell.entries.size(); ++e) {
        const std::size_t from = cell.entryOfParts[e];
        const unsigned entered = from < inFirst ? 0 : 1;
        const std::size_t entry = from < inFirst ? from : from - inFirst;
        if (entered == part) {
            out.set(0, e, fromEntries.at(0, entry));
        }
        const auto [first, count] = inside.leadingOutOf(entered);
        out.lower(
            0, e,
            m_inside[cell.parts[entered]].across.leastSum({entry, 0, count}, fromCut, 0, first));
    }
}

/// Carries what is known at the borders of leaves out to the whole town. Where the two sides of a
/// street lie in two cells, they are one from the first cell on that holds both.
template <typename Raise>
void CellOverlay::carryOut(std::vector<Front> &fronts, const Raise &raise) const
{
    while (!fronts.empty()) {
        const auto deepest =
            std::max_element(fronts.begin(), fronts.end(), [this](const Front &a, const Front &b) {
                return m_tree.cell(a.cell).depth < m_tree.cell(b.cell).depth;
            });
        const TownCell &cell = m_tree.cell(deepest->cell);
        const auto twin = std::find_if(fronts.begin(), fronts.end(), [&](const Front &other) {
            return &other != &*deepest && other.cell == deepest->cell;
        });
        if (twin != fronts.end()) {
            deepest->atBorders.lower(0, 0, {0, 0}, twin->atBorders,
                                     {0, 0, twin->atBorders.columns()});
            fronts.erase(twin);
        } else if (cell.parent == noCell) {
            fronts.clear();
        } else {
            ReachGrid outer;
            raise(cell.parent, cell.partOfParent, deepest->atBorders, outer);
            *deepest = {cell.parent, std::move(outer)};
        }
    }
}

std::vector<std::uint32_t> CellOverlay::byNeighbourhood(const std::vector<Stop> &stops) const
{
    std::vector<std::pair<std::uint32_t, std::uint32_t>> ranked;
    for (std::uint32_t stop = 0; stop < stops.size(); ++stop) {
        const auto &sides = stops[stop].leave;
        const std::uint32_t arc = sides[0].arc != noArc ? sides[0].arc : sides[1].arc;
        ranked.emplace_back(arc != noArc ? m_tree.leafAtHead(arc) : noCell, stop);
    }
    std::sort(ranked.begin(), ranked.end());
    std::vector<std::uint32_t> order;
    for (const auto &[leaf, stop] : ranked) {
        order.push_back(stop);
    }
    return order;
}

CellOverlay::Targets CellOverlay::prepare(const std::vector<Stop> &stops) const
{
    Targets targets;
    targets.stops = stops;
    targets.leaves.resize(m_tree.size());
    targets.cells.resize(m_tree.size());
    for (std::uint32_t stop = 0; stop < stops.size(); ++stop) {
        for (std::uint8_t side = 0; side < 2; ++side) {
            const std::uint32_t arc = stops[stop].arrive[side].arc;
            if (arc == noArc) {
                continue;
            }
            const std::uint32_t leaf = m_tree.leafAtTail(arc);
            targets.leaves[leaf].arcs.push_back(m_tree.localAtTail(arc));
            targets.leaves[leaf].of.emplace_back(stop, side);
            for (std::uint32_t c = m_tree.cell(leaf).parent; c != noCell;
                 c = m_tree.cell(c).parent) {
                std::vector<std::uint32_t> &inside = targets.cells[c].stops;
                if (inside.empty() || inside.back() != stop) {
                    inside.push_back(stop);
                }
            }
        }
    }
    for (std::size_t c = 0; c < m_tree.size(); ++c) {
        Targets::AroundCut &around = targets.cells[c];
        around.fromCut.reset(m_inside[c].between.columns(), around.stops.size());
    }
    forEachRow(m_tree.size(), [&](std::size_t number) {
        reachLeafTargets(targets, static_cast<std::uint32_t>(number));
    });
    const std::vector<std::uint32_t> order = byNeighbourhood(stops);
    forEachRow(stops.size(), [&](std::size_t i) { carryTarget(targets, order[i]); });
    for (std::size_t c = 0; c < m_tree.size(); ++c) {
        Targets::AroundCut &around = targets.cells[c];
        for (std::size_t i = 0; !around.stops.empty() && i < m_inside[c].between.columns(); ++i) {
            around.least.push_back(around.fromCut.leastSeconds(i));
        }
    }
    return targets;
}

void CellOverlay::reachLeafTargets(Targets &targets, std::uint32_t number) const
{
    Targets::InLeaf &in = targets.leaves[number];
    const TownCell &leaf = m_tree.cell(number);
    if (in.arcs.empty()) {
        return;
    }
    in.fromEntries.reset(in.arcs.size(), leaf.entries.size());
    WaySearch &search = leafSearch();
    for (std::size_t e = 0; e < leaf.entries.size(); ++e) {
        const std::uint32_t entry = leaf.localEntries[e];
        const Reach base{leaf.table.arcs[entry].seconds, leaf.table.metres[entry]};
        search.run(leaf.table, {{entry, base.seconds}}, in.arcs);
        for (std::size_t t = 0; t < in.arcs.size(); ++t) {
            in.fromEntries.set(t, e, reachedIn(search, leaf.table, base, in.arcs[t]));
        }
    }
}

void CellOverlay::carryTarget(Targets &targets, std::uint32_t stop) const
{
    std::vector<Front> fronts;
    for (std::uint8_t side = 0; side < 2; ++side) {
        const Stop::Side &arrive = targets.stops[stop].arrive[side];
        if (arrive.arc == noArc) {
            continue;
        }
        const std::uint32_t number = m_tree.leafAtTail(arrive.arc);
        const Targets::InLeaf &in = targets.leaves[number];
        const auto at = std::find(in.of.begin(), in.of.end(), std::pair(stop, side));
        const std::size_t entries = m_tree.cell(number).entries.size();
        Front front{number, ReachGrid(1, entries)};
        front.atBorders.lower(0, 0, arrive.reach, in.fromEntries,
                              {static_cast<std::size_t>(at - in.of.begin()), 0, entries});
        fronts.push_back(std::move(front));
    }
    ReachGrid fromCut;
    carryOut(fronts, [&](std::uint32_t c, unsigned part, const ReachGrid &inner, ReachGrid &outer) {
        leaveCut(m_inside[c], part, inner, fromCut);
        leaveEntries(m_tree.cell(c), m_inside[c], part, inner, fromCut, outer);
        Targets::AroundCut &around = targets.cells[c];
        const auto at = std::lower_bound(around.stops.begin(), around.stops.end(), stop);
        const auto column = static_cast<std::size_t>(at - around.stops.begin());
        for (std::size_t i = 0; i < fromCut.columns(); ++i) {
            around.fromCut.lower(i, column, fromCut.at(0, i));
        }
    });
}

/// Lowers the rows by the ways over the cut of a cell to the targets inside it: for some columns
/// and all rows at a time, so that what is read of the targets serves many rows while it is at
/// hand.
void CellOverlay::meetTargets(const Targets::AroundCut &around,
                              const std::vector<std::pair<std::size_t, ReachGrid>> &atCut,
                              ReachGrid &rows)
{
    constexpr std::size_t columnsAtOnce = 64;
    constexpr std::size_t lookAgain = 16;
    ReachGrid met;
    std::vector<double> most(atCut.size());
    for (std::size_t first = 0; first < around.stops.size(); first += columnsAtOnce) {
        const std::size_t count = std::min(columnsAtOnce, around.stops.size() - first);
        met.reset(atCut.size(), count);
        for (std::size_t r = 0; r < atCut.size(); ++r) {
            for (std::size_t k = 0; k < count; ++k) {
                met.set(r, k, rows.at(atCut[r].first, around.stops[first + k]));
            }
        }
        for (std::size_t i = 0; i < around.least.size(); ++i) {
            for (std::size_t r = 0; r < atCut.size(); ++r) {
                // An arc that is reached too late for the farthest target lowers none.
                most[r] = i % lookAgain == 0 ? met.mostSeconds(r) : most[r];
                const Reach reach = atCut[r].second.at(0, i);
                if (reach.seconds + around.least[i] < most[r]) {
                    met.lower(r, 0, reach, around.fromCut, {i, first, count});
                }
            }
        }
        for (std::size_t r = 0; r < atCut.size(); ++r) {
            for (std::size_t k = 0; k < count; ++k) {
                rows.lower(atCut[r].first, around.stops[first + k], met.at(r, k));
            }
        }
    }
}

void CellOverlay::rows(const std::vector<Stop> &from, const Targets &targets, ReachGrid &rows) const
{
    rows.reset(from.size(), targets.stops.size());
    std::map<std::uint32_t, std::vector<std::pair<std::size_t, ReachGrid>>, std::greater<>> atCuts;
    for (std::size_t r = 0; r < from.size(); ++r) {
        std::vector<Front> fronts = leaveLeaves(from[r], targets, rows, r);
        carryOut(fronts,
                 [&](std::uint32_t c, unsigned part, const ReachGrid &inner, ReachGrid &outer) {
                     const TownCell &cell = m_tree.cell(c);
                     ReachGrid atCut;
                     reachCut(cell, m_inside[c], part, inner, 0, atCut);
                     outer.reset(1, cell.exits.size());
                     reachExits(cell, m_inside[c], part, inner, 0, atCut, outer, 0);
                     if (!targets.cells[c].stops.empty()) {
                         atCuts[c].emplace_back(r, std::move(atCut));
                     }
                 });
    }
    // Cells come before their parts: the near targets first, which leave less to do for the others.
    for (const auto &[cell, atCut] : atCuts) {
        meetTargets(targets.cells[cell], atCut, rows);
    }
}

/// Fills a row for the targets in the leaves in which a place is left.
std::vector<CellOverlay::Front> CellOverlay::leaveLeaves(const Stop &from, const Targets &targets,
                                                         ReachGrid &rows, std::size_t row) const
{
    std::vector<Front> fronts;
    WaySearch &search = leafSearch();
    for (const Stop::Side &side : from.leave) {
        if (side.arc == noArc) {
            continue;
        }
        const std::uint32_t number = m_tree.leafAtHead(side.arc);
        const TownCell &leaf = m_tree.cell(number);
        const Targets::InLeaf &in = targets.leaves[number];
        std::vector<std::uint32_t> wanted = leaf.localExits;
        wanted.insert(wanted.end(), in.arcs.begin(), in.arcs.end());
        search.run(leaf.table, {{m_tree.localAtHead(side.arc), side.reach.seconds}}, wanted);
        Front front{number, ReachGrid(1, leaf.exits.size())};
        for (std::size_t x = 0; x < leaf.exits.size(); ++x) {
            front.atBorders.set(0, x,
                                reachedIn(search, leaf.table, side.reach, leaf.localExits[x]));
        }
        fronts.push_back(std::move(front));
        for (std::size_t t = 0; t < in.arcs.size(); ++t) {
            const auto [stop, end] = in.of[t];
            rows.lower(row, stop,
                       reachedIn(search, leaf.table, side.reach, in.arcs[t]) +
                           targets.stops[stop].arrive[end].reach);
        }
    }
    return fronts;
}

} // namespace keyround
