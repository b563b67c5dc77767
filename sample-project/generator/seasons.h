// SPDX-License-Identifier: GPL-3.0-or-later
// When and where the crews went: spring and autumn rounds from autumn 2020 to autumn 2025, by map
// page. Spring 2020 was lost as a whole, in autumn 2022 Crew 2 was short-handed, and autumn 2023
// ended early.
#pragma once

#include "sample-project/generator/random.h"
#include "sample-project/generator/town.h"

#include <chrono>
#include <vector>

namespace keyround::sample {

struct CrewDay
{
    std::chrono::sys_days day;
    int crew = 0;                    ///< 1 to 3
    std::vector<std::size_t> valves; ///< in the order of work
};

/// All working days of the six years, by date and crew.
[[nodiscard]] std::vector<CrewDay> planSeasons(const Town &town, Random &random);
/// A day as a year with its fraction.
[[nodiscard]] double yearsOf(std::chrono::sys_days day);
[[nodiscard]] std::string isoDate(std::chrono::sys_days day);

} // namespace keyround::sample
