// SPDX-License-Identifier: GPL-3.0-or-later
// The drive graph as a search sees it: arcs (one direction of a piece of street each) and the
// seconds from each arc to those that may follow it. A way is a row of arcs, so that what a turn
// takes depends on where the truck comes from.
#pragma once

#include "core/streets/driven_pieces.h"
#include "core/streets/turn_rules.h"

#include <cstdint>
#include <limits>
#include <vector>

namespace keyround {

inline constexpr std::uint32_t noArc = std::numeric_limits<std::uint32_t>::max();

struct DriveArc
{
    double seconds = 0;
    double metres = 0;
    std::uint32_t head = 0;      ///< the node it leads to
    std::uint32_t firstTurn = 0; ///< its turns, in the order of the arcs that leave the head
    std::uint32_t piece : 31 {};
    std::uint32_t forward : 1 {}; ///< driven from the piece's first point to its last
};

struct ArcTable
{
    /// Arcs sorted by the node that they leave: those of node n are [first[n], first[n + 1]).
    std::vector<std::uint32_t> first;
    std::vector<DriveArc> arcs;
    /// Seconds to drive on from an arc to each that leaves its head; infinite where forbidden.
    std::vector<float> turns;
    std::vector<std::uint32_t> arcOfPiece; ///< by piece, twice: backward, forward; or noArc

    [[nodiscard]] std::uint32_t arcOf(std::size_t piece, bool forward) const
    {
        return arcOfPiece[2 * piece + (forward ? 1 : 0)];
    }
};

/// The arcs over those pieces for which `inside` is set, which must be strongly connected by nodes;
/// by the turns allowed here they then are strongly connected by arcs.
[[nodiscard]] ArcTable arcTable(const std::vector<DrivenPiece> &pieces,
                                const std::vector<char> &inside, std::size_t nodes,
                                const TurnRules &rules);

} // namespace keyround
