// SPDX-License-Identifier: GPL-3.0-or-later
// The board report as PDF, with its charts. Window and console use the same function.
#pragma once

#include "app/shell/session.h"
#include "core/condition/series.h"

namespace keyround {

/// Over a span, for the valves of a filter; by periods of this length. A span that ends in the
/// future ends today.
[[nodiscard]] Status writeBoardReport(Session &session, const ValveFilter &filter, const Span &span,
                                      PeriodLength length, const QString &path);

} // namespace keyround
