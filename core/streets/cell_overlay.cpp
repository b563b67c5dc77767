// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/cell_overlay.h"

#include "core/streets/row_threads.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <numeric>

namespace keyround {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
/// Larger cells have fewer borders to search, but take longer to cross for the first time.
constexpr std::size_t nodesPerCell = 1000;

WaySearch &cellSearch()
{
    thread_local WaySearch search;
    return search;
}

/// Halves the nodes by their middle, across the longer side, until a part is small enough.
void halve(std::vector<std::uint32_t> nodes, const GeoLine &places,
           std::vector<std::vector<std::uint32_t>> &parts)
{
    if (nodes.size() <= nodesPerCell) {
        parts.push_back(std::move(nodes));
        return;
    }
    const auto byLatitude = [&](std::uint32_t a, std::uint32_t b) {
        return std::pair(places[a].latitude, a) < std::pair(places[b].latitude, b);
    };
    const auto byLongitude = [&](std::uint32_t a, std::uint32_t b) {
        return std::pair(places[a].longitude, a) < std::pair(places[b].longitude, b);
    };
    const auto [south, north] = std::minmax_element(nodes.begin(), nodes.end(), byLatitude);
    const auto [west, east] = std::minmax_element(nodes.begin(), nodes.end(), byLongitude);
    const double high = places[*north].latitude - places[*south].latitude;
    const double wide = (places[*east].longitude - places[*west].longitude) *
                        std::cos(places[*north].latitude * std::numbers::pi / 180.0);
    const auto middle = nodes.begin() + static_cast<std::ptrdiff_t>(nodes.size() / 2);
    if (high > wide) {
        std::nth_element(nodes.begin(), middle, nodes.end(), byLatitude);
    } else {
        std::nth_element(nodes.begin(), middle, nodes.end(), byLongitude);
    }
    std::vector<std::uint32_t> second(middle, nodes.end());
    nodes.erase(middle, nodes.end());
    halve(std::move(nodes), places, parts);
    halve(std::move(second), places, parts);
}

} // namespace

/// What a row keeps between its steps; one per thread.
struct CellOverlay::Scratch
{
    std::vector<Reach> reach; ///< by border
    std::vector<std::pair<double, std::uint32_t>> heap;

    void lower(std::uint32_t border, double seconds, double metres)
    {
        if (seconds < reach[border].seconds) {
            reach[border] = {seconds, metres};
            heap.emplace_back(seconds, border);
            std::push_heap(heap.begin(), heap.end(), std::greater<>());
        }
    }
};

CellOverlay::CellOverlay(const ArcTable &table, const GeoLine &places)
    : m_table(table), m_localOwn(table.arcs.size(), noArc), m_localInto(table.arcs.size(), noArc),
      m_tails(table.arcs.size())
{
    for (std::uint32_t node = 0; node + 1 < table.first.size(); ++node) {
        std::fill(m_tails.begin() + table.first[node], m_tails.begin() + table.first[node + 1],
                  node);
    }
    cutCells(places);
    linkBorders();
    forEachRow(m_cells.size(), [this](std::size_t cell) { crossCell(m_cells[cell]); });
}

void CellOverlay::cutCells(const GeoLine &places)
{
    std::vector<std::uint32_t> nodes(places.size());
    std::iota(nodes.begin(), nodes.end(), 0U);
    std::vector<std::vector<std::uint32_t>> parts;
    halve(std::move(nodes), places, parts);
    m_cellOf.assign(places.size(), 0);
    for (std::uint32_t cell = 0; cell < parts.size(); ++cell) {
        std::sort(parts[cell].begin(), parts[cell].end());
        for (const std::uint32_t node : parts[cell]) {
            m_cellOf[node] = cell;
        }
    }
    m_cells.resize(parts.size());
    std::vector<std::vector<std::uint32_t>> into(parts.size());
    for (std::uint32_t arc = 0; arc < m_table.arcs.size(); ++arc) {
        const std::uint32_t cell = m_cellOf[m_table.arcs[arc].head];
        if (cell != m_cellOf[m_tails[arc]]) {
            into[cell].push_back(arc);
        }
    }
    for (std::uint32_t cell = 0; cell < parts.size(); ++cell) {
        for (const std::uint32_t node : parts[cell]) {
            Cell &made = m_cells[cell];
            made.table.first.push_back(static_cast<std::uint32_t>(made.table.metres.size()));
            for (std::uint32_t a = m_table.first[node]; a < m_table.first[node + 1]; ++a) {
                m_localOwn[a] = static_cast<std::uint32_t>(made.table.metres.size());
                made.table.metres.push_back(m_table.metres[a]);
            }
        }
        for (const std::uint32_t arc : into[cell]) {
            ArcTable &table = m_cells[cell].table;
            m_localInto[arc] =
                static_cast<std::uint32_t>(table.metres.size() + m_cells[cell].entries.size());
            m_cells[cell].entries.push_back(arc); // its number in the town, until fillCell()
        }
        fillCell(cell, parts[cell]);
    }
}

