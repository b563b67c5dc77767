// SPDX-License-Identifier: GPL-3.0-or-later
// A valve that stands in another than its normal position: how, who left it so, and since when. One
// wording for every screen that warns of it.
#pragma once

#include "core/condition/history.h"
#include "core/inventory/valve.h"

#include <QString>

namespace keyround {

/// The visit that says how it was left last; null when none saw it.
[[nodiscard]] const ReadVisit *lastSeenLeft(const ValveHistory &history);

/// "Left closed by M. Rowe on 2026-05-04 at 14:10; normally open."; empty when it stands as it
/// should.
[[nodiscard]] QString leftOtherWords(const Valve &valve, const ValveHistory &history);

/// The same for a list of many: "closed, M. Rowe, 2026-05-04 14:10".
[[nodiscard]] QString leftOtherShort(const ValveHistory &history);

} // namespace keyround
