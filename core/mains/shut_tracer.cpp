// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/shut_tracer.h"

#include <algorithm>

namespace keyround {

ShutTracer::ShutTracer(const PipeNetwork &network, const ValveStates &states)
    : m_network(network), m_states(states), m_fedBefore(network.segmentCount),
      m_fedAfter(network.segmentCount), m_shut(network.segmentCount)
{
    findOpenWays();
    feed(m_fedBefore, nullptr);
}

/// Water is followed again and again, and valves are large: their two ends alone, side by side,
/// make it several times faster.
void ShutTracer::findOpenWays()
{
    std::vector<NetIndex> ends;
    ends.reserve(2 * m_network.valves.size());
    for (std::size_t i = 0; i < m_network.valves.size(); ++i) {
        const NetValve &valve = m_network.valves[i];
        const bool isWay = !m_states[i].closed && !valve.closesNothing();
        ends.push_back(isWay ? valve.sideFrom : noIndex);
        ends.push_back(isWay ? valve.sideTo : noIndex);
    }
    m_openTo = rowsByOwner(m_network.segmentCount, ends);
    for (NetIndex &item : m_openTo.items) {
        item = ends[item ^ 1U];
    }
}

/// Follows the water from every source through open valves; `shut` segments pass none.
void ShutTracer::feed(std::vector<char> &fed, const std::vector<char> *shut)
{
    std::fill(fed.begin(), fed.end(), 0);
    m_queue.clear();
    const auto reach = [&](NetIndex segment) {
        if (fed[segment] == 0 && (shut == nullptr || (*shut)[segment] == 0)) {
            fed[segment] = 1;
            m_queue.push_back(segment);
        }
    };
    for (const NetSource &source : m_network.sources) {
        if (source.segment != noIndex) {
            reach(source.segment);
        }
    }
    for (std::size_t next = 0; next < m_queue.size(); ++next) {
        const NetIndex segment = m_queue[next];
        for (const NetIndex other : m_openTo.of(segment)) {
            reach(other);
        }
    }
}

void ShutTracer::grow(Trace &trace, NetIndex stuck, NetIndex good)
{
    for (std::size_t next = 0; next < trace.segments.size(); ++next) {
        const NetIndex segment = trace.segments[next];
        for (const NetIndex valve : m_network.valvesOf.of(segment)) {
            const bool lets =
                valve == stuck || (valve != good && m_states[valve].letsBreakThrough());
            if (!lets || m_network.valves[valve].closesNothing()) {
                continue;
            }
            trace.passed.push_back(valve);
            const NetIndex other = m_network.valves[valve].across(segment);
            if (m_shut[other] == 0) {
                m_shut[other] = 1;
                trace.segments.push_back(other);
            }
        }
    }
}

ShutTracer::Trace ShutTracer::trace(const std::vector<NetIndex> &segments, NetIndex stuck,
                                    NetIndex good)
{
    const auto tidy = [](std::vector<NetIndex> &items) {
        std::sort(items.begin(), items.end());
        items.erase(std::unique(items.begin(), items.end()), items.end());
    };
    Trace trace;
    std::fill(m_shut.begin(), m_shut.end(), 0);
    trace.segments = segments;
    tidy(trace.segments);
    for (const NetIndex segment : trace.segments) {
        m_shut[segment] = 1;
    }
    grow(trace, stuck, good);
    tidy(trace.segments);
    tidy(trace.passed);
    feed(m_fedAfter, &m_shut);
    for (NetIndex segment = 0; segment < m_network.segmentCount; ++segment) {
        if (m_fedBefore[segment] != 0 && m_fedAfter[segment] == 0 && m_shut[segment] == 0) {
            trace.beyond.push_back(segment);
            trace.outBeyond += m_network.loads[segment];
        }
    }
    for (const NetIndex segment : trace.segments) {
        trace.out += m_network.loads[segment];
        for (const NetIndex valve : m_network.valvesOf.of(segment)) {
            if (m_shut[m_network.valves[valve].across(segment)] == 0) {
                trace.around.push_back(valve);
            }
        }
    }
    tidy(trace.around);
    return trace;
}

} // namespace keyround
