// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/way_search.h"

#include <algorithm>

namespace keyround {

void WaySearch::prepare(std::size_t nodes)
{
    m_heap.clear();
    if (m_labels.size() < nodes) {
        m_labels.resize(nodes);
        m_wantedIn.resize(nodes, 0);
    }
    ++m_search;
    if (m_search == 0) { // after four thousand million searches the numbers begin again
        std::fill(m_labels.begin(), m_labels.end(), Label{});
        std::fill(m_wantedIn.begin(), m_wantedIn.end(), 0U);
        m_search = 1;
    }
}

void WaySearch::run(const ArcTable &table, const std::vector<Seed> &seeds,
                    const std::vector<std::uint32_t> &targets)
{
    prepare(table.nodeCount());
    std::size_t wanted = 0;
    for (const std::uint32_t node : targets) {
        if (m_wantedIn[node] != m_search) {
            m_wantedIn[node] = m_search;
            ++wanted;
        }
    }
    for (const Seed &seed : seeds) {
        reach(seed.node, seed.seconds, noArc);
    }
    while (!m_heap.empty() && wanted > 0) {
        const QueueItem item = pop();
        if (item.seconds > m_labels[item.node].seconds) {
            continue; // a shorter way to it was found since
        }
        if (m_wantedIn[item.node] == m_search) {
            m_wantedIn[item.node] = 0;
            --wanted;
        }
        for (std::uint32_t a = table.first[item.node]; a < table.first[item.node + 1]; ++a) {
            reach(table.arcs[a].head, item.seconds + table.arcs[a].seconds, a);
        }
    }
}

void WaySearch::reach(std::uint32_t node, double seconds, std::uint32_t arc)
{
    Label &label = m_labels[node];
    if (label.seenIn == m_search && label.seconds <= seconds) {
        return;
    }
    label.seenIn = m_search;
    label.seconds = seconds;
    label.arc = arc;
    push({seconds, node});
}

double WaySearch::secondsTo(std::uint32_t node) const
{
    return node < m_labels.size() && m_labels[node].seenIn == m_search
               ? m_labels[node].seconds
               : std::numeric_limits<double>::infinity();
}

std::uint32_t WaySearch::trace(const ArcTable &table, std::uint32_t node,
                               std::vector<std::uint32_t> &arcs) const
{
    arcs.clear();
    while (m_labels[node].arc < table.arcs.size()) {
        arcs.push_back(m_labels[node].arc);
        node = table.tails[m_labels[node].arc];
    }
    std::reverse(arcs.begin(), arcs.end());
    return node;
}

void WaySearch::push(QueueItem item)
{
    std::size_t at = m_heap.size();
    m_heap.push_back(item);
    while (at > 0) {
        const std::size_t parent = (at - 1) / 4;
        if (!item.before(m_heap[parent])) {
            break;
        }
        m_heap[at] = m_heap[parent];
        at = parent;
    }
    m_heap[at] = item;
}

WaySearch::QueueItem WaySearch::pop()
{
    const QueueItem top = m_heap.front();
    const QueueItem item = m_heap.back();
    m_heap.pop_back();
    const std::size_t size = m_heap.size();
    std::size_t at = 0;
    while (size > 0) {
        const std::size_t firstChild = at * 4 + 1;
        if (firstChild >= size) {
            break;
        }
        std::size_t least = firstChild;
        for (std::size_t c = firstChild + 1; c < std::min(firstChild + 4, size); ++c) {
            if (m_heap[c].before(m_heap[least])) {
                least = c;
            }
        }
        if (!m_heap[least].before(item)) {
            break;
        }
        m_heap[at] = m_heap[least];
        at = least;
    }
    if (size > 0) {
        m_heap[at] = item;
    }
    return top;
}

} // namespace keyround
