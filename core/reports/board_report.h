// SPDX-License-Identifier: GPL-3.0-or-later
// The programme's report for a board or a regulator, over a year, a month or any other span: valves
// inspected by size class against the policy, condition, what went out and came back, the valves
// that are not operable, those that came back, whose counts drift, where it will hurt next, what
// more or less work would do, repair requests, the records kept. What the pages say; pictures are
// named here and drawn elsewhere.
#pragma once

#include "core/condition/ageing.h"
#include "core/condition/changes.h"
#include "core/condition/condition_bands.h"
#include "core/condition/fleet_turns.h"
#include "core/repairs/repair_book.h"
#include "core/reports/sheet.h"
#include "core/schedule/outlook.h"
#include "core/schedule/pace.h"
#include "core/schedule/what_next.h"

namespace keyround {

enum class BoardPicture {
    None,
    PaceYears,
    Conditions,
    ShareServiceable,
    Changes,
    Ageing,
    WhatNext,
    Outlook
};

struct BoardPage
{
    Sheet sheet;
    BoardPicture picture = BoardPicture::None;
};

/// The figures are those of the same valves and span; the span ends no later than today.
struct BoardFigures
{
    Span span;
    QString filterWords; ///< empty: all valves
    QString utility;
    UnitSystem units = UnitSystem::Us;
    const Pace &pace;
    const ConditionOverTime &condition;
    const ConditionChanges &changes;
    const Ageing &ageing;
    QDate today; ///< the day that the next three are told as on
    const FleetTurns &turns;
    const std::vector<RiskEntry> &next;
    const Outlook &outlook;
    const RepairBook &repairs;
    const RepairHabits &habits; ///< names the departments
};

/// What a size class came to in the span.
struct BoardClass
{
    QString name;
    int valves = 0;
    int inspected = 0;    ///< visited in the span
    int fullCycles = 0;   ///< valves that made a full cycle in the span
    double asked = 0;     ///< full cycles that the policy asks for in so many days
    int notOperable = 0;  ///< at the span's end: do not turn, or do not shut
    int cannotReach = 0;  ///< at the span's end
    int neverVisited = 0; ///< at the span's end
};
/// By size class, without empty ones, and all valves last. Retired valves are left out.
[[nodiscard]] std::vector<BoardClass> boardClasses(const std::vector<Valve> &valves,
                                                   const Histories &histories, const Policy &policy,
                                                   const Span &span);

/// The visits are all that were ever recorded, superseded ones too.
[[nodiscard]] std::vector<BoardPage> boardReport(const BoardFigures &figures,
                                                 const std::vector<Valve> &valves,
                                                 const Histories &histories, const Policy &policy,
                                                 const std::vector<Visit> &visits);

} // namespace keyround
