// SPDX-License-Identifier: GPL-3.0-or-later
// What `plan` was asked for, from its options.
#pragma once

#include "app/batch/console.h"
#include "core/dayplan/round.h"

namespace keyround::batch {

/// The day as asked for; with the id, and what was decided by hand, of the crew's planned round of
/// that day when there is one.
[[nodiscard]] Outcome<Round> dayFrom(const QCommandLineParser &parser, Session &session);

/// The valves whose numbers a file has, one a line; none for an empty path.
[[nodiscard]] Outcome<std::vector<ValveId>> valvesFrom(const QString &path, Session &session);

} // namespace keyround::batch
