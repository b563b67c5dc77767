// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/segments.h"

#include "core/mains/joined_sets.h"

#include <tuple>

namespace keyround {

namespace {

/// The elements on the two sides of each valve, before elements are gathered into segments. Nodes
/// come first, then pieces.
struct Contacts
{
    std::vector<std::pair<NetIndex, NetIndex>> open;
    std::vector<std::pair<NetIndex, NetIndex>> atValve; ///< by valve: towards from, towards to
};

std::vector<std::vector<NetIndex>> valvesByPipe(const PipeNetwork &network, const NetSpots &spots)
{
    std::vector<std::vector<NetIndex>> byPipe(network.pipes.size());
    for (NetIndex i = 0; i < network.valves.size(); ++i) {
        byPipe[network.valves[i].pipe].push_back(i);
    }
    for (std::vector<NetIndex> &valves : byPipe) {
        std::sort(valves.begin(), valves.end(), [&](NetIndex a, NetIndex b) {
            return std::make_tuple(spots.valves[a], network.valves[a].along, a) <
                   std::make_tuple(spots.valves[b], network.valves[b].along, b);
        });
    }
    return byPipe;
}

/// One pipe from node to node: pieces with the valves between them. A valve at an end parts the
/// node from the pipe, with no piece between.
void cutPipe(PipeNetwork &network, NetIndex index, const std::vector<NetIndex> &valves,
             const NetSpots &spots, Contacts &contacts)
{
    NetPipe &pipe = network.pipes[index];
    const auto nodes = static_cast<NetIndex>(network.nodes.size());
    pipe.firstPiece = static_cast<NetIndex>(network.pieces.size());
    const bool atFrom = !valves.empty() && spots.valves[valves.front()] == ValveSpot::AtFrom;
    const bool atTo = !valves.empty() && spots.valves[valves.back()] == ValveSpot::AtTo;
    double begin = pipe.fromAlong;
    NetIndex before = pipe.from; // the element that the next valve has behind it
    const auto addPiece = [&](double end) {
        network.pieces.push_back({index, begin, end, noIndex});
        begin = end;
        return nodes + static_cast<NetIndex>(network.pieces.size()) - 1;
    };
    for (std::size_t k = 0; k < valves.size(); ++k) {
        const double along =
            std::clamp(network.valves[valves[k]].along, pipe.fromAlong, pipe.toAlong);
        if (k > 0 || !atFrom) {
            const NetIndex piece = addPiece(along);
            if (k == 0) {
                contacts.open.emplace_back(pipe.from, piece);
            } else {
                contacts.atValve[valves[k - 1]].second = piece;
            }
            before = piece;
        }
        contacts.atValve[valves[k]].first = before;
    }
    // What lies behind the last valve: the rest of the pipe and its node, or the node alone.
    if (atTo) {
        contacts.atValve[valves.back()].second = pipe.to;
    } else {
        const NetIndex piece = addPiece(pipe.toAlong);
        contacts.open.emplace_back(pipe.to, piece);
        if (valves.empty()) {
            contacts.open.emplace_back(pipe.from, piece);
        } else {
            contacts.atValve[valves.back()].second = piece;
        }
    }
    pipe.pieceCount = static_cast<NetIndex>(network.pieces.size()) - pipe.firstPiece;
}

void numberSegments(PipeNetwork &network, const Contacts &contacts)
{
    const std::size_t nodes = network.nodes.size();
    NetSets sets(nodes + network.pieces.size());
    for (const auto &[a, b] : contacts.open) {
        sets.join(a, b);
    }
    std::vector<NetIndex> numbers(nodes + network.pieces.size(), noIndex);
    const auto segmentOf = [&](NetIndex element) {
        NetIndex &number = numbers[sets.root(element)];
        if (number == noIndex) {
            number = network.segmentCount++;
        }
        return number;
    };
    for (NetIndex i = 0; i < nodes; ++i) {
        network.nodes[i].segment = segmentOf(i);
    }
    for (NetIndex i = 0; i < network.pieces.size(); ++i) {
        network.pieces[i].segment = segmentOf(static_cast<NetIndex>(nodes) + i);
    }
    for (std::size_t i = 0; i < network.valves.size(); ++i) {
        network.valves[i].sideFrom = segmentOf(contacts.atValve[i].first);
        network.valves[i].sideTo = segmentOf(contacts.atValve[i].second);
    }
}

NetIndex segmentAt(const PipeNetwork &network, const NetSpot &spot)
{
    if (spot.node != noIndex) {
        return network.nodes[spot.node].segment;
    }
    if (spot.pipe == noIndex) {
        return noIndex;
    }
    const NetPipe &pipe = network.pipes[spot.pipe];
    NetIndex piece = pipe.firstPiece;
    for (NetIndex i = 1; i < pipe.pieceCount; ++i) {
        if (network.pieces[pipe.firstPiece + i].fromAlong <= spot.along) {
            piece = pipe.firstPiece + i;
        }
    }
    return network.pieces[piece].segment;
}

template <typename Things>
IndexRows hang(const PipeNetwork &network, Things &things, const std::vector<NetSpot> &spots)
{
    std::vector<NetIndex> owners(things.size());
    for (std::size_t i = 0; i < things.size(); ++i) {
        things[i].segment = segmentAt(network, spots[i]);
        owners[i] = things[i].segment;
    }
    return rowsByOwner(network.segmentCount, owners);
}

template <typename Things> IndexRows rowsOf(const PipeNetwork &network, const Things &things)
{
    std::vector<NetIndex> owners;
    owners.reserve(things.size());
    for (const auto &thing : things) {
        owners.push_back(thing.segment);
    }
    return rowsByOwner(network.segmentCount, owners);
}

/// Rows in which a thing has two owners; `ends(thing)` names them.
template <typename Things, typename Ends>
IndexRows rowsOfEnds(std::size_t ownerCount, const Things &things, Ends ends)
{
    std::vector<NetIndex> owners;
    owners.reserve(2 * things.size());
    for (const auto &thing : things) {
        const auto [a, b] = ends(thing);
        owners.push_back(a);
        owners.push_back(b);
    }
    IndexRows rows = rowsByOwner(ownerCount, owners);
    for (NetIndex &item : rows.items) {
        item /= 2;
    }
    return rows;
}

} // namespace

void indexPipes(PipeNetwork &network)
{
    std::vector<NetIndex> owners;
    owners.reserve(network.pipes.size());
    for (const NetPipe &pipe : network.pipes) {
        owners.push_back(pipe.main);
    }
    network.pipesOfMain = rowsByOwner(network.mains.size(), owners);
    network.pipesOfNode = rowsOfEnds(network.nodes.size(), network.pipes, [](const NetPipe &pipe) {
        return std::pair(pipe.from, pipe.to);
    });
}

void formSegments(PipeNetwork &network, const NetSpots &spots)
{
    const auto byPipe = valvesByPipe(network, spots);
    Contacts contacts;
    contacts.atValve.resize(network.valves.size());
    for (NetIndex i = 0; i < network.pipes.size(); ++i) {
        cutPipe(network, i, byPipe[i], spots, contacts);
    }
    numberSegments(network, contacts);
    network.piecesOf = rowsOf(network, network.pieces);
    network.nodesOf = rowsOf(network, network.nodes);
    network.valvesOf = rowsOfEnds(network.segmentCount, network.valves, [](const NetValve &valve) {
        return std::pair(valve.sideFrom, valve.sideTo);
    });
    network.servicesOf = hang(network, network.services, spots.services);
    network.hydrantsOf = hang(network, network.hydrants, spots.hydrants);
    network.sourcesOf = hang(network, network.sources, spots.sources);
    network.loads.assign(network.segmentCount, {});
    for (const NetService &service : network.services) {
        if (service.segment != noIndex) {
            network.loads[service.segment] += {1, service.critical ? 1 : 0, 0};
        }
    }
    for (const NetHydrant &hydrant : network.hydrants) {
        if (hydrant.segment != noIndex) {
            network.loads[hydrant.segment] += {0, 0, 1};
        }
    }
    for (NetIndex i = 0; i < network.valves.size(); ++i) {
        if (!network.valveByNumber.contains(network.valves[i].number)) {
            network.valveByNumber.insert(network.valves[i].number, i);
        }
    }
}

} // namespace keyround
