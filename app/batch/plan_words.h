// SPDX-License-Identifier: GPL-3.0-or-later
// A drawn-up round as the console says it: JSON, and lines.
#pragma once

#include "app/batch/console.h"
#include "core/dayplan/plan.h"

namespace keyround::batch {

[[nodiscard]] QString clock(const QTime &time); ///< "07:40"
[[nodiscard]] QJsonObject toJson(Session &session, const Round &round, const DayPlan &plan);
[[nodiscard]] QJsonArray toJson(Session &session, const std::vector<LeftOut> &leftOut);
/// One line a stop: number, from-to, valve, address, and what is to be known of it. Breaks stand
/// where they are taken.
[[nodiscard]] QStringList stopLines(Session &session, const DayPlan &plan);
/// "2 h 05 driving; no order can take less than 2 h 03"; the second half where it was worked out.
[[nodiscard]] QString drivingWords(const DayPlan &plan);

} // namespace keyround::batch
