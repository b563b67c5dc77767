// SPDX-License-Identifier: GPL-3.0-or-later
// All repair requests of a project, and what visits and shuts propose beside them: to open one, to
// add to one, that one seems to hold or shows again. A proposal is only derived; what becomes of it
// a person decides, in one action for many. Derived and not written by itself, because a project
// begins with years of imported visits: a thousand requests that nobody asked for would bury the
// ten that matter, and two laptops would each write their own.
#pragma once

#include "core/repairs/repair_habits.h"
#include "core/repairs/repair_request.h"
#include "core/repairs/standing_findings.h"

#include <QHash>

namespace keyround {

enum class ProposalKind { Open, Join, Prove, Reopen };

struct RepairProposal
{
    ProposalKind kind = ProposalKind::Open;
    ValveId valve;
    QString department; ///< its key
    RequestId request;  ///< null for Open
    QStringList findings;
    QDate since; ///< first seen; Prove: the day of the visit
    QDate on;    ///< the newest sight of it
    /// Prove: the one visit; else all that are new.
    std::vector<VisitId> visits;
    std::vector<TickId> ticks;
    QString words; ///< "shows it again on 2026-03-04"
};

struct RepairBook
{
    std::vector<RepairRequest> requests; ///< oldest first, closed ones too
    QHash<RequestId, std::size_t> byId;
    QHash<QString, std::size_t> byNumber;
    QHash<ValveId, std::vector<std::size_t>> byValve;
    QStringList sharedNumbers; ///< numbers that two requests have: none of them is found by it

    [[nodiscard]] const RepairRequest *request(const RequestId &id) const;
    /// As people type it: see requestNumberFrom().
    [[nodiscard]] const RepairRequest *byTypedNumber(const QString &typed) const;
    [[nodiscard]] std::vector<const RepairRequest *> openOf(const ValveId &valve) const;
};

[[nodiscard]] RepairBook makeRepairBook(std::vector<RepairEvent> events);

/// What the visits and shuts of valves that are not retired propose, by the order of the valves.
[[nodiscard]] std::vector<RepairProposal> repairProposals(const RepairBook &book,
                                                          const std::vector<Valve> &valves,
                                                          const Histories &histories,
                                                          const std::vector<ShutLog> &shuts,
                                                          const RepairHabits &habits);

/// The rows that say yes to a proposal: the first evidence opens, the rest is added. Who, when, the
/// ids of the rows and their stamps are still to be set.
[[nodiscard]] std::vector<RepairEvent> eventsFor(const RepairProposal &proposal);

} // namespace keyround
