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

/// What a search reads of an arc, and no more: it is as fast as it reads these.
struct DriveArc
{
    double seconds = 0;
    std::uint32_t head = 0;      ///< the node it leads to
    std::uint32_t firstTurn = 0; ///< its turns, in the order of the arcs that leave the head
};

struct ArcTable
{
    /// Arcs sorted by the node that they leave: those of node n are [first[n], first[n + 1]).
    std::vector<std::uint32_t> first;
    std::vector<DriveArc> arcs;
    /// For each arc and each that leaves its head: which of turnSeconds it takes to drive on.
    std::vector<std::uint8_t> turns;
    std::vector<double> turnSeconds;   ///< the few that there are; infinite where forbidden
    std::vector<double> metres;        ///< by arc
    std::vector<std::uint32_t> halves; ///< by arc: twice its piece, and one when driven forward
    std::vector<std::uint32_t> arcOfHalf;

    [[nodiscard]] double turnBetween(std::uint32_t from, std::uint32_t to) const
    {
        const DriveArc &arc = arcs[from];
        return turnSeconds[turns[arc.firstTurn + to - first[arc.head]]];
    }
    [[nodiscard]] std::size_t pieceOf(std::uint32_t arc) const { return halves[arc] / 2; }
    [[nodiscard]] bool isForward(std::uint32_t arc) const { return halves[arc] % 2 == 1; }
    /// noArc where the piece may not be driven that way, or lies outside the largest part.
    [[nodiscard]] std::uint32_t arcOf(std::size_t piece, bool forward) const
    {
        return arcOfHalf[2 * piece + (forward ? 1 : 0)];
    }
};

/// The arcs over those pieces for which `inside` is set, which must be strongly connected by nodes;
/// by the turns allowed here they then are strongly connected by arcs.
[[nodiscard]] ArcTable arcTable(const std::vector<DrivenPiece> &pieces,
                                const std::vector<char> &inside, std::size_t nodes,
                                const TurnRules &rules);

} // namespace keyround
