// SPDX-License-Identifier: GPL-3.0-or-later
// The parts that a drive graph is made of: streets cut from junction to junction with their speed,
// the part of the town that can be driven all round, and the index by place.
#pragma once

#include "core/streets/cut_streets.h"
#include "core/streets/drive_graph.h"
#include "core/streets/segment_index.h"

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
    StreetClass kind = StreetClass::Unknown;
    std::size_t street = 0;
    double bearingAtFirst = 0; ///< radians from north, driving from its first point to its last
    double bearingAtLast = 0;
    GeoLine line;

    /// Metres to drive to a place on it from the end at which one direction begins.
    [[nodiscard]] double metresTo(double along, bool isForward) const
    {
        return isForward ? along : metres - along;
    }
    /// The rest of them, to the end that this direction leads to.
    [[nodiscard]] double metresFrom(double along, bool isForward) const
    {
        return isForward ? metres - along : along;
    }
    [[nodiscard]] bool allows(bool isForward) const { return isForward ? forward : backward; }
    [[nodiscard]] double seconds() const { return metres * secondsPerMetre; }
};

/// The pieces with what driving them takes; their lines are moved out of `cut`.
[[nodiscard]] std::vector<DrivenPiece> drivenPieces(const std::vector<Street> &streets,
                                                    CutStreets &cut, const ClassFactors &factors);

/// For each piece whether it belongs to the largest part (by metres) in which every place can be
/// driven to from every other.
[[nodiscard]] std::vector<char> largestPart(const std::vector<DrivenPiece> &pieces,
                                            std::size_t nodes);

/// The segments of those pieces for which `inside` is set.
[[nodiscard]] SegmentIndex indexOf(const std::vector<DrivenPiece> &pieces,
                                   const std::vector<char> &inside);

} // namespace keyround
