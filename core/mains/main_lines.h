// SPDX-License-Identifier: GPL-3.0-or-later
// The mains' lines, to be asked what lies near a place. Used within core/mains only.
#pragma once

#include "core/mains/pipe_network.h"
#include "core/streets/segment_index.h"

#include <optional>

namespace keyround {

class MainLines
{
public:
    /// A place on a main.
    struct Hit
    {
        NetIndex main = noIndex;
        double along = 0;  ///< metres from its first point
        double offset = 0; ///< metres from the place asked about
    };

    /// The mains must outlive it. Lines of fewer than two points are left aside.
    explicit MainLines(const std::vector<NetMain> &mains);

    /// The nearest place of each main within so many metres, nearest first.
    [[nodiscard]] std::vector<Hit> within(const GeoPoint &place, double metres) const;
    /// The nearest of all; empty when there is no line.
    [[nodiscard]] std::optional<Hit> nearest(const GeoPoint &place) const;
    /// The nearest on one main, which must have a line.
    [[nodiscard]] Hit on(NetIndex main, const GeoPoint &place) const;
    [[nodiscard]] double length(NetIndex main) const { return m_alongs[main].back(); }
    /// Metres from the main's first point to each of its points.
    [[nodiscard]] const std::vector<double> &alongs(NetIndex main) const { return m_alongs[main]; }

private:
    [[nodiscard]] Hit hitOn(const LocalPlane &plane, NetIndex main, std::size_t segment) const;

    const std::vector<NetMain> &m_mains;
    std::vector<std::vector<double>> m_alongs;
    SegmentIndex m_index;
};

} // namespace keyround
