// SPDX-License-Identifier: GPL-3.0-or-later
// A stop while it is being recorded: what will become the visit, and where the person was when
// they last touched it. A plain value with a JSON form, so that it can be saved at every change
// and come back after a power cut as it stood: half-typed and refused texts too.
//
// Counts are whole quarter-turns. Texts that a person types stay texts until the visit is made.
#pragma once

#include "core/common/result.h"
#include "core/fieldlog/visit.h"
#include "core/inventory/valve.h"

#include <QJsonObject>

#include <optional>
#include <vector>

namespace keyround {

enum class StopStep { GetThere, SetUp, Found, Turn, Judge, Problems, Leave, Finish };
inline constexpr int stopStepCount = 8;
[[nodiscard]] QString wordFor(StopStep step);

/// A pass under count. The taps ('t' a whole turn, 'q' a quarter) are kept so that taking one
/// back takes back what was tapped last; a count that was typed has none.
struct CountedPass
{
    PassDirection direction = PassDirection::Closing;
    QuarterTurns turns;
    QString taps;
    std::optional<Torque> torque{}; ///< read and taken over
    Moment begun{};                 ///< of the first tap; null when it was typed
    Moment lastTap{};
    friend bool operator==(const CountedPass &, const CountedPass &) = default;
};

/// Set when the form corrects a visit that is recorded already.
struct Correction
{
    VisitId supersedes;
    QString who;
    QString why;
    Moment finished; ///< of the visit that is corrected: when the work was done does not change
    QString crew;
    friend bool operator==(const Correction &, const Correction &) = default;
};

struct StopForm
{
    StopStep step = StopStep::GetThere;
    QString focus;                      ///< object name of the field that had the keyboard
    bool onScreen = true;               ///< false once the person went to another stop
    Moment arrived;                     ///< null until they are at the valve
    std::optional<SearchRecord> search; ///< once the lid had to be looked for
    bool isSetUp = false;               ///< the work zone stands
    QString setUpWords;                 ///< which, as the crew saw it when they ticked it
    std::optional<LidCondition> lid;
    std::optional<BoxCondition> box;
    std::optional<LidFix> lidFix;
    std::optional<Position> found;
    QString foundTurns;              ///< as typed: turns from closed, when part open
    std::vector<CountedPass> passes; ///< the last one is being counted
    bool typing = false;             ///< the number line is open
    QString typed;                   ///< what stands in it
    bool typingTorque = false;       ///< the torque line is open
    QString typedTorque;
    QList<Problem> problems;
    QString otherProblem;
    QStringList ownProblems; ///< the utility's own, in its words
    /// The count to put in the list's place when the stop is recorded, as offered and accepted.
    std::optional<QuarterTurns> newListedTurns;
    std::optional<Position> left;
    QString leftTurns;
    QString remarks;
    std::optional<Correction> correction;

    friend bool operator==(const StopForm &, const StopForm &) = default;
};

[[nodiscard]] QJsonObject toJson(const StopForm &form);
/// Damaged when a field is not what it should be; the message names the field.
[[nodiscard]] Result<StopForm> stopFormFromJson(const QJsonObject &json);

/// The form of a recorded visit, to correct it.
[[nodiscard]] StopForm formToCorrect(const Visit &visit, const QString &who);

// Counting. A first tap begins a closing pass when there is none.
/// One turn or one quarter; `at` keeps the time that the pass takes.
void countTurns(StopForm &form, QuarterTurns tapped, const Moment &at = {});
void takeOneBack(StopForm &form);
void setCount(StopForm &form, QuarterTurns counted); ///< a number that was typed
/// Ends the pass under count and begins one in this direction. A pass without turns is turned
/// round instead.
void beginPass(StopForm &form, PassDirection direction);
void removePass(StopForm &form, std::size_t index);
[[nodiscard]] PassDirection directionUnderCount(const StopForm &form);
[[nodiscard]] QuarterTurns countUnderWay(const StopForm &form);
/// Passes that have turns.
[[nodiscard]] std::vector<Pass> countedPasses(const StopForm &form);

/// From the first tap of the pass under count to the last; nothing where it was typed.
[[nodiscard]] std::optional<Seconds> timeOf(const CountedPass &pass);

/// Says that a problem was found, or takes it back.
void setProblem(StopForm &form, Problem problem, bool on);
/// The lid's or the box's condition, and the problem that goes with it: a broken or missing lid, a
/// full or shifted box. Saying the same again takes it back.
void sayLid(StopForm &form, LidCondition lid);
void sayBox(StopForm &form, BoxCondition box);
/// What the search came to; "not found" and "paved over" are problems too, and leave the valve not
/// seen, so that nothing of it is asked any more.
void endSearch(StopForm &form, SearchOutcome outcome);

/// What still keeps the stop from being recorded, and the step that answers it.
struct Missing
{
    StopStep step = StopStep::GetThere;
    QString what; ///< "Say how the valve was left."
};
[[nodiscard]] std::optional<Missing> missingIn(const StopForm &form);

/// Found or left as the form has it; turns only when they can be read.
[[nodiscard]] Standing standingFrom(const std::optional<Position> &position, const QString &turns);

/// True when the valve was left in another than its normal position.
[[nodiscard]] bool leavesOtherThanNormal(const StopForm &form, const Valve &valve);

/// The visit, without id, stamp, recorder and device: the command that stores it adds those.
[[nodiscard]] Result<Visit> visitFrom(const StopForm &form, const ValveId &valve,
                                      const RoundId &round, const QString &crew, const Moment &now);

} // namespace keyround
