// SPDX-License-Identifier: GPL-3.0-or-later
// What is odd about where imported rows lie.
#include "core/exchange/read_layer.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace keyround {

namespace {

constexpr double farMetres = 50'000.0;        // no utility's valves lie so far from its streets
constexpr double scatteredMetres = 200'000.0; // nor so far from each other
constexpr double polarLatitude = 75.0;        // nor so far north or south

std::vector<GeoPoint> realPlaces(const std::vector<GeoPoint> &points)
{
    std::vector<GeoPoint> real;
    std::copy_if(points.begin(), points.end(), std::back_inserter(real),
                 [](const GeoPoint &point) { return point.isValid(); });
    return real;
}

double median(std::vector<double> values)
{
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

/// The middle in each direction: a few rows gone astray do not move it.
GeoPoint middleOf(const std::vector<GeoPoint> &points)
{
    std::vector<double> latitudes;
    std::vector<double> longitudes;
    for (const GeoPoint &point : points) {
        latitudes.push_back(point.latitude);
        longitudes.push_back(point.longitude);
    }
    return {median(std::move(latitudes)), median(std::move(longitudes))};
}

} // namespace

QStringList placementWarnings(const std::vector<GeoPoint> &rows,
                              const std::vector<GeoPoint> &streetPoints)
{
    const std::vector<GeoPoint> places = realPlaces(rows);
    const std::vector<GeoPoint> streets = realPlaces(streetPoints);
    QStringList warnings;
    if (places.empty()) {
        return warnings;
    }
    const GeoPoint middle = middleOf(places);
    const GeoPoint swapped{middle.longitude, middle.latitude};
    const QString swapText = QStringLiteral("Latitude and longitude look swapped: look at the map, "
                                            "and at the columns they are read from.");
    if (!streets.empty()) {
        const GeoPoint town = middleOf(streets);
        const double away = distanceBetween(middle, town).value;
        if (away > farMetres && distanceBetween(swapped, town).value < farMetres) {
            warnings << swapText;
        } else if (away > farMetres) {
            warnings << QStringLiteral("The rows lie %1 km from the streets: is the coordinate "
                                       "system the right one?")
                            .arg(std::lround(away / 1000.0));
        }
    } else if (std::abs(middle.latitude) > polarLatitude &&
               std::abs(middle.longitude) < polarLatitude) {
        warnings << swapText;
    }
    const auto astray = std::count_if(places.begin(), places.end(), [&](const GeoPoint &place) {
        return distanceBetween(place, middle).value > scatteredMetres;
    });
    if (astray > 0) {
        warnings << QStringLiteral(
                        "%1 of %2 rows lie more than %3 km from the middle of the others.")
                        .arg(astray)
                        .arg(places.size())
                        .arg(std::lround(scatteredMetres / 1000.0));
    }
    return warnings;
}

} // namespace keyround
