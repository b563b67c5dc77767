// SPDX-License-Identifier: GPL-3.0-or-later
// A shut on paper and as a table: what to close in which order, who is without water, what happens
// if a valve does not hold, and how to open again. With room to write the time of each step.
#pragma once

#include "core/inventory/valve.h"
#include "core/mains/shut.h"
#include "core/reports/sheet.h"

namespace keyround {

/// "V-0412 (8 in)", with its address where the list has one.
[[nodiscard]] Sheet shutSheet(const PipeNetwork &network, const ShutPlan &plan,
                              const std::vector<Valve> &valves, const QString &utility,
                              UnitSystem units);

/// "36 services (2 critical), 3 hydrants".
[[nodiscard]] QString loadWords(const Load &load);

} // namespace keyround
