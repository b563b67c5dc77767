// SPDX-License-Identifier: GPL-3.0-or-later
// How sheets and lists speak of a day's times. One wording for all of them.
#pragma once

#include "core/dayplan/day_clock.h"
#include "core/dayplan/plan.h"

namespace keyround {

/// "1 stop", "12 stops".
[[nodiscard]] inline QString stopsText(std::size_t count)
{
    return QStringLiteral("%1 %2").arg(count).arg(count == 1 ? QStringLiteral("stop")
                                                             : QStringLiteral("stops"));
}

/// A wait of less than half a minute does not show on a clock of minutes.
[[nodiscard]] inline bool isWaitShown(const PlannedStop &stop)
{
    return stop.waitSeconds >= 30.0 && stop.begin.isValid();
}

/// "Break at 11:45, 30 min"; says when it is late.
[[nodiscard]] inline QString breakWords(const PlannedBreak &pause)
{
    const QString words = QStringLiteral("Break at %1, %2")
                              .arg(clockText(pause.from), durationText({pause.minutes * 60.0}));
    return pause.isLate ? words + QStringLiteral(", late") : words;
}

} // namespace keyround
