// SPDX-License-Identifier: GPL-3.0-or-later
// Where will the next failure hurt most? The due list in the order of risk: the chance that a valve
// is out of condition by now, times the services more that would be without water if it does not
// hold. Both numbers are shown, because the product alone hides which of them is large.
//
// The chance comes from the holding law of like valves (life_law.h): the valve was found holding at
// one age and is older now; 1 for one known to be out of condition. What a box or a parked car does
// is not in it. Services more: what a break beside the valve takes if it sticks, on its worse side
// (ValveImportance::moreAtMost), handed in by valve.
#pragma once

#include "core/schedule/due.h"
#include "core/schedule/life_law.h"

#include <optional>

namespace keyround {

struct RiskEntry
{
    DueEntry due;
    double chanceOut = 0;    ///< 0 to 1
    bool isKnownOut = false; ///< out of condition by its last visit: the chance is 1
    bool isGuess = false;    ///< no install year, or a law of all valves: see words
    /// More without water if it does not hold; empty: the pipe network does not tell.
    std::optional<int> services;
    double risk = 0; ///< chanceOut x services; 0 where these are not known
    /// "53 % likely out of condition by now: held on 2021-05-04; judged by other gates up to 8 in;
    /// up to 49 services more without water".
    QString words;
};

/// The due entries that want a visit or wait for repair, highest risk first; ties keep the due
/// list's order. Without the pipe network all risks are 0 and the order is by chance.
[[nodiscard]] std::vector<RiskEntry> whatNext(const std::vector<DueEntry> &due,
                                              const std::vector<Valve> &valves,
                                              const Histories &histories, const LifeLaws &laws,
                                              const QHash<ValveId, int> &servicesMore,
                                              const QDate &today);
/// The answer in one sentence.
[[nodiscard]] QString whatNextSentence(const std::vector<RiskEntry> &entries);

} // namespace keyround
