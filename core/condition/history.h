// SPDX-License-Identifier: GPL-3.0-or-later
// A valve's visits, read in order, and what they say: condition after each, the baseline that
// each was judged against, the last full cycle. One reading serves the Truck, the due list, the
// Office and the reports, so that they never disagree.
#pragma once

#include "core/fieldlog/judgement.h"

#include <QHash>

#include <vector>

namespace keyround {

/// A visit with what it was judged to mean.
struct ReadVisit
{
    Visit visit;
    Judgement judgement;
    Condition before = Condition::NeverVisited;
    Condition after = Condition::NeverVisited;
    bool fullCycle = false;
};

struct ValveHistory
{
    std::vector<ReadVisit> visits; ///< standing visits only, oldest first
    Condition condition = Condition::NeverVisited;
    Baseline baseline; ///< for the next visit
    QDate lastVisit;
    QDate lastFullCycle; ///< null: never
    QDate firstBad;      ///< since when it has been out of condition; null when it is not
    /// How it was left by the last visit that saw it; empty when in its normal position or never
    /// seen.
    std::optional<Standing> leftOtherThanNormal;
    /// What suggestListedTurns() says of it: the list may be wrong.
    std::optional<QuarterTurns> suggestedTurns;
};

/// Reads one valve's visits (any order; superseded ones are set aside, and those of other valves
/// are left out). Hand in the corrections that moved a visit to another valve too, or use
/// readHistories(). The baseline follows the last confirmed full cycle; the condition, baseline and
/// dates do not depend on the order in which visits are handed in.
[[nodiscard]] ValveHistory readHistory(const Valve &valve, std::vector<Visit> visits,
                                       const Tolerance &tolerance);

using Histories = QHash<ValveId, ValveHistory>;
/// Reads all; a valve without visits has an entry too.
[[nodiscard]] Histories readHistories(const std::vector<Valve> &valves,
                                      const std::vector<Visit> &visits, const Tolerance &tolerance);

/// A count to put in the list's place: the last two visits that turned the valve both ran it from
/// end to end and back, agree with each other within the allowance, and not with the listed turns.
/// Empty when nothing is listed. A suggestion for the supervisor, never applied by itself: two
/// short counts in a row look the same as a wrong list.
[[nodiscard]] std::optional<QuarterTurns>
suggestListedTurns(const Valve &valve, const ValveHistory &history, const Tolerance &tolerance);

/// True when the valve is out of condition for a cause that stays until somebody works on it. A
/// visit that merely had no access (blockedOnlyForNow()) is looked past: the valve goes back to
/// due, unless what was known before it was bad.
[[nodiscard]] bool needsRepair(const ValveHistory &history);

} // namespace keyround
