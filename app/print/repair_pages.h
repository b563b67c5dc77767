// SPDX-License-Identifier: GPL-3.0-or-later
// Repair requests on paper: one sheet each, upright, with the map around the valve, its photo, what
// was seen, the life so far, and boxes for the answer.
#pragma once

#include "app/print/page_run.h"
#include "app/shell/session.h"
#include "core/repairs/backlog.h"

namespace keyround {

/// For the preview, and for a packet with other paper. `rows` need not outlive the call.
[[nodiscard]] Result<std::vector<PaperPart>> repairPaper(Session &session,
                                                         const std::vector<BacklogRow> &rows);
[[nodiscard]] PaperOptions repairPaperOptions();

[[nodiscard]] Status writeRepairSheets(Session &session, const std::vector<BacklogRow> &rows,
                                       const QString &path);

} // namespace keyround
