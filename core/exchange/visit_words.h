// SPDX-License-Identifier: GPL-3.0-or-later
// What tables of past visits write for when, how found and left, and what was wrong.
#pragma once

#include "core/fieldlog/visit.h"
#include "core/inventory/value_parsers.h"

#include <QTime>

namespace keyround {

/// A date, with or without a time and an offset ("2024-05-01T07:45:00-06:00", "5/1/2024 7:45 AM").
struct WhenText
{
    QDate date;
    std::optional<QTime> time;
    std::optional<int> offsetSeconds;
};
[[nodiscard]] Result<std::optional<WhenText>> parseWhen(const QString &text,
                                                        std::optional<DateOrder> order);
/// "7:45", "07:45:30", "0745", "7:45 PM".
[[nodiscard]] Result<std::optional<QTime>> parseTime(const QString &text);

/// What a column of dates like 3/4/2021 shows of its order. A date that only one order fits
/// (25/12/2021) settles it; dates that contradict each other cannot be read either way.
class DateOrderFinder
{
public:
    void see(const QString &text);
    /// Ambiguous: asks. Contradicted: says so. Empty: no such dates were seen.
    [[nodiscard]] Result<std::optional<DateOrder>> order(const QString &fileName) const;

private:
    QString m_ambiguous;
    QString m_monthFirst;
    QString m_dayFirst;
};

/// "open", "closed", "part open 5", "1/2 open"; a count in it is turns from closed.
[[nodiscard]] Result<std::optional<Standing>> parseStanding(const QString &text);

struct ProblemWords
{
    QList<Problem> problems;
    QString other; ///< words that name no known problem, joined by "; "
};
/// Separated by ; , or |. "none" and "ok" are no problem.
[[nodiscard]] ProblemWords parseProblems(const QString &text);

} // namespace keyround
