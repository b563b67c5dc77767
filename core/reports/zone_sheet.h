// SPDX-License-Identifier: GPL-3.0-or-later
// Work zones on paper: one stop's set-up with where each figure is from, and all stops of a round
// in a row each. Offered to a trained person; every sheet says who decides.
#pragma once

#include "core/dayplan/load_list.h"
#include "core/dayplan/round.h"
#include "core/reports/sheet.h"
#include "core/workzone/site_answers.h"

namespace keyround {

/// What the set-up is worked out from, one line: "35 mph, urban, low speed, 2 lanes of 12 ft ...".
[[nodiscard]] QString siteWords(const SiteFacts &facts, UnitSystem units);

[[nodiscard]] Sheet zoneSheet(const Valve &valve, const QString &street, const SiteFacts &facts,
                              const SetUp &setUp, const QString &utility, UnitSystem units);

struct RoundZone
{
    LoadStop stop;
    QString street;
    QString notWorkedOut; ///< why not, where it is not
};
[[nodiscard]] Sheet roundZoneSheet(const Round &round, const std::vector<RoundZone> &zones,
                                   const QString &utility, UnitSystem units);

} // namespace keyround
