// SPDX-License-Identifier: GPL-3.0-or-later
// Points and lines on the town's own plane: US survey feet east and north of the town's origin.
// Everything that reaches a file is rounded to a hundredth of a foot first, so that the last bits
// of a sine do not change the files from one machine to another.
#pragma once

#include <cstddef>
#include <vector>

namespace keyround::sample {

struct Spot
{
    double x = 0;
    double y = 0;
    friend bool operator==(const Spot &, const Spot &) = default;
};
inline Spot operator+(Spot a, Spot b)
{
    return {a.x + b.x, a.y + b.y};
}
inline Spot operator-(Spot a, Spot b)
{
    return {a.x - b.x, a.y - b.y};
}
inline Spot operator*(Spot a, double factor)
{
    return {a.x * factor, a.y * factor};
}

using Line = std::vector<Spot>;

[[nodiscard]] Spot rounded(Spot spot); ///< to 0.01 ft
[[nodiscard]] double distance(Spot a, Spot b);
[[nodiscard]] double lengthOf(const Line &line);
/// The point at a length along the line (kept within its ends).
[[nodiscard]] Spot alongLine(const Line &line, double length);
/// Unit vector to the left of the line's course at a length along it.
[[nodiscard]] Spot leftOfLine(const Line &line, double length);
[[nodiscard]] double distanceToLine(Spot spot, const Line &line);
/// Puts a vertex at a length along the line and returns it, rounded; one nearer than 0.02 ft to
/// an end or a vertex that is there already is used as it is.
Spot insertVertex(Line &line, double length);
[[nodiscard]] Line shifted(Line line, Spot by);
/// Leaves out the inner points that lie within 0.05 ft of the straight line between neighbours.
[[nodiscard]] Line simplified(const Line &line);

} // namespace keyround::sample
