// SPDX-License-Identifier: GPL-3.0-or-later
// What a valve's visits say of its holding water back tonight, in the words that shut tracing asks
// in: the bridge from condition to mains.
#pragma once

#include "core/condition/history.h"
#include "core/fieldlog/shut_log.h"
#include "core/mains/shut.h"

namespace keyround {

/// What shuts that are going on say of valves: it goes before what visits say.
struct ShutMarks
{
    QHash<ValveId, QString> closed;     ///< closed for a shut and not reopened; its words
    QHash<ValveId, QString> didNotHold; ///< tried in a shut, and did not hold; why
};
[[nodiscard]] ShutMarks shutMarks(const std::vector<ShutLog> &logs);

/// A full cycle older than this makes a valve doubtful (common practice, no source).
inline constexpr int doubtfulAfterYears = 10;

/// - Serviceable with a full cycle in the last years: works; with a defect, or a cycle long ago, or
///   none: doubtful.
/// - Turns but does not shut, does not turn, cannot be reached: as it is.
/// - Never visited: unknown.
/// Closed: as the last visit or a shut left it, else by its normal position.
[[nodiscard]] ValveState holdingOf(const Valve &valve, const ValveHistory &history,
                                   const ShutMarks &marks, const QDate &today);

} // namespace keyround
