// SPDX-License-Identifier: GPL-3.0-or-later
// What the search found, told in times, sums and reasons.
#pragma once

#include "core/routing/crew_days_route.h"

namespace keyround {

/// `routes` holds one for each crew-day.
[[nodiscard]] BacklogPlan tellPlan(const BacklogModel &model, const std::vector<CrewRoute> &routes);

} // namespace keyround
