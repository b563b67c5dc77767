// SPDX-License-Identifier: GPL-3.0-or-later
// Boxes on a local plane, in metres, and an R-tree over them (Boost.Geometry): what lies in a
// part of the map is found without looking at the rest.
#pragma once

#include "core/geo/point.h"

#include <cstddef>
#include <limits>
#include <memory>
#include <vector>

namespace keyround {

struct PlaneBox
{
    double west = std::numeric_limits<double>::infinity();
    double south = std::numeric_limits<double>::infinity();
    double east = -std::numeric_limits<double>::infinity();
    double north = -std::numeric_limits<double>::infinity();

    [[nodiscard]] bool isEmpty() const { return east < west || north < south; }
    [[nodiscard]] double width() const { return east - west; }
    [[nodiscard]] double height() const { return north - south; }
    [[nodiscard]] PlanePoint middle() const { return {(west + east) / 2, (south + north) / 2}; }
    [[nodiscard]] PlaneBox grown(double metres) const
    {
        return {west - metres, south - metres, east + metres, north + metres};
    }
    void take(const PlanePoint &point);
    void take(const PlaneBox &box);
};

[[nodiscard]] PlaneBox boxOf(const PlaneLine &line);
[[nodiscard]] inline PlaneBox boxAround(const PlanePoint &point, double metres)
{
    return {point.x - metres, point.y - metres, point.x + metres, point.y + metres};
}

/// Built once, never changed; copies share it.
class PlaneIndex
{
public:
    PlaneIndex() = default;
    explicit PlaneIndex(const std::vector<PlaneBox> &boxes);

    /// Positions (in the vector that it was built from) of the boxes that meet this one, rising.
    [[nodiscard]] std::vector<std::size_t> within(const PlaneBox &box) const;

private:
    struct Tree;
    std::shared_ptr<const Tree> m_tree;
};

} // namespace keyround
