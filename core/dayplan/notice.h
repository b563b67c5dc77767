// SPDX-License-Identifier: GPL-3.0-or-later
// Notice before water goes off: that it was given, and how long before the work it must be. How
// long is the utility's and its regulator's to say (TRADE figures run from 24 h to 5 calendar days
// for a door hanger and 10 for mail); the default of two working days is common practice, no
// source.
#pragma once

#include "core/common/clock.h"
#include "core/common/ids.h"

#include <QDateTime>
#include <QList>

#include <optional>
#include <vector>

namespace keyround {

struct NoticeLead
{
    int workingDays = 2; ///< whole days between the notice and the work
    double hours = 0;    ///< on top, of the clock
    int validDays = 30;  ///< after so many days a notice no longer counts
    friend bool operator==(const NoticeLead &, const NoticeLead &) = default;
};

/// Written down once and never changed.
struct Notice
{
    NoticeId id;
    ValveId valve; ///< whose shutting takes the water
    Moment given;
    QDate forDay;     ///< the day of the work that was announced; null: none was named
    int services = 0; ///< how many were told
    QString how;      ///< "door hangers", "letters": the utility's own words
    int affected = 0; ///< how many will be without water; 0: not said
    QString wording;  ///< the template that was used; may be empty
    /// A shut of several valves is told of under the first of them: what for, in words.
    QString what;
    QString person;
    QString device;
    HybridTime stamp;
    friend bool operator==(const Notice &, const Notice &) = default;
};

/// The latest moment at which notice for work at `work` can be given: so many working days, and
/// then hours, before it. Working days are Monday to Friday without the holidays.
[[nodiscard]] QDateTime latestNotice(const QDateTime &work, const NoticeLead &lead,
                                     const QList<QDate> &holidays);

/// The notice that holds for work on this valve at `work`: given early enough, not too old, and
/// for that day where it names one. The latest such; null when none does. Compared by the clock on
/// the wall: `work` is the yard's own time.
[[nodiscard]] const Notice *noticeFor(const std::vector<Notice> &notices, const ValveId &valve,
                                      const QDateTime &work, const NoticeLead &lead,
                                      const QList<QDate> &holidays);

/// Why a valve waits for its notice, and what would let it in: "Notice needed: 14 services lose
/// water. Give it by Tue 2026-05-05 07:00 for this day." or "... it is too late for this day".
[[nodiscard]] QString noticeNeededWords(int services, const QDateTime &latest,
                                        const QDateTime &now);

} // namespace keyround
