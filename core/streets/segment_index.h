// SPDX-License-Identifier: GPL-3.0-or-later
// Finds the straight segments of many lines that lie near a place (an R-tree of Boost.Geometry on
// a local plane). The plane's scale is off by up to 0.2 % at 15 km from its origin, so callers
// measure the few segments found again, and decide by that.
#pragma once

#include "core/geo/point.h"

#include <cstdint>
#include <memory>
#include <vector>

namespace keyround {

/// The segment from point `segment` to the next one of the caller's line `line`.
struct SegmentRef
{
    std::uint32_t line = 0;
    std::uint32_t segment = 0;
};

class SegmentIndex
{
public:
    struct Entry
    {
        SegmentRef ref;
        GeoPoint a;
        GeoPoint b;
    };

    SegmentIndex();
    /// Every coordinate must be finite.
    explicit SegmentIndex(const std::vector<Entry> &entries);
    ~SegmentIndex();
    SegmentIndex(SegmentIndex &&) noexcept;
    SegmentIndex &operator=(SegmentIndex &&) noexcept;

    /// Segments whose surrounding boxes come within so many metres, and perhaps a few more.
    [[nodiscard]] std::vector<SegmentRef> within(const GeoPoint &place, double metres) const;
    /// The nearest segments, nearest first.
    [[nodiscard]] std::vector<SegmentRef> nearest(const GeoPoint &place, unsigned count) const;

private:
    struct Tree;
    LocalPlane m_plane;
    std::unique_ptr<Tree> m_tree;
};

} // namespace keyround
