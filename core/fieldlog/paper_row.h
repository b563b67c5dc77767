// SPDX-License-Identifier: GPL-3.0-or-later
// A line of the paper route sheet as it is typed in afterwards: short texts in the sheet's own
// columns, read into the visit that the Truck would have made of them. Nothing is guessed: what
// cannot be read stays as typed, and the refusal says which column and what it takes.
//
// Found and left: o open, c closed, p and turns part open ("p 5 1/2"), n not seen. Counts: "27",
// "26.5", pass after pass with + ("20+27"). Problems: the beginning of any of their words, parted
// by commas ("hard, leak"). Times: 0815, 8:15, or nothing.
#pragma once

#include "core/common/result.h"
#include "core/fieldlog/visit.h"

#include <QMap>
#include <QStringList>
#include <QTime>

#include <array>
#include <optional>
#include <vector>

namespace keyround {

/// In the order in which the sheet has them.
enum class PaperColumn { Number, Time, Found, Closing, Opening, Left, Problems, Remarks };
inline constexpr std::size_t paperColumnCount = 8;
[[nodiscard]] QString wordFor(PaperColumn column); ///< its heading

struct PaperRow
{
    std::array<QString, paperColumnCount> texts;

    [[nodiscard]] const QString &text(PaperColumn column) const
    {
        return texts.at(static_cast<std::size_t>(column));
    }
    /// True when nothing is typed but, perhaps, the number that the round put there.
    [[nodiscard]] bool isUntouched() const;
    friend bool operator==(const PaperRow &, const PaperRow &) = default;
};

/// A problem that can be typed: the trade's, or (without one) the utility's own words.
struct ProblemChoice
{
    QString words;
    std::optional<Problem> problem;
};
[[nodiscard]] std::vector<ProblemChoice> problemChoices(const QStringList &own);
/// Those that the beginning may mean, best first: a whole name, the beginning of the words, the
/// beginning of one of the words. All for an empty beginning.
[[nodiscard]] std::vector<ProblemChoice> choicesFor(const QString &beginning,
                                                    const std::vector<ProblemChoice> &choices);

struct TypedProblems
{
    QList<Problem> problems;
    QStringList own;
    friend bool operator==(const TypedProblems &, const TypedProblems &) = default;
};
/// BadInput names what is unknown, or what it may mean.
[[nodiscard]] Result<TypedProblems> problemsTyped(const QString &text,
                                                  const std::vector<ProblemChoice> &choices);
/// The same text with each problem in full: "Hard to turn, Stem bent".
[[nodiscard]] QString problemsInFull(const QString &text,
                                     const std::vector<ProblemChoice> &choices);

/// Empty for a blank text.
[[nodiscard]] Result<std::optional<Standing>> standingTyped(const QString &text);
[[nodiscard]] Result<std::vector<QuarterTurns>> countsTyped(const QString &text);
[[nodiscard]] Result<std::optional<QTime>> arrivalTyped(const QString &text);

/// What holds for the whole sheet.
struct PaperSheet
{
    QDate date;
    int offsetSeconds = 0; ///< of the time zone, east positive
    QString crew;
    RoundId round;
    QTime firstTime{8, 0}; ///< of a first row without a time
    std::vector<ProblemChoice> choices;
};

struct PaperReading
{
    Visit visit; ///< without id, valve, stamp and recorder
    QMap<PaperColumn, QString> refusals;
    bool timeWritten = false;
    [[nodiscard]] bool isSound() const { return refusals.isEmpty(); }
};
/// Reads a row; the number is only asked to be there. A row without a time is a minute after the
/// one before it (`before`, null for the first), and its remarks say that the time was not written.
[[nodiscard]] PaperReading readPaperRow(const PaperRow &row, const PaperSheet &sheet,
                                        const Moment &before);

} // namespace keyround
