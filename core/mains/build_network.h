// SPDX-License-Identifier: GPL-3.0-or-later
// Builds the pipe network from the layers and what people decided by hand.
//
// How mains meet: ends within the tolerance of each other are one junction; an end within the
// tolerance of another main is a tee and cuts that main there, whether it has a point there or
// not. Two mains that cross without an end of either stay apart, even where both have a point: one
// lies under the other, or the layer would have ended them there (a fix joins them).
// Joining chains: ends at 0, 0.2 and 0.4 m are one junction at 0.3 m of tolerance.
//
// Valves stand at the nearest place on a main. One within `atJunction` of a junction of three or
// more pipes goes on the branch that a fix, its role (hydrant lead) or its size names; else it is
// reported as ambiguous with every choice, and one is taken for the time being, always the same.
// Services go to the main they name, at its nearest place (the nearest part where a row of several
// lines was cut apart), hydrants and the rest to the nearest main. Sources go to the nearest end of
// a main in reach, else to the nearest place on one.
//
// Distances are metres on the plane that touches the ellipsoid at the place asked about (within
// 1 mm at snapping distances, core/geo/polyline.h); positions along are metres by
// distanceBetween().
#pragma once

#include "core/common/progress.h"
#include "core/inventory/features.h"
#include "core/inventory/valve.h"
#include "core/mains/network_fixes.h"
#include "core/mains/network_report.h"
#include "core/mains/pipe_network.h"

namespace keyround {

/// How near is near enough. Defaults: common practice, no source; the screen shows and changes
/// them.
struct NetworkOptions
{
    Metres join{0.3};       ///< ends of mains to each other and to mains
    Metres nearMiss{3.0};   ///< an end this near to a main, but not joined, is told of
    Metres valveReach{3.0}; ///< a valve to its main
    Metres atJunction{0.5}; ///< a valve this near to a junction may be on any branch
    Metres hydrantReach{15};
    Metres serviceReach{60}; ///< a service that names no main to the nearest one
    Metres sourceReach{15};
    Metres deadEnd{3.0}; ///< a valve with less main behind it, and nobody, closes nothing
    UnitSystem units = UnitSystem::Us; ///< of the messages
};

struct NetworkInput
{
    std::vector<Main> mains;
    std::vector<Valve> valves;
    std::vector<Hydrant> hydrants;
    std::vector<Service> services;
    std::vector<Source> sources;
};

struct BuiltNetwork
{
    PipeNetwork network;
    NetworkReport report;
};

/// Fails only when the watcher cancels it; layers that make no network give an empty one, and a
/// report that says why.
[[nodiscard]] Result<BuiltNetwork> buildNetwork(const NetworkInput &input,
                                                const NetworkOptions &options,
                                                const NetworkFixes &fixes,
                                                const Progress &progress = {});

} // namespace keyround
