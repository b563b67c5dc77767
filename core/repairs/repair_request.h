// SPDX-License-Identifier: GPL-3.0-or-later
// A repair request and its life, made of rows that are written once and never changed. How a
// request stands follows from its rows, whatever the order in which they came in; a step recorded
// by mistake is taken back by another row. Nothing closes by itself: that a visit proves a repair
// is a row that a person writes.
//
// A request's id is made from what opened it (valve, department, visit or step of a shut), so that
// two laptops that open the same one name it alike; and its number is made from its id.
#pragma once

#include "core/common/clock.h"
#include "core/common/ids.h"
#include "core/fieldlog/replacement.h"

#include <QStringList>

#include <optional>
#include <vector>

namespace keyround {

using RequestId = Id<struct RequestTag>;
using RepairEventId = Id<struct RepairEventTag>;

enum class RepairStep {
    Opened,
    Evidence,  ///< another visit or shut shows it too
    Sent,      ///< to the department
    Scheduled, ///< the department named a day
    Done,      ///< the department says that the work is done
    Proved,    ///< a visit showed that it holds, and a person said yes
    Reopened,  ///< a visit showed it again
    Withdrawn, ///< not to be done; why
    Noted,     ///< words only
    TakenBack, ///< takes another row back
};
[[nodiscard]] QString wordFor(RepairStep step);
[[nodiscard]] QString keyFor(RepairStep step);
[[nodiscard]] std::optional<RepairStep> repairStepFromKey(const QString &key);

struct RepairEvent
{
    RepairEventId id;
    RequestId request;
    RepairStep step = RepairStep::Noted;
    QDate on; ///< the day it is about: found, sent, planned for, done, proved; null: none
    // Opened
    QString number;
    ValveId valve;
    QString department; ///< its key
    // Opened, Evidence, Reopened, Proved: what was seen, and in what
    QStringList findings; ///< keys, see repair_habits.h
    VisitId visit;
    TickId tick;   ///< the step of a shut in which it did not hold
    QString party; ///< sent to whom; scheduled with or done by whom
    QString how;   ///< "PDF", "repairs.csv": how it was sent, or where an answer came from
    QString words; ///< the work; why it was withdrawn; a note
    ReplacementId replacement; ///< Done: the valve was replaced
    RepairEventId undoes;      ///< TakenBack
    Moment at;
    QString person;
    QString device;
    HybridTime stamp;
    friend bool operator==(const RepairEvent &, const RepairEvent &) = default;
};

enum class RepairState { Open, Sent, Scheduled, Done, Proved, Withdrawn };
[[nodiscard]] QString wordFor(RepairState state); ///< "done, to be proved"
[[nodiscard]] QString keyFor(RepairState state);

struct RepairRequest
{
    RequestId id;
    QString number;
    ValveId valve;
    QString department;
    RepairState state = RepairState::Open;
    QStringList findings;
    QDate since;   ///< when it was first seen
    Moment opened; ///< when the request was made
    std::vector<VisitId> visits;
    std::vector<TickId> ticks;
    QDate scheduledFor;
    QString scheduledWith;
    QDate doneOn;
    QString doneBy;
    QString work;
    QDate closedOn; ///< proved or withdrawn
    VisitId provedBy;
    QString withdrawnWhy;
    int timesReopened = 0;
    std::vector<RepairEvent> life; ///< what holds, by stamp

    [[nodiscard]] bool isOpen() const
    {
        return state != RepairState::Proved && state != RepairState::Withdrawn;
    }
    [[nodiscard]] bool awaitsProof() const { return state == RepairState::Done; }
    [[nodiscard]] const RepairEvent *lastOf(RepairStep step) const;
    friend bool operator==(const RepairRequest &, const RepairRequest &) = default;
};

/// The requests that the rows make, oldest first. Rows may come in any order, and more than once;
/// rows whose request was not opened here (its laptop's rows have not come in yet) wait. A state
/// never falls back by a late row: only Reopened opens again.
[[nodiscard]] std::vector<RepairRequest> foldRequests(std::vector<RepairEvent> events);

/// The same content gives the same id.
[[nodiscard]] RequestId requestIdFor(const ValveId &valve, const QString &department,
                                     const QUuid &evidence);

/// "R26-4K7M-Q2TX": the year, seven signs from the id and one to check them, out of 31 that are
/// not mistaken for one another (no 0, I, L, O, U). No counter is needed, so two laptops never give
/// one number to two requests: of 5,000 requests in a year two would share one with a chance of
/// about 1 in 2,200, and then the project that meets both says so.
[[nodiscard]] QString requestNumber(const RequestId &id, int year);
/// A number as people type it (small letters, blanks, missing hyphens), spelt right; empty when it
/// is none: any one wrong sign, and any two exchanged, are noticed.
[[nodiscard]] QString requestNumberFrom(const QString &typed);

} // namespace keyround
