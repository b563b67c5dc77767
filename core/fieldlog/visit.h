// SPDX-License-Identifier: GPL-3.0-or-later
// What happened at a valve, once. A visit is written one time and never changed: a correction is
// a new visit that names the one it supersedes, with who, when and why.
#pragma once

#include "core/common/clock.h"
#include "core/common/ids.h"
#include "core/common/units.h"
#include "core/fieldlog/stop_details.h"
#include "core/fieldlog/torque.h"

#include <QList>
#include <QString>
#include <QStringList>

#include <optional>
#include <vector>

namespace keyround {

enum class PassDirection { Closing, Opening };

/// One run of the key in one direction, with its turns.
struct Pass
{
    PassDirection direction = PassDirection::Closing;
    QuarterTurns turns;
    std::optional<Torque> torque{}; ///< the most that the tool showed, where it was read
    friend bool operator==(const Pass &, const Pass &) = default;
};

/// What was wrong, in the trade's plain words (common practice, no source).
enum class Problem {
    // reach
    NotFound,
    PavedOver,
    NoAccess,
    // box
    BoxFull,
    BoxShifted,
    LidMissing,
    // turn
    CouldNotOperate,
    HardToTurn,
    NutBroken,
    StemBent,
    SpunContinuously,
    TurnsOtherWay,
    // shut
    DidNotClose,
    // leak
    PackingLeak,
    // position
    FoundClosed,
    FoundOpen,
    FoundPartOpen,
    Other,
};

enum class ProblemGroup { Reach, Box, Turn, Shut, Leak, Position, Other };

struct ProblemInfo
{
    Problem problem;
    ProblemGroup group;
    const char *key;   ///< stable name in files and storage: "did_not_close"
    const char *words; ///< on screen and paper: "Did not close"
};

[[nodiscard]] const QList<ProblemInfo> &problemList();
[[nodiscard]] const ProblemInfo &infoOf(Problem problem);
/// By key, or by words in any spelling of case and punctuation.
[[nodiscard]] std::optional<Problem> problemFromText(const QString &text);
[[nodiscard]] QString wordFor(ProblemGroup group);

enum class Position { NotSeen, Open, Closed, PartOpen };
[[nodiscard]] QString wordFor(Position position);

/// How a valve stood, found or left.
struct Standing
{
    Position position = Position::NotSeen;
    std::optional<QuarterTurns> turnsFromClosed; ///< when part open
    friend bool operator==(const Standing &, const Standing &) = default;
};

struct Visit
{
    VisitId id;
    ValveId valve;
    RoundId round; ///< null when the visit was not part of a round
    Moment arrived;
    Moment finished;
    QString crew;
    Standing found;
    Standing left;
    std::vector<Pass> passes;
    QList<Problem> problems;
    QString otherProblem;    ///< words for Problem::Other
    QStringList ownProblems; ///< the utility's own, in its words; see truck_habits.h
    QString remarks;

    // Only where somebody said so; see stop_details.h.
    std::optional<SearchRecord> search;
    std::optional<LidCondition> lid;
    std::optional<BoxCondition> box;
    std::optional<LidFix> lidFix;
    std::optional<SetUpStood> setUpStood;

    VisitId supersedes; ///< null unless this corrects another visit
    QString reason;     ///< why it was corrected
    QString recordedBy; ///< the person at the keyboard
    QString device;     ///< the laptop
    HybridTime stamp;

    friend bool operator==(const Visit &, const Visit &) = default;
};

/// True when a problem is noted: the trade's or the utility's own.
[[nodiscard]] bool hasProblems(const Visit &visit);

/// The visits that stand: those that no other supersedes, by arrival and then by stamp. Where two
/// corrections name one parent the later stamp stands and the other is kept in `disputed`.
struct StandingVisits
{
    std::vector<Visit> visits;
    std::vector<Visit> disputed;
};
[[nodiscard]] StandingVisits standingVisits(std::vector<Visit> all);

} // namespace keyround
