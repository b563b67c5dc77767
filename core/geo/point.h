// SPDX-License-Identifier: GPL-3.0-or-later
// Places. Stored positions are WGS 84 degrees; computing is done in metres on a local plane.
#pragma once

#include "core/common/units.h"

#include <cmath>
#include <vector>

namespace keyround {

/// WGS 84 degrees, latitude first in every text of ours (files follow their own rule).
struct GeoPoint
{
    double latitude = 0;
    double longitude = 0;

    [[nodiscard]] bool isValid() const
    {
        return std::abs(latitude) <= 90.0 && std::abs(longitude) <= 180.0 &&
               !(latitude == 0.0 && longitude == 0.0);
    }
    friend bool operator==(const GeoPoint &, const GeoPoint &) = default;
};

using GeoLine = std::vector<GeoPoint>;

/// Metres east and north of a LocalPlane's origin.
struct PlanePoint
{
    double x = 0;
    double y = 0;
    friend bool operator==(const PlanePoint &, const PlanePoint &) = default;
};

using PlaneLine = std::vector<PlanePoint>;

[[nodiscard]] inline double distance(const PlanePoint &a, const PlanePoint &b)
{
    return std::hypot(a.x - b.x, a.y - b.y);
}

/// The plane that touches the WGS 84 ellipsoid at an origin: degrees times the radii of curvature
/// there. It serves geometry within a town (snapping, drawing); its scale east to west is off by
/// about tan(latitude) times the degrees of latitude from the origin, in radians: 0.2 % at 15 km
/// north of an origin at 40 degrees. Lengths that are shown or driven come from distanceBetween().
class LocalPlane
{
public:
    LocalPlane() = default;
    explicit LocalPlane(const GeoPoint &origin);

    [[nodiscard]] PlanePoint toPlane(const GeoPoint &point) const;
    [[nodiscard]] GeoPoint toGeo(const PlanePoint &point) const;
    [[nodiscard]] PlaneLine toPlane(const GeoLine &line) const;
    [[nodiscard]] GeoPoint origin() const { return m_origin; }

private:
    GeoPoint m_origin;
    double m_metresPerDegreeLatitude = 111132.0;
    double m_metresPerDegreeLongitude = 111320.0;
};

/// Length of the straight line between two places, with the radii at their middle latitude.
/// Within 0.001 % of the geodesic up to 30 km below 65 degrees (test_point.cpp, GeographicLib).
[[nodiscard]] Metres distanceBetween(const GeoPoint &a, const GeoPoint &b);
[[nodiscard]] Metres lengthOf(const GeoLine &line);

} // namespace keyround
