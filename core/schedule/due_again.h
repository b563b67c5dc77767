// SPDX-License-Identifier: GPL-3.0-or-later
// A due list that is kept while visits are recorded: only the entries of the valves that a visit
// is of are worked out anew.
#pragma once

#include "core/condition/one_more_visit.h"
#include "core/schedule/due.h"

namespace keyround {

/// Brings a list that dueList() made to what it would make now that the histories of these valves
/// have changed, and nothing else. Not for a list that was weighed or held since: its order is
/// another. Each valve's number must be its own alone.
void workOutAgain(std::vector<DueEntry> &entries, const std::vector<ValveId> &changed,
                  const ValveOfId &valveOf, const Histories &histories, const Policy &policy,
                  const QDate &today);

} // namespace keyround
