// SPDX-License-Identifier: GPL-3.0-or-later
// Which valves matter most: how many more would be without water if this one did not hold when
// something breaks beside it. Exact, and for all valves in one go: every answer comes from two
// kinds of question put to one depth-first tree (cut_tree.h).
#pragma once

#include "core/mains/shut.h"

namespace keyround {

/// Who is out when a side of the valve is shut, with everybody who goes dry beyond it.
struct ValveImportance
{
    Load outFrom;    ///< a break on the `sideFrom` side, this valve good
    Load outTo;      ///< a break on the `sideTo` side, this valve good
    Load outIfStuck; ///< a break on either side, this valve stuck open
    /// Services more than the worse of the two sides: the least that a failure costs.
    int more = 0;
    /// Services more than the better of the two sides: the most that a failure costs.
    int moreAtMost = 0;
    int criticalMore = 0; ///< as `more`
    int criticalMoreAtMost = 0;
};
/// By valve. Valves known not to hold are taken as such; each is itself compared as good and stuck,
/// so for one that is out of condition the figures say what its repair is worth. A valve that is
/// closed now costs nothing by sticking.
[[nodiscard]] std::vector<ValveImportance> valveImportance(const PipeNetwork &network,
                                                           const ValveStates &states);
/// "If it sticks, a break beside it takes up to 49 services more." Empty when it costs nobody.
[[nodiscard]] QString wordsFor(const ValveImportance &importance);

struct LargeShut
{
    std::vector<NetIndex> segments; ///< shut together, because of valves that do not hold
    Load out;                       ///< with everybody beyond
    std::vector<NetIndex> valves;   ///< around it
};
/// The shuts that take most services, largest first.
[[nodiscard]] std::vector<LargeShut> largestShuts(const PipeNetwork &network,
                                                  const ValveStates &states, std::size_t count);

} // namespace keyround
