// SPDX-License-Identifier: GPL-3.0-or-later
// Busy hours: the times of day in which no work is done in a street, by the street's name or its
// class and by weekday. The utility's own rules, as its road authority and its permits want them.
// Times are the yard's own clock.
#pragma once

#include "core/streets/street.h"

#include <QDate>
#include <QList>
#include <QTime>

#include <vector>

namespace keyround {

struct BusyHours
{
    QString street;             ///< its name, in any case; empty: the classes decide
    QList<StreetClass> classes; ///< heeded where no name is given; empty too: every street
    QList<int> weekdays;        ///< 1 Monday to 7 Sunday; empty: every day
    QTime from;
    QTime to;    ///< after `from`; 00:00 and 23:59 both stand for midnight
    QString why; ///< "school", "commuters"; may be empty
    friend bool operator==(const BusyHours &, const BusyHours &) = default;
};

/// A stretch of the day in which work may be done, from its first second to its last.
struct WorkSpan
{
    QTime from;
    QTime to;
    friend bool operator==(const WorkSpan &, const WorkSpan &) = default;
};

/// When work may be done in a street on a day.
struct WorkHours
{
    std::vector<WorkSpan> open;      ///< in order, apart from each other; empty: not on this day
    std::vector<BusyHours> closedBy; ///< the rules that closed the rest; empty: the whole day
};

/// A rule of the street's own name goes before all rules by class: where one matches the name and
/// the weekday, rules by class do not count. Case and spaces of names do not count either. A rule
/// without times, or whose `to` is not after its `from`, closes nothing and is not named.
[[nodiscard]] WorkHours workHours(const std::vector<BusyHours> &rules, const QString &street,
                                  StreetClass kind, const QDate &date);

/// "07:00-09:00 on Main Street, Monday to Friday (school)".
[[nodiscard]] QString wordsFor(const BusyHours &rule);

} // namespace keyround
