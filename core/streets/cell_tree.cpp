// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/cell_tree.h"

#include <algorithm>
#include <tuple>
#include <utility>

namespace keyround {

namespace {

/// In larger leaves the searches take longer, with smaller ones there is more to keep.
constexpr std::size_t nodesPerLeaf = 64;

/// Sets `isSecond` for that half of the nodes which lies farther along a direction.
void halve(std::vector<std::uint32_t> &nodes, const std::vector<PlanePoint> &places,
           const PlanePoint &direction, std::vector<char> &isSecond)
{
    const auto along = [&](std::uint32_t node) {
        return std::pair(places[node].x * direction.x + places[node].y * direction.y, node);
    };
    const auto middle = nodes.begin() + static_cast<std::ptrdiff_t>(nodes.size() / 2);
    std::nth_element(nodes.begin(), middle, nodes.end(),
                     [&](std::uint32_t a, std::uint32_t b) { return along(a) < along(b); });
    std::for_each(nodes.begin(), middle, [&](std::uint32_t node) { isSecond[node] = 0; });
    std::for_each(middle, nodes.end(), [&](std::uint32_t node) { isSecond[node] = 1; });
}

} // namespace

CellTree::CellTree(const ArcTable &table, const GeoLine &places)
    : m_table(table), m_tails(table.arcs.size()), m_leafOf(places.size(), noCell),
      m_localOwn(table.arcs.size(), noArc), m_localInto(table.arcs.size(), noArc)
{
    std::vector<std::uint32_t> nodes; // the others are not in the part that can be driven
    const LocalPlane plane(places.empty() ? GeoPoint() : places.front());
    for (std::uint32_t node = 0; node < places.size(); ++node) {
        m_places.push_back(plane.toPlane(places[node]));
        std::fill(m_tails.begin() + table.first[node], m_tails.begin() + table.first[node + 1],
                  node);
        if (table.first[node] != table.first[node + 1]) {
            nodes.push_back(node);
        }
    }
    cut(std::move(nodes), noCell, 0);
    findBorders();
    for (std::uint32_t number = 0; number < m_cells.size(); ++number) {
        if (m_cells[number].isLeaf()) {
            fillLeaf(number);
        }
    }
}

void CellTree::cut(std::vector<std::uint32_t> nodes, std::uint32_t parent, unsigned part)
{
    const auto number = static_cast<std::uint32_t>(m_cells.size());
    TownCell &made = m_cells.emplace_back();
    m_nodes.emplace_back();
    made.parent = parent;
    made.partOfParent = part;
    if (parent != noCell) {
        made.depth = m_cells[parent].depth + 1;
        m_cells[parent].parts[part] = number;
    }
    if (nodes.size() <= nodesPerLeaf) {
        std::sort(nodes.begin(), nodes.end());
        for (const std::uint32_t node : nodes) {
            m_leafOf[node] = number;
        }
        m_nodes[number] = std::move(nodes);
        return;
    }
    constexpr std::array<PlanePoint, 4> directions{{{1, 0}, {0, 1}, {1, 1}, {1, -1}}};
    std::vector<char> isSecond(m_leafOf.size(), 2); // neither
    const auto across = [&](const PlanePoint &direction) {
        halve(nodes, m_places, direction, isSecond);
        std::size_t count = 0;
        for (const std::uint32_t node : nodes) {
            for (std::uint32_t a = m_table.first[node]; a < m_table.first[node + 1]; ++a) {
                count += isSecond[node] + isSecond[m_table.arcs[a].head] == 1 ? 1 : 0;
            }
        }
        return count;
    };
    std::array<std::size_t, directions.size()> counts{};
    std::transform(directions.begin(), directions.end(), counts.begin(), across);
    const auto best = std::min_element(counts.begin(), counts.end()) - counts.begin();
    halve(nodes, m_places, directions[static_cast<std::size_t>(best)], isSecond);
    const auto middle = nodes.begin() + static_cast<std::ptrdiff_t>(nodes.size() / 2);
    std::vector<std::uint32_t> second(middle, nodes.end());
    nodes.erase(middle, nodes.end());
    cut(std::move(nodes), number, 0);
    cut(std::move(second), number, 1);
}

/// Which arcs lead out of each cell and into it, by the smallest cell that they stay within, from
/// the smallest to the largest.
void CellTree::findBorders()
{
    using Ranked = std::vector<std::pair<std::uint32_t, std::uint32_t>>; // depth, arc
    std::vector<Ranked> exits(m_cells.size());
    std::vector<Ranked> entries(m_cells.size());
    for (std::uint32_t arc = 0; arc < m_table.arcs.size(); ++arc) {
        std::uint32_t from = leafAtTail(arc);
        std::uint32_t into = leafAtHead(arc);
        std::vector<std::uint32_t> left;
        std::vector<std::uint32_t> entered;
        while (from != into) {
            const bool isDeeper = m_cells[from].depth >= m_cells[into].depth;
            (isDeeper ? left : entered).push_back(isDeeper ? from : into);
            (isDeeper ? from : into) = m_cells[isDeeper ? from : into].parent;
        }
        for (const std::uint32_t cell : left) {
            exits[cell].emplace_back(m_cells[from].depth, arc);
        }
        for (const std::uint32_t cell : entered) {
            entries[cell].emplace_back(m_cells[from].depth, arc);
        }
    }
    const auto settle = [this](Ranked &ranked, std::uint32_t number) {
        // Deepest first; those of one depth are in the order of their numbers already.
        std::stable_sort(ranked.begin(), ranked.end(),
                         [](const auto &a, const auto &b) { return a.first > b.first; });
        const auto beyond = std::find_if(ranked.begin(), ranked.end(), [&](const auto &entry) {
            return entry.first + 1 != m_cells[number].depth;
        });
        std::vector<std::uint32_t> arcs;
        for (const auto &[depth, arc] : ranked) {
            arcs.push_back(arc);
        }
        return std::pair(std::move(arcs), static_cast<std::size_t>(beyond - ranked.begin()));
    };
    for (std::uint32_t number = 0; number < m_cells.size(); ++number) {
        TownCell &cell = m_cells[number];
        std::tie(cell.exits, cell.toSibling) = settle(exits[number], number);
        std::tie(cell.entries, cell.fromSibling) = settle(entries[number], number);
    }
    // What leads out of a cell is, in the same order, what leads out of its parts beyond it.
    const auto merge = [](const std::vector<std::uint32_t> &own,
                          const std::vector<std::uint32_t> &first, std::size_t inFirst,
                          std::size_t inSecond) {
        std::vector<std::uint32_t> from;
        for (const std::uint32_t arc : own) {
            const bool isFirst = inFirst < first.size() && first[inFirst] == arc;
            from.push_back(
                static_cast<std::uint32_t>(isFirst ? inFirst++ : first.size() + inSecond++));
        }
        return from;
    };
    for (TownCell &cell : m_cells) {
        if (!cell.isLeaf()) {
            const TownCell &a = partOf(cell, 0);
            const TownCell &b = partOf(cell, 1);
            cell.exitOfParts = merge(cell.exits, a.exits, a.toSibling, b.toSibling);
            cell.entryOfParts = merge(cell.entries, a.entries, a.fromSibling, b.fromSibling);
        }
    }
}

/// The leaf's own table: its nodes, then one node that stands for all outside. Arcs that lead out
/// end there and nothing follows them; arcs that lead in are numbered after all others.
void CellTree::fillLeaf(std::uint32_t number)
{
    TownCell &leaf = m_cells[number];
    const std::vector<std::uint32_t> &nodes = m_nodes[number];
    ArcTable &table = leaf.table;
    table.turnSeconds = m_table.turnSeconds;
    const auto outside = static_cast<std::uint32_t>(nodes.size());
    const auto add = [&](std::uint32_t arc) {
        const DriveArc &driven = m_table.arcs[arc];
        const bool leadsOut = m_leafOf[driven.head] != number;
        const auto head = std::lower_bound(nodes.begin(), nodes.end(), driven.head);
        table.arcs.push_back({driven.seconds,
                              leadsOut ? outside : static_cast<std::uint32_t>(head - nodes.begin()),
                              static_cast<std::uint32_t>(table.turns.size())});
        table.metres.push_back(m_table.metres[arc]);
        if (!leadsOut) {
            const auto turns = m_table.turns.begin() + driven.firstTurn;
            const auto count = m_table.first[driven.head + 1] - m_table.first[driven.head];
            table.turns.insert(table.turns.end(), turns, turns + count);
        }
        return static_cast<std::uint32_t>(table.arcs.size() - 1);
    };
    for (const std::uint32_t node : nodes) {
        table.first.push_back(static_cast<std::uint32_t>(table.arcs.size()));
        for (std::uint32_t a = m_table.first[node]; a < m_table.first[node + 1]; ++a) {
            m_localOwn[a] = add(a);
        }
    }
    // The outside has no arcs that leave it.
    table.first.resize(nodes.size() + 2, static_cast<std::uint32_t>(table.arcs.size()));
    for (const std::uint32_t exit : leaf.exits) {
        leaf.localExits.push_back(m_localOwn[exit]);
    }
    for (const std::uint32_t entry : leaf.entries) {
        m_localInto[entry] = add(entry);
        leaf.localEntries.push_back(m_localInto[entry]);
    }
}

} // namespace keyround
