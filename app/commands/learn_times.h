// SPDX-License-Identifier: GPL-3.0-or-later
// What the finished rounds say of times, and taking it over into the settings.
#pragma once

#include "app/commands/settings_commands.h"

#include "core/common/progress.h"

namespace keyround {

/// Reads the finished rounds against the streets' own speeds. Stores nothing; what a person set
/// stays set. Cancelled when progress says so.
[[nodiscard]] Result<LearnedTimes> timesFromRounds(Session &session, const Progress &progress = {});

/// Plans with these times from now on; a step that can be undone.
[[nodiscard]] Status keepLearnedTimes(Session &session, LearnedTimes times);

/// Both in one.
[[nodiscard]] Status learnTimesFromRounds(Session &session, const Progress &progress = {});

} // namespace keyround
