// SPDX-License-Identifier: GPL-3.0-or-later
// The years that a board report can be about, and which one is offered first.
#pragma once

#include "core/condition/series.h"

namespace keyround {

struct BoardTime
{
    QString name; ///< "2025", "2026 so far"
    Span span;
    QString words; ///< "2025-01-01 to 2025-12-31, the whole year."
};

struct BoardTimes
{
    std::vector<BoardTime> years; ///< newest first; at least this year
    std::size_t usual = 0;        ///< the one that is offered first
    QString why;                  ///< why it is that one
};

/// From the year of the first visit until today's. Until the end of March a board asks about the
/// last full year, from April on about this one (common practice, no source): that is offered
/// first, where a visit was made in it or before it.
[[nodiscard]] BoardTimes boardTimes(const QDate &firstVisit, const QDate &today);

} // namespace keyround
