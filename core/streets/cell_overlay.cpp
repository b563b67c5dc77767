// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/cell_overlay.h"

#include "core/streets/row_threads.h"
#include "core/streets/way_search.h"

#include <algorithm>

namespace keyround {

WaySearch &CellOverlay::leafSearch()
{
    thread_local WaySearch search;
    return search;
}

Reach CellOverlay::reachedIn(WaySearch &search, const ArcTable &table, const Reach &base,
                             std::uint32_t arc)
{
    const double seconds = search.secondsTo(arc);
    return seconds < outOfReach.seconds ? Reach{seconds, base.metres + search.metresTo(table, arc)}
                                        : outOfReach;
}

CellOverlay::CellOverlay(const ArcTable &table, const GeoLine &places)
    : m_tree(table, places), m_inside(m_tree.size())
{
    std::vector<std::vector<std::uint32_t>> byDepth;
    std::vector<std::uint32_t> leaves;
    for (std::uint32_t number = 0; number < m_tree.size(); ++number) {
        const TownCell &cell = m_tree.cell(number);
        byDepth.resize(std::max<std::size_t>(byDepth.size(), cell.depth + 1));
        (cell.isLeaf() ? leaves : byDepth[cell.depth]).push_back(number);
    }
    forEachRow(leaves.size(), [&](std::size_t i) { crossLeaf(leaves[i]); });
    for (auto cells = byDepth.rbegin(); cells != byDepth.rend(); ++cells) {
        forEachRow(cells->size(), [&](std::size_t i) { joinParts((*cells)[i]); });
        std::vector<std::pair<std::uint32_t, std::size_t>> rows;
        for (const std::uint32_t number : *cells) {
            for (std::size_t entry = 0; entry < m_tree.cell(number).entries.size(); ++entry) {
                rows.emplace_back(number, entry);
            }
        }
        forEachRow(rows.size(), [&](std::size_t i) { crossFrom(rows[i].first, rows[i].second); });
    }
}

void CellOverlay::crossLeaf(std::uint32_t number)
{
    const TownCell &leaf = m_tree.cell(number);
    ReachGrid &across = m_inside[number].across;
    across.reset(leaf.entries.size(), leaf.exits.size());
    WaySearch &search = leafSearch();
    for (std::size_t e = 0; e < leaf.entries.size(); ++e) {
        const std::uint32_t entry = leaf.localEntries[e];
        const Reach base{leaf.table.arcs[entry].seconds, leaf.table.metres[entry]};
        search.run(leaf.table, {{entry, base.seconds}}, leaf.localExits);
        for (std::size_t x = 0; x < leaf.exits.size(); ++x) {
            across.set(e, x, reachedIn(search, leaf.table, base, leaf.localExits[x]));
        }
    }
}

/// The least ways between the arcs on a cell's cut, by Floyd and Warshall: to and fro across it.
void CellOverlay::joinParts(std::uint32_t number)
{
    const TownCell &cell = m_tree.cell(number);
    Inside &inside = m_inside[number];
    inside.there = m_tree.partOf(cell, 0).toSibling;
    const std::size_t all = inside.there + m_tree.partOf(cell, 1).toSibling;
    ReachGrid &between = inside.between;
    between.reset(all, all);
    for (std::size_t i = 0; i < all; ++i) {
        // An arc out of one part is an entry of the other, and goes on to the arcs back.
        const unsigned into = i < inside.there ? 1 : 0;
        const auto [first, count] = inside.leadingOutOf(into);
        const std::size_t entry = i < inside.there ? i : i - inside.there;
        between.lower(i, first, {0, 0}, m_inside[cell.parts[into]].across, {entry, 0, count});
        between.set(i, i, {0, 0});
    }
    for (std::size_t by = 0; by < all; ++by) {
        for (std::size_t i = 0; i < all; ++i) {
            if (i != by && between.isReached(i, by)) {
                between.lower(i, 0, between.at(i, by), between, {by, 0, all});
            }
        }
    }
    inside.across.reset(cell.entries.size(), cell.exits.size());
}

void CellOverlay::crossFrom(std::uint32_t number, std::size_t entry)
{
    const TownCell &cell = m_tree.cell(number);
    const std::size_t inFirst = m_tree.partOf(cell, 0).entries.size();
    const std::size_t from = cell.entryOfParts[entry];
    const unsigned part = from < inFirst ? 0 : 1;
    const ReachGrid &across = m_inside[cell.parts[part]].across;
    thread_local ReachGrid atCut;
    Inside &inside = m_inside[number];
    const std::size_t row = part == 0 ? from : from - inFirst;
    reachCut(cell, inside, part, across, row, atCut);
    reachExits(cell, inside, part, across, row, atCut, inside.across, entry);
}

void CellOverlay::reachCut(const TownCell &cell, const Inside &inside, unsigned part,
                           const ReachGrid &atExits, std::size_t row, ReachGrid &atCut) const
{
    const std::size_t all = inside.between.columns();
    const std::size_t first = part == 0 ? 0 : inside.there;
    atCut.reset(1, all);
    for (std::size_t i = 0; i < m_tree.partOf(cell, part).toSibling; ++i) {
        if (atExits.isReached(row, i)) {
            atCut.lower(0, 0, atExits.at(row, i), inside.between, {first + i, 0, all});
        }
    }
}

void CellOverlay::reachExits(const TownCell &cell, const Inside &inside, unsigned part,
                             const ReachGrid &atExits, std::size_t row, const ReachGrid &atCut,
                             ReachGrid &out, std::size_t outRow) const
{
    thread_local std::array<ReachGrid, 2> ofParts;
    for (const unsigned into : {0U, 1U}) {
        const TownCell &entered = m_tree.partOf(cell, into);
        const std::size_t beyond = entered.exits.size() - entered.toSibling;
        ofParts[into].reset(1, entered.exits.size());
        if (into == part) {
            ofParts[into].lower(0, 0, {0, 0}, atExits, {row, 0, entered.exits.size()});
        }
        const auto [first, count] = inside.leadingOutOf(1 - into);
        for (std::size_t i = 0; i < count; ++i) {
            if (atCut.isReached(0, first + i)) {
                ofParts[into].lower(0, entered.toSibling, atCut.at(0, first + i),
                                    m_inside[cell.parts[into]].across,
                                    {i, entered.toSibling, beyond});
            }
        }
    }
    const std::size_t inFirst = ofParts[0].columns();
    for (std::size_t x = 0; x < cell.exits.size(); ++x) {
        const std::size_t from = cell.exitOfParts[x];
        out.set(outRow, x,
                from < inFirst ? ofParts[0].at(0, from) : ofParts[1].at(0, from - inFirst));
    }
}

} // namespace keyround
