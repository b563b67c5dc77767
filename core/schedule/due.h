// SPDX-License-Identifier: GPL-3.0-or-later
// The due list: which valves are due on a day, since when, by which rule, and why in words.
#pragma once

#include "core/condition/history.h"
#include "core/schedule/policy.h"

#include <vector>

namespace keyround {

enum class DueState {
    NeverVisited, ///< no visit on record
    Overdue,      ///< its date is past
    Due,          ///< its date is today or within the policy's days, or it was visited but
                  ///< has no full cycle on record
    NotDue,
    WaitingForRepair, ///< out of condition: a repair comes before the next exercise. A visit that
                      ///< merely had no access leaves the valve due (needsRepair())
    Exempt,           ///< no rule, or a rule without interval
};
[[nodiscard]] QString wordFor(DueState state);
[[nodiscard]] QString keyFor(DueState state);

/// Of a valve that waits for repair: below anything that a date can give, so that one order serves
/// the whole list.
inline constexpr double waitingPriority = -2.0;

struct DueEntry
{
    ValveId valve;
    DueState state = DueState::NotDue;
    QString rule;        ///< the rule's name
    QDate lastCycle;     ///< null: never made a full cycle
    QDate dueOn;         ///< null where there is no date (never visited: due at once)
    int daysOverdue = 0; ///< negative: days still to go; due today is 0
    double priority = 0; ///< higher goes first; see dueList()
    QString reason; ///< a plain sentence: "Overdue by 214 days: 16 in and larger, every 12 months"
    friend bool operator==(const DueEntry &, const DueEntry &) = default;
};

/// When the next exercise falls due: calendar months, the day clamped to the month's last
/// (29 February + 12 months = 28 February).
[[nodiscard]] QDate dueDate(const QDate &lastCycle, int intervalMonths);

/// One entry a valve that is not retired, highest priority first. Priority: overdue share of the
/// interval, never-visited as one interval overdue, half as much again for a valve with critical
/// customers, and a little for size (a thousandth an inch); ties by number. Not yet due is
/// negative, waiting for repair -2 and exempt -3. A ranking to work by, not a risk figure.
[[nodiscard]] std::vector<DueEntry> dueList(const std::vector<Valve> &valves,
                                            const Histories &histories, const Policy &policy,
                                            const QDate &today);

/// What a valve's failing would cost: see mains/valve_importance.h.
struct ShutStake
{
    int services = 0; ///< without water if it sticks when something breaks beside it
    double share = 0; ///< of the valve that costs most: 0 to 1
};
using ShutStakes = QHash<ValveId, ShutStake>;

/// Raises the priority of valves that want a visit by `weight` times their share, says so in their
/// reason, and sorts the list anew. A weight of 0 changes nothing.
void weighByShuts(std::vector<DueEntry> &entries, const ShutStakes &stakes, double weight);

/// True when a round should be made of it: never visited, due or overdue.
[[nodiscard]] bool wantsVisit(DueState state);

} // namespace keyround
