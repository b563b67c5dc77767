// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/build_network.h"

#include "core/mains/joined_sets.h"
#include "core/mains/network_notes.h"
#include "core/mains/place_things.h"

#include <QSet>

#include <algorithm>

namespace keyround {

namespace {

double lengthIn(const PipeNetwork &network, NetIndex segment)
{
    double length = 0;
    for (const NetIndex piece : network.piecesOf.of(segment)) {
        length += network.lengthOf(network.pieces[piece]);
    }
    return length;
}

/// A part of the network that hangs together when every valve is open.
struct Joint
{
    NetIndex firstPiece = noIndex;
    QSet<NetIndex> mains;
    double length = 0;
    Load load;
    bool hasSource = false;
};

std::vector<Joint> jointsOf(const PipeNetwork &network)
{
    NetSets sets(network.segmentCount);
    for (const NetValve &valve : network.valves) {
        sets.join(valve.sideFrom, valve.sideTo);
    }
    std::vector<NetIndex> numbers(network.segmentCount, noIndex);
    std::vector<Joint> joints;
    for (NetIndex segment = 0; segment < network.segmentCount; ++segment) {
        NetIndex &number = numbers[sets.root(segment)];
        if (number == noIndex) {
            number = static_cast<NetIndex>(joints.size());
            joints.emplace_back();
        }
        Joint &joint = joints[number];
        joint.load += network.loads[segment];
        joint.hasSource = joint.hasSource || !network.sourcesOf.of(segment).empty();
        for (const NetIndex piece : network.piecesOf.of(segment)) {
            joint.firstPiece = std::min(joint.firstPiece, piece);
            joint.mains.insert(network.pipes[network.pieces[piece].pipe].main);
            joint.length += network.lengthOf(network.pieces[piece]);
        }
    }
    std::erase_if(joints, [](const Joint &joint) { return joint.firstPiece == noIndex; });
    return joints;
}

void tellOfSources(const PipeNetwork &network, NetworkNotes &notes)
{
    const std::vector<Joint> joints = jointsOf(network);
    if (std::none_of(joints.begin(), joints.end(),
                     [](const Joint &joint) { return joint.hasSource; })) {
        notes.noSource(joints.size());
        return;
    }
    for (const Joint &joint : joints) {
        if (!joint.hasSource) {
            const NetPiece &piece = network.pieces[joint.firstPiece];
            const NetMain &main = network.mains[network.pipes[piece.pipe].main];
            notes.pieceWithoutSource(main.number, main.line.front(),
                                     static_cast<int>(joint.mains.size()), Metres{joint.length},
                                     joint.load);
        }
    }
}

/// The side of a valve where nobody hangs and no other valve is; noIndex when there is none.
NetIndex emptySide(const PipeNetwork &network, const NetValve &valve)
{
    for (const NetIndex side : {valve.sideFrom, valve.sideTo}) {
        if (network.valvesOf.of(side).size() == 1 && network.loads[side] == Load{} &&
            network.sourcesOf.of(side).empty()) {
            return side;
        }
    }
    return noIndex;
}

void tellOfValves(const PipeNetwork &network, const NetworkInput &input,
                  const NetworkOptions &options, NetworkNotes &notes)
{
    QSet<QString> onLeads;
    for (const Valve &valve : input.valves) {
        if (valve.role == ValveRole::HydrantLead) {
            onLeads.insert(valve.number);
        }
    }
    for (const NetValve &valve : network.valves) {
        if (valve.closesNothing()) {
            notes.valveInLoop(valve.number, valve.place);
            continue;
        }
        const NetIndex side = emptySide(network, valve);
        if (side == noIndex || valve.blowOff) {
            continue; // a blow-off stands at a dead end by design
        }
        const double behind = lengthIn(network, side);
        const bool onLead = onLeads.contains(valve.number);
        if (behind <= options.deadEnd.value || onLead) {
            notes.valveWithNothingBehind(valve.number, valve.place, Metres{behind}, onLead);
        }
    }
}

tl::unexpected<Error> cancelled()
{
    return fail(ErrorCode::Cancelled,
                QStringLiteral("Building the pipe network was stopped; nothing was changed."));
}

} // namespace

Result<BuiltNetwork> buildNetwork(const NetworkInput &input, const NetworkOptions &options,
                                  const NetworkFixes &fixes, const Progress &progress)
{
    BuiltNetwork built;
    PipeNetwork &network = built.network;
    NetworkNotes notes(options);
    NetSpots spots;
    if (input.mains.empty()) {
        notes.noMains();
    }
    const KnownMains known(input.mains, network, notes);
    const MainLines lines(network.mains);
    if (!report(progress, 0.2, QStringLiteral("Joining mains"))) {
        return cancelled();
    }
    joinMains(known, lines, options, fixes, network, notes);
    if (!report(progress, 0.5, QStringLiteral("Putting services on mains"))) {
        return cancelled();
    }
    const PlacingTable table{input, options, fixes, known, lines, network, notes};
    placeCustomers(table, spots);
    if (!report(progress, 0.7, QStringLiteral("Putting valves on mains"))) {
        return cancelled();
    }
    placeValves(table, spots);
    if (!report(progress, 0.9, QStringLiteral("Finding segments"))) {
        return cancelled();
    }
    formSegments(network, spots);
    if (!input.mains.empty()) {
        tellOfSources(network, notes);
    }
    tellOfValves(network, input, options, notes);
    built.report = notes.take();
    return built;
}

} // namespace keyround
