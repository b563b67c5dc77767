// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/geo/point.h"

#include <numbers>

namespace keyround {

namespace {

constexpr double semiMajorAxis = 6378137.0;        // WGS 84
constexpr double flattening = 1.0 / 298.257223563; // WGS 84
constexpr double eccentricitySquared = flattening * (2.0 - flattening);
constexpr double radiansPerDegree = std::numbers::pi / 180.0;

double metresPerDegreeLatitude(double latitude)
{
    const double sine = std::sin(latitude * radiansPerDegree);
    const double w = 1.0 - eccentricitySquared * sine * sine;
    return semiMajorAxis * (1.0 - eccentricitySquared) / (w * std::sqrt(w)) * radiansPerDegree;
}

double metresPerDegreeLongitude(double latitude)
{
    const double sine = std::sin(latitude * radiansPerDegree);
    const double w = 1.0 - eccentricitySquared * sine * sine;
    return semiMajorAxis / std::sqrt(w) * std::cos(latitude * radiansPerDegree) * radiansPerDegree;
}

} // namespace

LocalPlane::LocalPlane(const GeoPoint &origin)
    : m_origin(origin), m_metresPerDegreeLatitude(metresPerDegreeLatitude(origin.latitude)),
      m_metresPerDegreeLongitude(metresPerDegreeLongitude(origin.latitude))
{
}

PlanePoint LocalPlane::toPlane(const GeoPoint &point) const
{
    return {(point.longitude - m_origin.longitude) * m_metresPerDegreeLongitude,
            (point.latitude - m_origin.latitude) * m_metresPerDegreeLatitude};
}

GeoPoint LocalPlane::toGeo(const PlanePoint &point) const
{
    return {m_origin.latitude + point.y / m_metresPerDegreeLatitude,
            m_origin.longitude + point.x / m_metresPerDegreeLongitude};
}

PlaneLine LocalPlane::toPlane(const GeoLine &line) const
{
    PlaneLine plane;
    plane.reserve(line.size());
    for (const GeoPoint &point : line) {
        plane.push_back(toPlane(point));
    }
    return plane;
}

Metres distanceBetween(const GeoPoint &a, const GeoPoint &b)
{
    const double middle = (a.latitude + b.latitude) / 2.0;
    return {std::hypot((a.latitude - b.latitude) * metresPerDegreeLatitude(middle),
                       (a.longitude - b.longitude) * metresPerDegreeLongitude(middle))};
}

Metres lengthOf(const GeoLine &line)
{
    double total = 0;
    for (size_t i = 1; i < line.size(); ++i) {
        total += distanceBetween(line[i - 1], line[i]).value;
    }
    return {total};
}

} // namespace keyround
