// SPDX-License-Identifier: GPL-3.0-or-later
// One valve's whole life on paper: what is known of it, its counts as a chart, every visit. One
// page where the visits find room on it.
#pragma once

#include "app/print/page_run.h"
#include "app/shell/session.h"

namespace keyround {

[[nodiscard]] Result<std::vector<PaperPart>> lifePaper(Session &session, const ValveId &valve);
[[nodiscard]] Status writeLifePage(Session &session, const ValveId &valve, const QString &path);
/// The same visits as a table.
[[nodiscard]] Status writeLifeVisits(Session &session, const ValveId &valve, const QString &path);

} // namespace keyround
