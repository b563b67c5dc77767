// SPDX-License-Identifier: GPL-3.0-or-later
// What a department answers to the requests that it was sent, by their numbers: planned first (what
// would be written, what cannot be and why), then written in one transaction.
#pragma once

#include "core/repairs/repair_book.h"

#include <QSet>

namespace keyround {

struct RepairAnswer
{
    qint64 row = 0;                 ///< of the file; from 1
    QString number;                 ///< as it stands there
    std::optional<RepairStep> step; ///< Scheduled, Done, Withdrawn, Noted; empty: not answered
    QDate on;
    QString by;
    QString words;
    bool isReplaced = false;
    // Of the new valve, as far as they were given
    std::optional<int> installYear;
    std::optional<QuarterTurns> turns;
    NominalSize size;
    std::optional<ValveType> type;
    QString fault; ///< something in the row could not be understood; it is not taken
};

/// What a department's word for the state of a request means: "scheduled", "planned", "booked";
/// "done", "completed", "repaired", "replaced" (done, and the valve is a new one); "declined",
/// "not to be done", "withdrawn"; "note". Empty for any other.
[[nodiscard]] std::optional<RepairStep> answerStepFrom(const QString &text);
[[nodiscard]] bool saysReplaced(const QString &text);

enum class AnswerFate {
    Taken,
    Known, ///< the request says so already: reading a file twice adds nothing
    Blank, ///< not answered
    Refused
};

struct PlannedAnswer
{
    RepairAnswer answer;
    AnswerFate fate = AnswerFate::Refused;
    RequestId request; ///< null when there is none of this number
    QString words;     ///< "sent -> done on 2026-05-04", or why it is refused
};

struct AnswerPlan
{
    std::vector<PlannedAnswer> rows; ///< in the file's order
    QString source;                  ///< the file's name, or what is typed
    bool isTyped = false;            ///< by a person on the screen, not read from a file
    int taken = 0;
    int known = 0;
    int blank = 0;
    int refused = 0;
};
/// "12 taken, 3 known already, 4 not answered, 1 refused"
[[nodiscard]] QString wordsFor(const AnswerPlan &plan);

[[nodiscard]] AnswerPlan planAnswers(const RepairBook &book, std::vector<RepairAnswer> answers,
                                     const QString &source, const QDate &today);

/// The row that an answer becomes; `how` names where it came from.
[[nodiscard]] RepairEvent eventFor(const PlannedAnswer &planned, const QString &how);

/// What stands in the ground after the answer's replacing: the year and the turns of the new valve
/// (a count that was not given is not known: the old one's says nothing), size and type where they
/// were given.
[[nodiscard]] Valve valveAfter(Valve valve, const RepairAnswer &answer);

} // namespace keyround
