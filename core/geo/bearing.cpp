// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/geo/bearing.h"

#include <array>
#include <numbers>

namespace keyround {

double bearingBetween(const GeoPoint &from, const GeoPoint &to)
{
    // The plane at the middle: at a place between both the straight line has one direction.
    const LocalPlane plane(
        {(from.latitude + to.latitude) / 2.0, (from.longitude + to.longitude) / 2.0});
    const PlanePoint a = plane.toPlane(from);
    const PlanePoint b = plane.toPlane(to);
    if (a == b) {
        return 0;
    }
    const double degrees = std::atan2(b.x - a.x, b.y - a.y) * 180.0 / std::numbers::pi;
    return degrees < 0 ? degrees + 360.0 : degrees;
}

QString compassWords(double degrees)
{
    static const std::array words{QStringLiteral("north"), QStringLiteral("north-east"),
                                  QStringLiteral("east"),  QStringLiteral("south-east"),
                                  QStringLiteral("south"), QStringLiteral("south-west"),
                                  QStringLiteral("west"),  QStringLiteral("north-west")};
    constexpr double sector = 45.0;
    const double turned = std::fmod(std::fmod(degrees, 360.0) + 360.0, 360.0);
    return words.at(static_cast<std::size_t>(std::floor(turned / sector + 0.5)) % words.size());
}

std::optional<NearestPlace> nearestPlace(const GeoPoint &from, const std::vector<GeoPoint> &places)
{
    std::optional<NearestPlace> nearest;
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (!places[i].isValid()) {
            continue;
        }
        const Metres away = distanceBetween(from, places[i]);
        if (!nearest || away < nearest->away) {
            nearest = NearestPlace{i, away};
        }
    }
    return nearest;
}

QString awayWords(const GeoPoint &from, const GeoPoint &to, UnitSystem units)
{
    constexpr Metres here{0.5};
    const Metres away = distanceBetween(from, to);
    return away < here ? QStringLiteral("here")
                       : QStringLiteral("%1 to the %2")
                             .arg(lengthText(away, units), compassWords(bearingBetween(from, to)));
}

} // namespace keyround
