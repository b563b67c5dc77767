// SPDX-License-Identifier: GPL-3.0-or-later
// Repair requests as files for whoever does the work: sheets (PDF), tables (CSV, XLSX), JSON.
#pragma once

#include "app/shell/session.h"
#include "core/repairs/backlog.h"

namespace keyround {

/// By the ending of the path: .pdf one sheet a request with map, ties, photo and boxes for the
/// answer; .xlsx and .csv one row a request with columns for the answer; .json the whole life.
[[nodiscard]] Status writeRepairs(Session &session, const std::vector<BacklogRow> &rows,
                                  const QString &path);

/// Writes the file and then records that the requests went to `to`. Requests that are closed are
/// refused. `how` is "PDF, repairs.pdf".
[[nodiscard]] Status sendRepairs(Session &session, const std::vector<RequestId> &requests,
                                 const QString &to, const QString &path);

} // namespace keyround