/// The cell's own table: its nodes, then one node that stands for all outside. Arcs that lead out
/// end there and nothing follows them; arcs that lead in are numbered after all others.
void CellOverlay::fillCell(std::uint32_t cell, const std::vector<std::uint32_t> &nodes)
{
    Cell &made = m_cells[cell];
    ArcTable &table = made.table;
    const auto own = static_cast<std::uint32_t>(table.metres.size());
    table.first.push_back(own);
    table.first.push_back(own); // the outside has no arcs that leave it
    table.turnSeconds = m_table.turnSeconds;
    const auto outside = static_cast<std::uint32_t>(nodes.size());
    const auto localNode = [&](std::uint32_t node) {
        return static_cast<std::uint32_t>(std::lower_bound(nodes.begin(), nodes.end(), node) -
                                          nodes.begin());
    };
    const auto add = [&](std::uint32_t arc) {
        const DriveArc &driven = m_table.arcs[arc];
        const bool leadsOut = m_cellOf[driven.head] != cell;
        table.arcs.push_back({driven.seconds, leadsOut ? outside : localNode(driven.head),
                              static_cast<std::uint32_t>(table.turns.size())});
        if (!leadsOut) {
            const auto turns = m_table.turns.begin() + driven.firstTurn;
            const auto count = m_table.first[driven.head + 1] - m_table.first[driven.head];
            table.turns.insert(table.turns.end(), turns, turns + count);
        } else if (m_cellOf[m_tails[arc]] == cell) {
            made.exits.push_back(m_localOwn[arc]);
        }
    };
    for (const std::uint32_t node : nodes) {
        for (std::uint32_t a = m_table.first[node]; a < m_table.first[node + 1]; ++a) {
            add(a);
        }
    }
    for (std::uint32_t &entry : made.entries) {
        table.metres.push_back(m_table.metres[entry]);
        add(entry);
        entry = m_localInto[entry];
    }
}

void CellOverlay::linkBorders()
{
    for (Cell &cell : m_cells) {
        cell.firstExit = static_cast<std::uint32_t>(m_borders.size());
        m_borders.resize(m_borders.size() + cell.exits.size());
    }
    for (std::uint32_t arc = 0; arc < m_table.arcs.size(); ++arc) {
        if (m_localInto[arc] == noArc) {
            continue;
        }
        const Cell &from = m_cells[m_cellOf[m_tails[arc]]];
        const std::uint32_t number = m_cellOf[m_table.arcs[arc].head];
        Cell &into = m_cells[number];
        const std::uint32_t entry = m_localInto[arc] - into.entries.front();
        const auto exit = std::lower_bound(from.exits.begin(), from.exits.end(), m_localOwn[arc]);
        const auto border = from.firstExit + static_cast<std::uint32_t>(exit - from.exits.begin());
        m_borders[border] = {number, entry};
        into.borderOfEntry.resize(into.entries.size());
        into.borderOfEntry[entry] = border;
    }
}

void CellOverlay::crossCell(Cell &cell) const
{
    WaySearch &search = cellSearch();
    for (const std::uint32_t entry : cell.entries) {
        search.run(cell.table, {{entry, cell.table.arcs[entry].seconds}}, cell.exits);
        for (const std::uint32_t exit : cell.exits) {
            const double seconds = search.secondsTo(exit);
            cell.seconds.push_back(seconds);
            cell.metres.push_back(seconds < infinite
                                      ? cell.table.metres[entry] + search.metresTo(cell.table, exit)
                                      : infinite);
        }
    }
}

