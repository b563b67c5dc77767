// SPDX-License-Identifier: GPL-3.0-or-later
// The parts that a drive graph is made of: streets cut from junction to junction with their speed,
// the arcs over them, the part of the town that can be driven all round, and the index by place.
#pragma once

#include "core/streets/cut_streets.h"
#include "core/streets/segment_index.h"
#include "core/streets/way_search.h"

#include <vector>

namespace keyround {

struct DrivenPiece
{
    std::uint32_t from = 0;
    std::uint32_t to = 0;
    double metres = 0;
    double secondsPerMetre = 0;
    bool forward = true; ///< may be driven from its first point to its last
    bool backward = true;
    std::size_t street = 0;
    GeoLine line;
    /// A place this near to the end of its piece is at the junction, whatever way the piece runs.
    static constexpr double atJunctionMetres = 0.001;

    /// Whether one may drive from a place on it to its last point, or from its first to the place.
    [[nodiscard]] bool leavesByLast(double along) const
    {
        return forward || metres - along <= atJunctionMetres;
    }
    [[nodiscard]] bool leavesByFirst(double along) const
    {
        return backward || along <= atJunctionMetres;
    }
    [[nodiscard]] bool entersByFirst(double along) const
    {
        return forward || along <= atJunctionMetres;
    }
    [[nodiscard]] bool entersByLast(double along) const
    {
        return backward || metres - along <= atJunctionMetres;
    }
};

/// The pieces with what driving them takes; their lines are moved out of `cut`.
[[nodiscard]] std::vector<DrivenPiece> drivenPieces(const std::vector<Street> &streets,
                                                    CutStreets &cut);

/// One arc for each direction that a piece may be driven in.
[[nodiscard]] ArcTable arcsOf(const std::vector<DrivenPiece> &pieces, std::size_t nodes);

/// For each piece whether it belongs to the largest part (by metres) in which every place can be
/// driven to from every other.
[[nodiscard]] std::vector<char> largestPart(const std::vector<DrivenPiece> &pieces,
                                            const ArcTable &table);

/// The segments of those pieces for which `inside` is set.
[[nodiscard]] SegmentIndex indexOf(const std::vector<DrivenPiece> &pieces,
                                   const std::vector<char> &inside);

} // namespace keyround
