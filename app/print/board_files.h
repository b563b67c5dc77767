// SPDX-License-Identifier: GPL-3.0-or-later
// The board report on paper, with its charts. Preview, window and console use the same functions.
#pragma once

#include "app/print/page_run.h"
#include "app/shell/session.h"
#include "core/condition/series.h"

namespace keyround {

/// Over a span, for the valves of a filter; by periods of this length. A span that ends in the
/// future ends today.
[[nodiscard]] Result<std::vector<PaperPart>> boardPaper(Session &session, const ValveFilter &filter,
                                                        const Span &span, PeriodLength length);
[[nodiscard]] Status writeBoardReport(Session &session, const ValveFilter &filter, const Span &span,
                                      PeriodLength length, const QString &path);

} // namespace keyround
