// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/way_search.h"

#include <algorithm>

namespace keyround {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

} // namespace

void WaySearch::prepare(const ArcTable &table)
{
    m_heap.clear();
    if (m_labels.size() < table.arcs.size()) {
        m_labels.resize(table.arcs.size());
        m_wantedIn.resize(table.arcs.size(), 0);
        m_metres.resize(table.arcs.size());
    }
    if (m_bounds.size() < table.first.size()) {
        m_bounds.resize(table.first.size());
    }
    ++m_search;
    if (m_search == 0) { // after four thousand million searches the numbers begin again
        std::fill(m_labels.begin(), m_labels.end(), Label{});
        std::fill(m_bounds.begin(), m_bounds.end(), Bound{});
        std::fill(m_metres.begin(), m_metres.end(), KnownMetres{});
        std::fill(m_wantedIn.begin(), m_wantedIn.end(), 0U);
        m_search = 1;
    }
}

void WaySearch::run(const ArcTable &table, const std::vector<Seed> &seeds,
                    const std::vector<std::uint32_t> &targets)
{
    prepare(table);
    m_wanted = 0;
    for (const std::uint32_t arc : targets) {
        if (m_wantedIn[arc] != m_search) {
            m_wantedIn[arc] = m_search;
            ++m_wanted;
        }
    }
    for (const Seed &seed : seeds) {
        push({seed.seconds, seed.arc | seedBit});
    }
    // A target is exact once the search has got as far as its seconds. When all have been
    // reached, the latest of them says how far that is.
    double until = infinite;
    bool allReached = false;
    while (!m_heap.empty()) {
        if (m_wanted == 0 && !allReached) {
            allReached = true;
            until = -infinite;
            for (const std::uint32_t arc : targets) {
                until = std::max(until, m_labels[arc].seconds);
            }
        }
        const QueueItem item = pop();
        if (item.seconds >= until) {
            break;
        }
        const std::uint32_t arc = item.arc & ~seedBit;
        if (item.seconds >= passedAt(table.arcs[arc].head)) {
            continue;
        }
        const bool isSeed = item.arc != arc;
        // Else the arc was begun sooner than this, as was found since.
        if (isSeed || item.seconds <= m_labels[arc].seconds + table.arcs[arc].seconds) {
            arrive(table, item);
        }
    }
}

void WaySearch::arrive(const ArcTable &table, const QueueItem &item)
{
    const DriveArc &arc = table.arcs[item.arc & ~seedBit];
    const std::uint32_t begin = table.first[arc.head];
    const std::uint32_t end = table.first[arc.head + 1];
    const std::uint8_t *turns = &table.turns[arc.firstTurn];
    double bound = 0;
    for (std::uint32_t next = begin; next < end; ++next) {
        const double seconds = item.seconds + table.turnSeconds[turns[next - begin]];
        Label &label = m_labels[next];
        const bool isWanted = m_wantedIn[next] == m_search;
        const double before = label.seenIn == m_search ? label.seconds : infinite;
        const DriveArc &driven = table.arcs[next];
        const double passed = passedAt(driven.head);
        if (seconds < before) {
            if (isWanted && label.seenIn != m_search) {
                --m_wanted;
            }
            label = {seconds, item.arc, m_search};
            if (seconds + driven.seconds < passed) {
                push({seconds + driven.seconds, next});
            }
        }
        // Later arrivals are of use to an arc only if that is of use to where it leads.
        if (isWanted || item.seconds + driven.seconds < passed) {
            bound = std::max(bound, std::min(before, seconds));
        }
    }
    m_bounds[arc.head] = {bound, m_search};
}

double WaySearch::secondsTo(std::uint32_t arc) const
{
    return arc < m_labels.size() && m_labels[arc].seenIn == m_search ? m_labels[arc].seconds
                                                                     : infinite;
}

double WaySearch::metresTo(const ArcTable &table, std::uint32_t arc)
{
    m_trail.clear();
    while (m_metres[arc].knownIn != m_search) {
        m_trail.push_back(arc);
        const std::uint32_t before = m_labels[arc].before;
        if ((before & seedBit) != 0) {
            m_metres[arc] = {0.0, before & ~seedBit, m_search};
            m_trail.pop_back();
            break;
        }
        arc = before;
    }
    for (auto next = m_trail.rbegin(); next != m_trail.rend(); ++next) {
        m_metres[*next] = {m_metres[arc].metres + table.metres[arc], m_metres[arc].seed, m_search};
        arc = *next;
    }
    return m_metres[arc].metres;
}

std::uint32_t WaySearch::seedOf(std::uint32_t arc) const
{
    return m_metres[arc].seed;
}

std::uint32_t WaySearch::trace(std::uint32_t arc, std::vector<std::uint32_t> &arcs) const
{
    arcs.clear();
    std::uint32_t before = m_labels[arc].before;
    while ((before & seedBit) == 0) {
        arcs.push_back(before);
        before = m_labels[before].before;
    }
    std::reverse(arcs.begin(), arcs.end());
    return before & ~seedBit;
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
