// SPDX-License-Identifier: GPL-3.0-or-later
// Where a valve lies from where the laptop is. Only from a fix of the last seconds: without one
// nothing is said of distance or direction, and the reason is.
#pragma once

#include "app/shell/session.h"
#include "core/fieldlog/stop_details.h"

#include <optional>

namespace keyround {

struct Here
{
    QString words;         ///< "62 ft to the north-east (satellite fix, 2 s old)"; may be empty
    bool isKnown = false;  ///< there is a fix, and the valve has a place
    bool isWithin = false; ///< within the utility's arrival distance
};
[[nodiscard]] Here hereOf(Session &session, const Valve &valve);

/// The stop of these that lies nearest, where it is within the arrival distance; null otherwise.
[[nodiscard]] ValveId arrivedAt(Session &session, const std::vector<ValveId> &stops);

/// The current fix as a record of the lid's place; empty without one, or where it was not measured.
[[nodiscard]] std::optional<LidFix> lidFixNow(Session &session);
/// "40.12345, -88.98765, about 15 ft; 40 ft from the map's place".
[[nodiscard]] QString lidFixWords(Session &session, const Valve &valve, const LidFix &fix);
/// Proposes the lid's place to the office where it says more than the map does. True when it was
/// proposed; the message line says so, and says why where it fails.
bool proposeLidPlace(Session &session, const Valve &valve, const LidFix &fix);

} // namespace keyround
