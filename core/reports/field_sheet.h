// SPDX-License-Identifier: GPL-3.0-or-later
// Sheets to fill in by pen at the valves, for a day without the laptop: for each stop what is known
// of it, and large empty boxes in the order in which they are typed in afterwards (field_boxes.h).
#pragma once

#include "core/reports/field_boxes.h"
#include "core/reports/route_sheet.h"

namespace keyround {

struct FieldStop
{
    int number = 0;    ///< in the round
    QString valve;     ///< its number
    QString when;      ///< "07:20"
    QStringList known; ///< where, what, baseline, last visit, beware: a line each
};

struct FieldSheet
{
    QString title;
    QString day; ///< "2026-03-16, Crew 1": on every page, so that a lost one finds home
    std::vector<FieldStop> stops;
    QStringList cautions;
};

[[nodiscard]] FieldSheet fieldSheet(const Round &day, const DayPlan &plan,
                                    const std::vector<Valve> &valves, const Histories &histories,
                                    UnitSystem units, const StopExtrasById &extras = {});

} // namespace keyround
