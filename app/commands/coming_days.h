// SPDX-License-Identifier: GPL-3.0-or-later
// Drawing up the working days to come for all crews, and keeping what came of it as one step.
#pragma once

#include "app/commands/round_commands.h"
#include "core/dayplan/coming_days.h"

namespace keyround {

struct DaysWanted
{
    QDate first;
    int days = 5;      ///< working days of each crew; holidays are none
    QStringList crews; ///< empty: all of the project's
};

/// Draws up the days from the due list and stores nothing. Rounds that are planned on these days
/// give way, but for what is fixed by hand; those that are under way or told keep their stops;
/// finished ones are left alone. Valves that wait on rounds of other days stay there.
[[nodiscard]] Result<ComingDays> drawUpComingDays(Session &session, const DaysWanted &wanted,
                                                  const Progress &progress = {});

/// What storing the days changes: rounds made (with ids), changed, and planned ones that nothing
/// is left for, which go. Empty when all is as it was.
[[nodiscard]] std::vector<ChangeRounds::Change> changesFor(Session &session,
                                                           const ComingDays &days);
/// Stores the days as one step that can be undone.
[[nodiscard]] Status keepComingDays(Session &session, const ComingDays &days);

} // namespace keyround
