// SPDX-License-Identifier: GPL-3.0-or-later
// The plan in plain sentences, and as the map draws it while it is worked on.
#pragma once

#include "app/map/map_shut.h"
#include "app/shut/shut_desk.h"

namespace keyround {

/// "Without water: 36 services (2 critical), 3 hydrants; beyond the shut 13 services more."
/// with the critical services by name and the hydrants by number, a line each.
[[nodiscard]] QStringList whoWords(Session &session, const ShutPlan &plan);

/// What the shut looks like now: valves that were closed for it are ticked.
[[nodiscard]] MapShut pictureOf(Session &session, const ShutDesk &desk);

/// The line that every place shows while a shut is open or a valve closed for one: empty when
/// there is none. `isDanger` when valves are closed.
struct OpenShutsLine
{
    QString words;
    ShutId first;
    bool isDanger = false;
};
[[nodiscard]] OpenShutsLine openShutsLine(Session &session);

/// Goes on, or was ended while valves stayed closed.
[[nodiscard]] bool needsSomebody(const ShutLog &log);

} // namespace keyround
