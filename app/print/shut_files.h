// SPDX-License-Identifier: GPL-3.0-or-later
// A shut on paper (PDF) and as CSV. Window and console use the same functions.
#pragma once

#include "app/map/map_shut.h"
#include "app/shell/session.h"

namespace keyround {

/// With a map of the shut on the first page.
[[nodiscard]] Status writeShutSheet(Session &session, const ShutPlan &plan, const QString &path);
[[nodiscard]] Status writeShutCsv(Session &session, const ShutPlan &plan, const QString &path);

/// The steps with headings, tab-separated lines: for the clipboard.
[[nodiscard]] QString shutText(Session &session, const ShutPlan &plan);

/// The plan as the map draws it: numbered in the order of closing.
[[nodiscard]] MapShut mapShutOf(const PipeNetwork &network, const ShutPlan &plan);

} // namespace keyround
