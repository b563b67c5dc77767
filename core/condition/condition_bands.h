// SPDX-License-Identifier: GPL-3.0-or-later
// Is it getting better? Condition by period with the share that is serviceable, and what can be
// said of its certainty. Never visited stands apart: the share is of valves that were looked at.
//
// The share of a period is that of the valves visited in it, each by its last visit there:
// serviceable, with a defect or without (both hold water back). Where every valve of the figure was
// visited in the period nothing is estimated, and the share has no interval; else those visited are
// a sample and the share has Wilson's interval (share.h). That holds for a random sample: crews
// that go where trouble is expected make it lean, and the words say so.
#pragma once

#include "core/condition/series.h"
#include "core/condition/share.h"

namespace keyround {

enum class ShareKind {
    Nothing, ///< no valve was visited in the period
    Sample,  ///< some were: Wilson's interval
    All,     ///< every one was: counted, no interval
};

struct BandPeriod
{
    PeriodCounts counts; ///< of all valves at the end of the period, never visited too
    QDate from;          ///< the first day counted
    int valves = 0;      ///< all of the figure
    int visited = 0;     ///< of them, visited in the period
    int serviceable = 0; ///< of those visited, by the last visit in the period
    ShareKind kind = ShareKind::Nothing;
    std::optional<double> share;      ///< serviceable of visited
    std::optional<Interval> interval; ///< 95 %, for a sample
    /// p-chart: limits for as many valves as were visited; empty where nothing was.
    std::optional<Interval> limits;
    bool standsOut = false; ///< beyond the limits
    /// "serviceable 87 % (84 to 90 %): a sample, 412 of 1,220 valves visited".
    QString words;
};

struct ConditionOverTime
{
    std::vector<BandPeriod> periods;
    PeriodLength length = PeriodLength::Month;
    double centre = 0; ///< the p-chart's: the share over all periods together
    int valves = 0;
    QString sentence; ///< the answer in words: better, worse, or no telling; what stands out
    /// The bands alone, as conditionSeries() gives them.
    [[nodiscard]] std::vector<PeriodCounts> series() const;
};

/// Of these valves (retired ones are left out), over the periods that the span touches.
[[nodiscard]] ConditionOverTime conditionOverTime(const std::vector<Valve> &valves,
                                                  const Histories &histories, const Span &span,
                                                  PeriodLength length);

} // namespace keyround
