// SPDX-License-Identifier: GPL-3.0-or-later
// How far each stop of a round has come, by word and by shape.
#pragma once

#include "app/dialogs/big_button.h"
#include "app/shell/session.h"

#include <vector>

namespace keyround {

enum class StopState { Waiting, Skipped, HalfTyped, Done };
[[nodiscard]] QString wordFor(StopState state);
/// Ring (waiting), double chevron (skipped), half-filled disc (half typed), disc with a tick
/// (done).
[[nodiscard]] BigButton::Mark markFor(StopState state);

struct StopEntry
{
    ValveId valve;
    int place = 0; ///< from 1; 0 for a valve that is no stop of the round
    StopState state = StopState::Waiting;
};
/// The round's stops in their order, then the valves recorded or begun beside it.
[[nodiscard]] std::vector<StopEntry> stopEntries(Session &session, const Round &round);
/// The stop after `valve` that is waiting, then any waiting, then skipped ones; null when none is.
[[nodiscard]] ValveId nextStop(Session &session, const Round &round, const ValveId &after);
/// The valve's latest standing visit on this round; null when it has none.
[[nodiscard]] const ReadVisit *visitOnRound(Session &session, const RoundId &round,
                                            const ValveId &valve);

} // namespace keyround
