// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-project/generator/plane.h"

#include <algorithm>
#include <cmath>

namespace keyround::sample {

namespace {

double distanceToPiece(Spot spot, Spot a, Spot b)
{
    const Spot course = b - a;
    const double square = course.x * course.x + course.y * course.y;
    double part = 0;
    if (square > 0)
        part = ((spot.x - a.x) * course.x + (spot.y - a.y) * course.y) / square;
    return distance(spot, a + course * std::clamp(part, 0.0, 1.0));
}

/// The piece that holds a length along the line, and what of the length is left within it.
std::size_t pieceAt(const Line &line, double &length)
{
    length = std::max(0.0, length);
    std::size_t piece = 0;
    while (piece + 2 < line.size()) {
        const double here = distance(line[piece], line[piece + 1]);
        if (length <= here)
            break;
        length -= here;
        ++piece;
    }
    length = std::min(length, distance(line[piece], line[piece + 1]));
    return piece;
}

} // namespace

Spot rounded(Spot spot)
{
    return {std::round(spot.x * 100.0) / 100.0, std::round(spot.y * 100.0) / 100.0};
}

double distance(Spot a, Spot b)
{
    return std::sqrt((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y));
}

double lengthOf(const Line &line)
{
    double sum = 0;
    for (std::size_t i = 1; i < line.size(); ++i)
        sum += distance(line[i - 1], line[i]);
    return sum;
}

Spot alongLine(const Line &line, double length)
{
    const std::size_t piece = pieceAt(line, length);
    const double whole = distance(line[piece], line[piece + 1]);
    if (whole <= 0)
        return line[piece];
    return line[piece] + (line[piece + 1] - line[piece]) * (length / whole);
}

Spot leftOfLine(const Line &line, double length)
{
    const std::size_t piece = pieceAt(line, length);
    const Spot course = line[piece + 1] - line[piece];
    const double whole = std::max(distance(line[piece], line[piece + 1]), 1e-9);
    return {-course.y / whole, course.x / whole};
}

double distanceToLine(Spot spot, const Line &line)
{
    double least = distance(spot, line.front());
    for (std::size_t i = 1; i < line.size(); ++i)
        least = std::min(least, distanceToPiece(spot, line[i - 1], line[i]));
    return least;
}

Spot insertVertex(Line &line, double length)
{
    double rest = length;
    const std::size_t piece = pieceAt(line, rest);
    const Spot spot = rounded(alongLine(line, length));
    for (const std::size_t end : {piece, piece + 1}) {
        if (distance(spot, line[end]) < 0.02)
            return line[end];
    }
    line.insert(line.begin() + static_cast<std::ptrdiff_t>(piece) + 1, spot);
    return spot;
}

Line shifted(Line line, Spot by)
{
    for (Spot &spot : line)
        spot = rounded(spot + by);
    return line;
}

Line simplified(const Line &line)
{
    Line kept{line.front()};
    for (std::size_t i = 1; i + 1 < line.size(); ++i) {
        if (distanceToPiece(line[i], kept.back(), line[i + 1]) > 0.05)
            kept.push_back(line[i]);
    }
    kept.push_back(line.back());
    return kept;
}

} // namespace keyround::sample
