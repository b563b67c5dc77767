// SPDX-License-Identifier: GPL-3.0-or-later
// A valve's visits, read in order, and what they say: condition after each, the baseline that
// each was judged against, the last full cycle. One reading serves the Truck, the due list, the
// Office and the reports, so that they never disagree.
//
// A valve that was replaced keeps its number and its id and begins a new life. What is said of the
// valve (condition, baseline, dates) is said of the one in the ground; the visits of all lives
// stay.
#pragma once

#include "core/fieldlog/judgement.h"
#include "core/fieldlog/replacement.h"

#include <QHash>

#include <algorithm>
#include <span>
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
    friend bool operator==(const ReadVisit &, const ReadVisit &) = default;
};

/// From one valve's being put in the ground to its being replaced.
struct ValveLife
{
    QDate installed; ///< where only the year is known, its first day; null: not known
    QDate began;     ///< when it took the place of the one before; null: it was the first
    QDate ended;     ///< when it was replaced; null: it is in the ground
    /// Its visits: [firstVisit, endVisit) of ValveHistory::visits.
    std::size_t firstVisit = 0;
    std::size_t endVisit = 0;
    friend bool operator==(const ValveLife &, const ValveLife &) = default;
};

/// What is not of visits or lives is said of the valve in the ground: the last life.
struct ValveHistory
{
    std::vector<ReadVisit> visits;             ///< standing visits of all lives, oldest first
    std::vector<ValveLife> lives{ValveLife{}}; ///< at least one, oldest first
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

    /// The visits of the valve in the ground.
    [[nodiscard]] std::span<const ReadVisit> ofThisLife() const
    {
        return std::span(visits).subspan(std::min(lives.back().firstVisit, visits.size()));
    }
    [[nodiscard]] bool wasReplaced() const { return lives.size() > 1; }
    friend bool operator==(const ValveHistory &, const ValveHistory &) = default;
};

/// Reads one valve's visits (any order; superseded ones are set aside, and those of other valves
/// are left out). Hand in the corrections that moved a visit to another valve too, or use
/// readHistories(). The baseline follows the last confirmed full cycle; the condition, baseline and
/// dates do not depend on the order in which visits or replacements are handed in.
[[nodiscard]] ValveHistory readHistory(const Valve &valve, std::vector<Visit> visits,
                                       const Tolerance &tolerance,
                                       const std::vector<Replacement> &replacements = {});

using Histories = QHash<ValveId, ValveHistory>;
/// Reads all; a valve without visits has an entry too.
[[nodiscard]] Histories readHistories(const std::vector<Valve> &valves,
                                      const std::vector<Visit> &visits,
                                      const std::vector<Replacement> &replacements,
                                      const Tolerance &tolerance);

/// A count to put in the list's place: the last two of its visits that turned it both ran it from
/// end to end and back, agree with each other within the allowance, and not with the listed turns.
/// Empty when nothing is listed, when any visit of this life agreed with the list, and when any
/// noted that the valve did not close: then the valve has changed, and a corrected list would hide
/// it. A suggestion for the supervisor, never applied by itself: two short counts in a row look the
/// same as a wrong list.
[[nodiscard]] std::optional<QuarterTurns>
suggestListedTurns(const Valve &valve, const ValveHistory &history, const Tolerance &tolerance);

/// True when the valve is out of condition for a cause that stays until somebody works on it. A
/// visit that merely had no access (blockedOnlyForNow()) is looked past: the valve goes back to
/// due, unless what was known before it was bad.
[[nodiscard]] bool needsRepair(const ValveHistory &history);

} // namespace keyround