CellOverlay::Targets CellOverlay::prepare(const std::vector<Stop> &stops) const
{
    Targets targets;
    targets.stops = stops;
    targets.cells.resize(m_cells.size());
    for (std::uint32_t stop = 0; stop < stops.size(); ++stop) {
        for (std::uint8_t side = 0; side < 2; ++side) {
            const std::uint32_t arc = stops[stop].arrive[side].arc;
            if (arc != noArc) {
                Targets::InCell &in = targets.cells[m_cellOf[m_tails[arc]]];
                in.arcs.push_back(m_localOwn[arc]);
                in.of.emplace_back(stop, side);
            }
        }
    }
    forEachRow(m_cells.size(), [&](std::size_t number) {
        Targets::InCell &in = targets.cells[number];
        const Cell &cell = m_cells[number];
        in.fromEntries.resize(in.arcs.size() * cell.entries.size());
        WaySearch &search = cellSearch();
        for (std::size_t e = 0; !in.arcs.empty() && e < cell.entries.size(); ++e) {
            const std::uint32_t entry = cell.entries[e];
            search.run(cell.table, {{entry, cell.table.arcs[entry].seconds}}, in.arcs);
            for (std::size_t t = 0; t < in.arcs.size(); ++t) {
                const double seconds = search.secondsTo(in.arcs[t]);
                const double metres =
                    seconds < infinite
                        ? cell.table.metres[entry] + search.metresTo(cell.table, in.arcs[t])
                        : infinite;
                in.fromEntries[t * cell.entries.size() + e] = {seconds, metres};
            }
        }
    });
    return targets;
}

void CellOverlay::searchBorders(Scratch &scratch) const
{
    while (!scratch.heap.empty()) {
        const auto [seconds, border] = scratch.heap.front();
        std::pop_heap(scratch.heap.begin(), scratch.heap.end(), std::greater<>());
        scratch.heap.pop_back();
        const Reach here = scratch.reach[border];
        if (seconds > here.seconds) {
            continue;
        }
        const Cell &cell = m_cells[m_borders[border].cell];
        const std::size_t first = m_borders[border].entry * cell.exits.size();
        for (std::size_t k = 0; k < cell.exits.size(); ++k) {
            const double there = seconds + cell.seconds[first + k];
            const auto next = static_cast<std::uint32_t>(cell.firstExit + k);
            if (there < scratch.reach[next].seconds) {
                scratch.lower(next, there, here.metres + cell.metres[first + k]);
            }
        }
    }
}

void CellOverlay::row(const Stop &from, const Targets &targets, Reach *row) const
{
    thread_local Scratch scratch;
    scratch.reach.assign(m_borders.size(), {infinite, infinite});
    scratch.heap.clear();
    std::fill_n(row, targets.stops.size(), Reach{infinite, infinite});
    const auto offer = [&](const Targets::InCell &in, std::size_t t, const Reach &begun) {
        const auto [stop, side] = in.of[t];
        const Reach &rest = targets.stops[stop].arrive[side].reach;
        const double seconds = begun.seconds + rest.seconds;
        if (seconds < row[stop].seconds) {
            row[stop] = {seconds, begun.metres + rest.metres};
        }
    };
    WaySearch &search = cellSearch();
    for (const Stop::Side &side : from.leave) {
        if (side.arc == noArc) {
            continue;
        }
        const std::uint32_t number = m_cellOf[m_table.arcs[side.arc].head];
        const Cell &cell = m_cells[number];
        const bool isInto = m_localInto[side.arc] != noArc;
        const std::uint32_t seed = isInto ? m_localInto[side.arc] : m_localOwn[side.arc];
        const Targets::InCell &in = targets.cells[number];
        std::vector<std::uint32_t> wanted = cell.exits;
        wanted.insert(wanted.end(), in.arcs.begin(), in.arcs.end());
        search.run(cell.table, {{seed, side.reach.seconds}}, wanted);
        const auto reached = [&](std::uint32_t arc) -> Reach {
            const double seconds = search.secondsTo(arc);
            return {seconds, seconds < infinite
                                 ? side.reach.metres + search.metresTo(cell.table, arc)
                                 : infinite};
        };
        for (std::uint32_t k = 0; k < cell.exits.size(); ++k) {
            const Reach reach = reached(cell.exits[k]);
            scratch.lower(cell.firstExit + k, reach.seconds, reach.metres);
        }
        for (std::size_t t = 0; t < in.arcs.size(); ++t) {
            offer(in, t, reached(in.arcs[t]));
        }
    }
    searchBorders(scratch);
    std::vector<Reach> atEntries;
    for (std::uint32_t number = 0; number < m_cells.size(); ++number) {
        const Targets::InCell &in = targets.cells[number];
        if (in.arcs.empty()) {
            continue;
        }
        atEntries.clear();
        for (const std::uint32_t border : m_cells[number].borderOfEntry) {
            atEntries.push_back(scratch.reach[border]);
        }
        for (std::size_t t = 0; t < in.arcs.size(); ++t) {
            const Reach *rest = &in.fromEntries[t * atEntries.size()];
            Reach best{infinite, infinite};
            for (std::size_t e = 0; e < atEntries.size(); ++e) {
                const double seconds = atEntries[e].seconds + rest[e].seconds;
                if (seconds < best.seconds) {
                    best = {seconds, atEntries[e].metres + rest[e].metres};
                }
            }
            offer(in, t, best);
        }
    }
}

} // namespace keyround
