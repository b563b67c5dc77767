// SPDX-License-Identifier: GPL-3.0-or-later
// Is the laptop's clock to be believed? A flat battery sets it back years; a wrong year typed once
// stays in the records. A doubtful clock never keeps anyone from recording (the hybrid stamp keeps
// the order), but it is said before, and noted beside what is recorded.
//
// The limits are common practice, no source: two minutes for clocks that are set by hand or by a
// network now and then; two years for a project that lay unused.
#pragma once

#include "core/common/clock.h"

#include <QString>

namespace keyround {

enum class ClockFault {
    None,
    BehindLastRecord, ///< earlier than something that is on record
    BeforeProgram,    ///< earlier than this program existed
    FarAhead,         ///< years after the last record
};

struct ClockCheck
{
    ClockFault fault = ClockFault::None;
    Moment now;
    std::int64_t secondsAfterLast = 0; ///< negative: behind; 0 where nothing is on record
};

inline constexpr std::int64_t clockToleranceSeconds = 120;
inline constexpr int yearsUnusedAtMost = 2;
/// Nobody can run this program earlier.
inline constexpr int programYear = 2025;

/// `last`: the latest stamp on record, 0 for none.
[[nodiscard]] ClockCheck checkClock(const Moment &now, HybridTime last);

/// What to say before recording, and what to do; empty when there is no fault.
[[nodiscard]] QString wordsFor(const ClockCheck &check);

/// The stable name in records, and back (None for an unknown one).
[[nodiscard]] QString keyFor(ClockFault fault);
[[nodiscard]] ClockFault clockFaultFromKey(const QString &key);

} // namespace keyround
