// SPDX-License-Identifier: GPL-3.0-or-later
// The names under a chart's columns, so that none overlaps another: as they are where there is
// room; else over several lines, shortened; else aslant. Only a row of months, or more columns than
// lines of text find room beside each other, leaves some out.
#pragma once

#include <QFontMetricsF>
#include <QStringList>

namespace keyround {

struct AxisNames
{
    QStringList labels; ///< one a name; null: left out
    double turned = 0;  ///< degrees, against the clock where below zero
};

/// `column` is how wide each column is, `tallest` how far a name may reach below the axis, both in
/// pixels of the metrics.
[[nodiscard]] AxisNames namesUnder(const QStringList &names, double column, double tallest,
                                   bool mayLeaveOut, const QFontMetricsF &metrics);

} // namespace keyround
