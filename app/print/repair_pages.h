// SPDX-License-Identifier: GPL-3.0-or-later
// Repair requests on paper: one sheet each, upright, with the map around the valve, its photo, what
// was seen, the life so far, and boxes for the answer.
#pragma once

#include "app/shell/session.h"
#include "core/repairs/backlog.h"

namespace keyround {

[[nodiscard]] Status writeRepairSheets(Session &session, const std::vector<BacklogRow> &rows,
                                       const QString &path);

} // namespace keyround
