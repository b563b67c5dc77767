// SPDX-License-Identifier: GPL-3.0-or-later
// One drawn stretch of street as a file gives it, before it becomes part of the drive graph.
#pragma once

#include "core/common/ids.h"
#include "core/common/units.h"
#include "core/geo/point.h"

#include <QString>

#include <cstddef>
#include <optional>

namespace keyround {

enum class StreetClass { Unknown, Motorway, Arterial, Collector, Residential, ServiceRoad, Path };
inline constexpr std::size_t streetClassCount = 7;
enum class OneWay { No, Forward, Backward };
/// How the layer says that streets meet: OpenStreetMap by shared nodes, centrelines by end points.
enum class JunctionRule { SharedNodes, EndPoints };

struct Street
{
    FeatureId id;
    QString key; ///< the file's own id, or one made from the geometry when it has none
    QString name;
    StreetClass kind = StreetClass::Unknown;
    OneWay oneWay = OneWay::No;
    std::optional<double> metresPerSecond; ///< from the layer; else by class
    std::optional<int> lanes;              ///< of both directions together, where the layer says
    std::optional<Metres> laneWidth;
    std::optional<bool> isDivided; ///< by a median
    bool drivable = true;          ///< false where the layer forbids motor access
    JunctionRule junctions = JunctionRule::EndPoints;
    GeoLine line;
    friend bool operator==(const Street &, const Street &) = default;
};

[[nodiscard]] QString wordFor(StreetClass kind);

} // namespace keyround
