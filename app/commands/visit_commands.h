// SPDX-License-Identifier: GPL-3.0-or-later
// What the Truck records. None of it can be undone: a visit is written once, and a correction is
// a new visit that names the one it supersedes.
#pragma once

#include "app/shell/session.h"
#include "core/dayplan/outcome.h"

#include <QJsonObject>

namespace keyround {

/// Completes the visit (id, stamp, recorder, device), stores it and drops its draft, all or
/// nothing; then tells the notifier. The round, when there is one, becomes "under way".
[[nodiscard]] Result<VisitId> recordVisit(Session &session, Visit visit);

/// Stores the half-typed stop. On success it is on disk.
[[nodiscard]] Status saveStopDraft(Session &session, const RoundId &round, const ValveId &valve,
                                   const QJsonObject &content);
[[nodiscard]] Status dropStopDraft(Session &session, const RoundId &round, const ValveId &valve);

/// What a round came to, as the session's histories tell it.
[[nodiscard]] RoundOutcome outcomeOf(Session &session, const Round &round);

/// Marks the round finished and sets a dated back-up beside the project; returns its path.
/// Half-typed stops of the round refuse it, with their numbers: they are finished or dropped first.
[[nodiscard]] Result<QString> finishRound(Session &session, const RoundId &round);

} // namespace keyround
