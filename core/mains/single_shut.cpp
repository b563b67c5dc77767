// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/cut_tree.h"
#include "core/mains/shut.h"

namespace keyround {

namespace {

std::vector<char> fedWithout(const PipeNetwork &network, const ValveStates &states, NetIndex valve)
{
    std::vector<char> fed(network.segmentCount);
    std::vector<NetIndex> queue;
    const auto reach = [&](NetIndex segment) {
        if (fed[segment] == 0) {
            fed[segment] = 1;
            queue.push_back(segment);
        }
    };
    for (const NetSource &source : network.sources) {
        if (source.segment != noIndex) {
            reach(source.segment);
        }
    }
    for (std::size_t next = 0; next < queue.size(); ++next) {
        const NetIndex segment = queue[next];
        for (const NetIndex open : network.valvesOf.of(segment)) {
            if (open != valve && !states[open].closed) {
                reach(network.valves[open].across(segment));
            }
        }
    }
    return fed;
}

} // namespace

SingleShut shutOne(const PipeNetwork &network, const ValveStates &states, NetIndex valve)
{
    SingleShut shut;
    if (states[valve].closed) {
        return shut;
    }
    const std::vector<char> before = fedWithout(network, states, noIndex);
    const std::vector<char> after = fedWithout(network, states, valve);
    for (NetIndex segment = 0; segment < network.segmentCount; ++segment) {
        if (before[segment] == 0 || after[segment] != 0) {
            continue;
        }
        shut.out += network.loads[segment];
        shut.segments.push_back(segment);
        for (const NetIndex service : network.servicesOf.of(segment)) {
            shut.services.push_back(service);
            if (network.services[service].critical) {
                shut.critical.push_back(service);
            }
        }
        const auto hydrants = network.hydrantsOf.of(segment);
        shut.hydrants.insert(shut.hydrants.end(), hydrants.begin(), hydrants.end());
    }
    return shut;
}

SingleShuts::SingleShuts(const PipeNetwork &network, const ValveStates &states)
    : m_loads(network.valves.size()), m_begin(network.valves.size()), m_end(network.valves.size())
{
    std::vector<CutTree::Edge> edges;
    std::vector<NetIndex> valveOf;
    for (NetIndex i = 0; i < network.valves.size(); ++i) {
        if (!states[i].closed) {
            edges.emplace_back(network.valves[i].sideFrom, network.valves[i].sideTo);
            valveOf.push_back(i);
        }
    }
    std::vector<NetIndex> roots;
    for (const NetSource &source : network.sources) {
        if (source.segment != noIndex) {
            roots.push_back(source.segment);
        }
    }
    const CutTree tree(edges, roots, network.loads);
    for (std::size_t e = 0; e < edges.size(); ++e) {
        const auto range = tree.beyondEdge(e);
        m_begin[valveOf[e]] = range.first;
        m_end[valveOf[e]] = range.second;
        m_loads[valveOf[e]] = tree.loadOf(range);
    }
    m_order = tree.order();
}

} // namespace keyround
