// SPDX-License-Identifier: GPL-3.0-or-later
// What customers were told, when, by whom and how many: the record that is kept of notices. It
// holds no names and no phones.
#pragma once

#include "core/dayplan/notice.h"
#include "core/inventory/valve.h"
#include "core/reports/table.h"

namespace keyround {

/// By the time at which they were given, the latest first.
[[nodiscard]] ReportTable noticeLog(const std::vector<Notice> &notices,
                                    const std::vector<Valve> &valves);

} // namespace keyround
