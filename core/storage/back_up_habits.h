// SPDX-License-Identifier: GPL-3.0-or-later
// How long the dated back-ups beside a project are kept. A back-up goes only when it is both
// beyond the count and older than the age; the newest one never goes.
#pragma once

namespace keyround {

struct BackUpHabits
{
    int keepCount = 30; ///< this many are kept whatever their age
    int keepDays = 90;  ///< younger ones are kept whatever their number
    friend bool operator==(const BackUpHabits &, const BackUpHabits &) = default;
};

} // namespace keyround
