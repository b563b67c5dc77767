// SPDX-License-Identifier: GPL-3.0-or-later
// Everything on paper that a round's day needs, as parts: each alone, or all in one packet. Window,
// preview and console use the same.
#pragma once

#include "app/print/page_run.h"
#include "app/shell/session.h"
#include "core/reports/route_sheet.h"

namespace keyround {

enum class DayPart {
    Route, ///< map with the order, then stops with times, set-up, who is told
    Field, ///< large boxes to fill in
    Load,  ///< what the truck must carry
    Zones, ///< the work zones of all stops
    Calls, ///< who loses water, and whom to call
    Log,   ///< what was done, once something was
};
inline constexpr int dayPartCount = 6;
[[nodiscard]] QString wordsFor(DayPart part);
[[nodiscard]] QString keyFor(DayPart part); ///< "route", "field"
[[nodiscard]] std::optional<DayPart> dayPartFromKey(const QString &key);

/// Set-up and notice of each stop, in words.
[[nodiscard]] StopExtrasById extrasOf(Session &session, const Round &round);

/// The parts in the order given. What has nothing to say (no calls, no log) is left out.
[[nodiscard]] Result<std::vector<PaperPart>> dayPaper(Session &session, const RoundId &round,
                                                      const std::vector<DayPart> &parts);
/// All but the log before the day is done, all with it afterwards.
[[nodiscard]] std::vector<DayPart> packetOf(Session &session, const RoundId &round);
[[nodiscard]] Status writeDayPacket(Session &session, const RoundId &round,
                                    const std::vector<DayPart> &parts, const QString &path);

} // namespace keyround
