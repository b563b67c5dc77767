// SPDX-License-Identifier: GPL-3.0-or-later
// Which of a long due list are worth a table of ways, which costs the square of their number.
//
// A day is sketched with straight lines: it begins with the stops that must go and the quarter of
// the pool with the highest priority, each put where it costs least; then, one by one, comes the
// candidate that earns most for each second which it takes, on site and by its detour from the
// sketch. So a valve of little priority that lies on the way is in the pool, and one that is worth
// much but far from everything is too. The sketch goes on past the shift's end until the pool is
// full; order and choice are then made anew on the streets.
#pragma once

#include "core/dayplan/plan.h"

namespace keyround {

/// Seconds between two places as the estimate has them.
class SketchedWays
{
public:
    explicit SketchedWays(const GeoPoint &origin, const TravelSettings &settings)
        : m_plane(origin),
          m_secondsPerMetre(settings.detourFactor / settings.estimateMetresPerSecond)
    {
    }
    [[nodiscard]] PlanePoint at(const GeoPoint &place) const { return m_plane.toPlane(place); }
    [[nodiscard]] double between(const PlanePoint &a, const PlanePoint &b) const
    {
        return distance(a, b) * m_secondsPerMetre;
    }

private:
    LocalPlane m_plane;
    double m_secondsPerMetre;
};

/// How many candidates a pool holds: about twice what could fit the shift if no driving were
/// needed, so that there is a choice; at least 60 and at most 160.
[[nodiscard]] std::size_t poolSize(const std::vector<StopCandidate> &candidates,
                                   double shiftSeconds);

/// Indices of the pool's candidates, those that must go first. All of these are in it, whatever
/// the size.
[[nodiscard]] std::vector<std::size_t> choosePool(const Round &day,
                                                  const std::vector<StopCandidate> &candidates,
                                                  std::size_t size, const TravelSettings &settings);

/// The seconds by which a route through these places grows, by estimate, with one more stop put
/// where it costs least; driving and work.
[[nodiscard]] double sketchedInsertion(const SketchedWays &ways,
                                       const std::vector<PlanePoint> &route,
                                       const StopCandidate &candidate);

} // namespace keyround
