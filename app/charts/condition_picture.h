// SPDX-License-Identifier: GPL-3.0-or-later
// Condition over time as stacked bands by period, with each condition's own colour, pattern and
// mark.
#pragma once

#include "app/charts/chart_picture.h"
#include "core/condition/series.h"

#include <QList>

namespace keyround {

/// All conditions from the foot of the stack to its top: never visited lies apart, above.
[[nodiscard]] QList<Condition> conditionBands();
[[nodiscard]] Pattern patternOf(Condition condition);
/// A condition's look for boxes, its word as the name.
[[nodiscard]] ChartSeries conditionSeriesLook(Condition condition);

/// "Year", "Quarter" or "Month", as periods are named.
[[nodiscard]] QString periodAxisWords(const QString &period);

/// One item a period. The figures are conditionTable()'s.
[[nodiscard]] ChartPicture
conditionPicture(const std::vector<PeriodCounts> &series,
                 const QList<Condition> &bandsFromFoot = conditionBands());

} // namespace keyround
