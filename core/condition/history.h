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
    /// How it was left by the last visit that saw it; empty when in its normal position or never seen.
    std::optional<Standing> leftOtherThanNormal;
};

/// Reads one valve's visits (any order; superseded ones are set aside).
[[nodiscard]] ValveHistory readHistory(const Valve &valve, std::vector<Visit> visits,
                                       const Tolerance &tolerance);

using Histories = QHash<ValveId, ValveHistory>;
/// Reads all; a valve without visits has an entry too.
[[nodiscard]] Histories readHistories(const std::vector<Valve> &valves,
                                      const std::vector<Visit> &visits, const Tolerance &tolerance);

} // namespace keyround
