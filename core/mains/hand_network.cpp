// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/pipe_network.h"
#include "core/mains/segments.h"

namespace keyround {

namespace {

/// Lengths say nothing in a network entered by hand; each pipe counts as one metre.
constexpr double pipeLength = 1.0;

Error unknown(const QString &what, const QString &name, const QString &asked, bool isBoth)
{
    if (isBoth) {
        return {ErrorCode::BadInput,
                QStringLiteral("%1 %2 names %3, which is a pipe and a node. Give the two different "
                               "names.")
                    .arg(what, name, asked)};
    }
    return {ErrorCode::BadInput,
            QStringLiteral("%1 %2 names %3, which is neither a pipe nor a node of the network. "
                           "Enter that first, or correct the name.")
                .arg(what, name, asked)};
}

Error twice(const QString &what, const QString &name)
{
    return {ErrorCode::BadInput,
            QStringLiteral("%1 %2 is entered twice. Give each its own name.").arg(what, name)};
}

} // namespace

NetIndex HandNetwork::nodeNamed(const QString &name)
{
    const auto found = m_nodeByName.constFind(name);
    if (found != m_nodeByName.constEnd()) {
        return *found;
    }
    const auto index = static_cast<NetIndex>(m_nodes.size());
    m_nodeByName.insert(name, index);
    m_nodes.push_back({name, {}, noIndex});
    return index;
}

void HandNetwork::addNode(const QString &name, const GeoPoint &place)
{
    if (m_nodeByName.contains(name) && m_doubled.isEmpty()) {
        m_doubled = name;
    }
    m_nodes[nodeNamed(name)].place = place;
}

void HandNetwork::addPipe(const QString &name, const QString &from, const QString &to)
{
    const NetIndex a = nodeNamed(from);
    m_pipes.push_back({name, a, nodeNamed(to)});
}

void HandNetwork::addValve(const QString &number, const QString &pipe, const QString &node,
                           bool normallyClosed)
{
    m_valves.push_back({number, pipe, node, normallyClosed});
}

void HandNetwork::addServices(const QString &pipeOrNode, int count, bool critical)
{
    m_services.push_back({QString(), pipeOrNode, count, critical});
}

void HandNetwork::addHydrant(const QString &number, const QString &pipeOrNode)
{
    m_hydrants.push_back({number, pipeOrNode, 1, false});
}

void HandNetwork::addSource(const QString &number, const QString &node)
{
    m_sources.push_back({number, node, 1, false});
}

Status HandNetwork::sitValves(PipeNetwork &network, NetSpots &spots) const
{
    for (const ValveAt &at : m_valves) {
        const NetIndex pipe = network.main(at.pipe);
        const NetIndex node = m_nodeByName.value(at.node, noIndex);
        if (pipe == noIndex || node == noIndex ||
            (network.pipes[pipe].from != node && network.pipes[pipe].to != node)) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("Valve %1 is said to sit where pipe %2 meets node %3, but "
                                       "they do not meet. Correct the pipe or the node.")
                            .arg(at.number, at.pipe, at.node));
        }
        const bool first = network.pipes[pipe].from == node;
        NetValve valve;
        valve.number = at.number;
        valve.place = m_nodes[node].place;
        valve.normallyClosed = at.normallyClosed;
        valve.pipe = pipe;
        valve.along = first ? 0.0 : pipeLength;
        network.valves.push_back(std::move(valve));
        spots.valves.push_back(first ? ValveSpot::AtFrom : ValveSpot::AtTo);
    }
    return {};
}

Result<PipeNetwork> HandNetwork::build() const
{
    PipeNetwork network;
    NetSpots spots;
    network.nodes = m_nodes;
    if (!m_doubled.isEmpty()) {
        return tl::unexpected(twice(QStringLiteral("Node"), m_doubled));
    }
    for (const Pipe &pipe : m_pipes) {
        const auto index = static_cast<NetIndex>(network.pipes.size());
        if (network.mainByNumber.contains(pipe.name)) {
            return tl::unexpected(twice(QStringLiteral("Pipe"), pipe.name));
        }
        network.mainByNumber.insert(pipe.name, index);
        network.mains.push_back({pipe.name, {}, {}});
        network.pipes.push_back({index, pipe.from, pipe.to, 0.0, pipeLength, noIndex, 0});
    }
    const auto isBoth = [&](const QString &name) {
        return network.main(name) != noIndex && m_nodeByName.contains(name);
    };
    const auto spotOf = [&](const QString &name) {
        NetSpot spot;
        if (!isBoth(name)) {
            spot.pipe = network.main(name);
            spot.along = pipeLength / 2;
            spot.node = spot.pipe == noIndex ? m_nodeByName.value(name, noIndex) : noIndex;
        }
        return spot;
    };
    if (const Status placed = sitValves(network, spots); !placed) {
        return tl::unexpected(placed.error());
    }
    for (const Hanging &one : m_services) {
        const NetSpot spot = spotOf(one.at);
        if (!spot.isPlaced()) {
            return tl::unexpected(
                unknown(QStringLiteral("A service"), QString(), one.at, isBoth(one.at)));
        }
        for (int i = 1; i <= one.count; ++i) {
            network.services.push_back(
                {{}, QStringLiteral("%1/%2").arg(one.at).arg(i), {}, one.critical, noIndex});
            spots.services.push_back(spot);
        }
    }
    for (const Hanging &one : m_hydrants) {
        spots.hydrants.push_back(spotOf(one.at));
        network.hydrants.push_back({{}, one.number, {}, noIndex});
        if (!spots.hydrants.back().isPlaced()) {
            return tl::unexpected(
                unknown(QStringLiteral("Hydrant"), one.number, one.at, isBoth(one.at)));
        }
    }
    for (const Hanging &one : m_sources) {
        spots.sources.push_back({m_nodeByName.value(one.at, noIndex), noIndex, 0});
        network.sources.push_back({{}, one.number, {}, SourceKind::Plant, {}, noIndex});
        if (!spots.sources.back().isPlaced()) {
            return tl::unexpected(unknown(QStringLiteral("Source"), one.number, one.at, false));
        }
    }
    indexPipes(network);
    formSegments(network, spots);
    return network;
}

} // namespace keyround
