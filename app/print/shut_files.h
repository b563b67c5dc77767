// SPDX-License-Identifier: GPL-3.0-or-later
// A shut on paper (PDF) and as CSV. Window and console use the same functions.
#pragma once

#include "app/shell/session.h"

namespace keyround {

[[nodiscard]] Status writeShutSheet(Session &session, const ShutPlan &plan, const QString &path);
[[nodiscard]] Status writeShutCsv(Session &session, const ShutPlan &plan, const QString &path);

} // namespace keyround
