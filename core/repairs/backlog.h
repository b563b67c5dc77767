// SPDX-License-Identifier: GPL-3.0-or-later
// The backlog: open requests with their age, how urgent they are by the utility's rules, and which
// are overdue by their department's own days. And what that means for the due list: a valve whose
// repair is open is left out of rounds until a visit has to prove the work.
#pragma once

#include "core/repairs/repair_book.h"
#include "core/schedule/due.h"

namespace keyround {

/// How long past its date something is: the usual four steps of a backlog, and what has no date.
enum class AgeBucket { NotDue, UpTo90Days, UpTo365Days, Over365Days, NoDate };
inline constexpr std::size_t ageBucketCount = 5;
/// Due today is not overdue. No date: NoDate.
[[nodiscard]] AgeBucket ageBucket(const QDate &due, const QDate &today);
[[nodiscard]] QString wordFor(AgeBucket bucket); ///< "1 to 90 days over"
[[nodiscard]] QString keyFor(AgeBucket bucket);  ///< "not due", "1-90", "91-365", ">365", "no date"

struct BacklogRow
{
    const RepairRequest *request = nullptr;
    const Valve *valve = nullptr; ///< null: no longer in the project
    QString department;           ///< its name; the key where the table no longer has it
    Urgency urgency = Urgency::Routine;
    int services = 0; ///< without water if the valve fails
    int ageDays = 0;  ///< since it was opened
    QDate dueOn;      ///< by the department's days; null: never overdue, or not open
    int daysOverdue = 0;
    AgeBucket bucket = AgeBucket::NoDate;
};

/// One row a request, closed ones only where asked for: the most urgent first, then the longest
/// overdue, then the oldest. `book` and `valves` must live as long as the rows. `stakes` tells the
/// services; valves not in it count as none.
[[nodiscard]] std::vector<BacklogRow>
backlogRows(const RepairBook &book, const std::vector<Valve> &valves, const Histories &histories,
            const ShutStakes &stakes, const RepairHabits &habits, const QDate &today,
            bool withClosed = false);
/// How urgent a proposal to open a request is, by the same rules.
[[nodiscard]] Urgency urgencyOf(const RepairProposal &proposal, const Valve &valve,
                                const ValveHistory &history, int services,
                                const RepairHabits &habits);

struct BacklogCounts
{
    int open = 0;
    int overdue = 0;
    int toProve = 0;
    std::array<int, ageBucketCount> byBucket{};
};
[[nodiscard]] BacklogCounts countsOf(const std::vector<BacklogRow> &rows);
/// "12 open, 3 overdue, 2 done and to be proved"
[[nodiscard]] QString wordsFor(const BacklogCounts &counts);

/// What open requests mean for the due list (as dueList() gives it), sorted anew:
/// - a request of a department that holds rounds: waiting for repair, the reason names it;
/// - all of them done: due, before what the policy asks for, because a visit must prove the work.
void holdForRepairs(std::vector<DueEntry> &entries, const RepairBook &book,
                    const RepairHabits &habits);

/// One line for a crew that stands at the valve; empty where nothing is open: "Repair
/// R26-4K7M-Q2TX is done (Lid missing or broken, 2026-05-04): this visit can prove it" or "Repair
/// R26-… is open: Lid missing or broken, sent 2026-05-02".
[[nodiscard]] QString repairLine(const RepairBook &book, const ValveId &valve);

} // namespace keyround
