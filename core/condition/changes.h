// SPDX-License-Identifier: GPL-3.0-or-later
// What went out of condition and what came back, by period, each with the visit that showed it.
// A valve that was replaced while out of condition came back by the replacement: no visit.
#pragma once

#include "core/condition/series.h"

namespace keyround {

enum class ChangeKind {
    WentOut,  ///< from holding, or not known, to out of condition
    Restored, ///< from out of condition to serviceable (with a defect or without)
};
/// "went out of condition", "restored".
[[nodiscard]] QString wordFor(ChangeKind kind);

struct KeyChange
{
    ChangeKind kind = ChangeKind::WentOut;
    /// The visit is null where the valve was replaced.
    ConditionChange change;
    bool byReplacement = false;
};

struct ChangePeriod
{
    QString period;
    QDate from;
    QDate end;
    std::vector<std::size_t> wentOut;  ///< indices in ConditionChanges::all
    std::vector<std::size_t> restored; ///< the same
    int outAtEnd = 0;                  ///< valves out of condition at the end of the period
};

struct ConditionChanges
{
    std::vector<KeyChange> all; ///< by date, then by valve number
    std::vector<ChangePeriod> periods;
    int valves = 0;
    QString sentence;
};

/// Retired valves are left out.
[[nodiscard]] ConditionChanges conditionChanges(const std::vector<Valve> &valves,
                                                const Histories &histories, const Span &span,
                                                PeriodLength length);

} // namespace keyround
