// SPDX-License-Identifier: GPL-3.0-or-later
// What one visit more changes in histories that are read already: a stop that was just recorded
// must not make a laptop read a million visits anew.
#pragma once

#include "core/condition/history.h"

#include <functional>

namespace keyround {

/// Null for an unknown valve: histories have no entry for it.
using ValveOfId = std::function<const Valve *(const ValveId &)>;

/// Brings histories that readHistories() made of all visits but `added` to what it would make of
/// `all`, which has `added` among them. The visit must be new: nothing names it, and no stamp is
/// as high as its own. Gives the valves whose histories were read anew; no other has changed.
///
/// Time: that of the visits of its valve. Where it corrects a visit of another valve, or one that
/// was corrected already, all visits are looked through for those that hang together with it, and
/// all valves that these are of are read anew.
std::vector<ValveId> addToHistories(Histories &histories, const Visit &added,
                                    const std::vector<Visit> &all, const ValveOfId &valveOf,
                                    const std::vector<Replacement> &replacements,
                                    const Tolerance &tolerance);

} // namespace keyround
