// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/geo/polyline.h"

#include <algorithm>

namespace keyround {

namespace {

GeoPoint between(const GeoPoint &a, const GeoPoint &b, double share)
{
    if (share >= 1.0) {
        return b; // exactly, so that a stretch ends where its neighbour begins
    }
    return {a.latitude + (b.latitude - a.latitude) * share,
            a.longitude + (b.longitude - a.longitude) * share};
}

/// The segment that holds a distance along the line, and the share of it that has passed.
LinePosition positionAt(const GeoLine &line, double metres)
{
    double left = std::max(0.0, metres);
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const double length = distanceBetween(line[i], line[i + 1]).value;
        if (left < length) {
            const double share = left / length;
            return {i, share, between(line[i], line[i + 1], share), 0};
        }
        left -= length;
    }
    const std::size_t last = line.size() < 2 ? 0 : line.size() - 2;
    return {last, 1.0, line.back(), 0};
}

} // namespace

double nearestShare(const PlanePoint &a, const PlanePoint &b, const PlanePoint &place)
{
    const double dx = b.x - a.x;
    const double dy = b.y - a.y;
    const double squared = dx * dx + dy * dy;
    if (squared <= 0.0) {
        return 0.0;
    }
    return std::clamp(((place.x - a.x) * dx + (place.y - a.y) * dy) / squared, 0.0, 1.0);
}

std::optional<LinePosition> nearestOn(const GeoLine &line, const GeoPoint &place)
{
    if (line.empty()) {
        return {};
    }
    const LocalPlane plane(place);
    const PlanePoint origin;
    LinePosition best{0, 0, line.front(), 0};
    double bestDistance = distance(plane.toPlane(line.front()), origin);
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const PlanePoint a = plane.toPlane(line[i]);
        const PlanePoint b = plane.toPlane(line[i + 1]);
        const double share = nearestShare(a, b, origin);
        const double metres =
            distance({a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share}, origin);
        if (metres < bestDistance) {
            bestDistance = metres;
            best = {i, share, between(line[i], line[i + 1], share), 0};
        }
    }
    best.offsetMetres = distanceBetween(place, best.point).value;
    return best;
}

double distanceAlong(const GeoLine &line, const LinePosition &position)
{
    double total = 0;
    for (std::size_t i = 0; i < position.segment && i + 1 < line.size(); ++i) {
        total += distanceBetween(line[i], line[i + 1]).value;
    }
    if (position.segment + 1 < line.size()) {
        total += position.share *
                 distanceBetween(line[position.segment], line[position.segment + 1]).value;
    }
    return total;
}

GeoPoint pointAt(const GeoLine &line, double metres)
{
    return positionAt(line, metres).point;
}

GeoLine stretchOf(const GeoLine &line, double from, double to)
{
    const LinePosition first = positionAt(line, std::min(from, to));
    const LinePosition last = positionAt(line, std::max(from, to));
    GeoLine stretch{first.point};
    for (std::size_t i = first.segment + 1; i <= last.segment && i < line.size(); ++i) {
        if (stretch.back() != line[i]) {
            stretch.push_back(line[i]);
        }
    }
    if (stretch.size() < 2 || stretch.back() != last.point) {
        stretch.push_back(last.point);
    }
    if (to < from) {
        std::reverse(stretch.begin(), stretch.end());
    }
    return stretch;
}

void GeoBounds::include(const GeoPoint &point)
{
    south = std::min(south, point.latitude);
    north = std::max(north, point.latitude);
    west = std::min(west, point.longitude);
    east = std::max(east, point.longitude);
}

std::optional<GeoBounds> boundsOf(const GeoLine &places)
{
    if (places.empty()) {
        return {};
    }
    const GeoPoint &first = places.front();
    GeoBounds bounds{first.latitude, first.longitude, first.latitude, first.longitude};
    for (const GeoPoint &place : places) {
        bounds.include(place);
    }
    return bounds;
}

} // namespace keyround
