// SPDX-License-Identifier: GPL-3.0-or-later
// What the Truck records. None of it can be undone: a visit is written once, and a correction is
// a new visit that names the one it supersedes.
#pragma once

#include "app/shell/session.h"
#include "core/dayplan/outcome.h"

#include <QJsonObject>

namespace keyround {

/// Completes the visit (id, stamp, recorder, device), stores it and drops its draft, all or
/// nothing; then tells the notifier. A clock that is not to be believed is noted beside the visit.
/// The round, when there is one, becomes "under way".
[[nodiscard]] Result<VisitId> recordVisit(Session &session, Visit visit);

/// Stores the half-typed stop. On success it is on disk. Where the project cannot be written it is
/// kept in the user's own data folder instead (the error says so), and comes back on opening.
[[nodiscard]] Status saveStopDraft(Session &session, const RoundId &round, const ValveId &valve,
                                   const QJsonObject &content);
[[nodiscard]] Status dropStopDraft(Session &session, const RoundId &round, const ValveId &valve);

/// Marks a stop of a round as skipped for now. The mark stands where a half-typed stop would; it
/// never covers one, and it does not keep the round from being finished.
[[nodiscard]] Status skipStop(Session &session, const RoundId &round, const ValveId &valve);
[[nodiscard]] bool isSkipMark(const QJsonObject &content);
/// Stops of the round that were begun and not recorded.
[[nodiscard]] std::vector<ValveId> halfTypedStops(Session &session, const RoundId &round);

/// What a round came to, as the session's histories tell it.
[[nodiscard]] RoundOutcome outcomeOf(Session &session, const Round &round);

/// Marks the round finished, drops its skip marks and sets a dated back-up beside the project;
/// returns its path. Half-typed stops of the round refuse it, with their numbers: they are
/// recorded or dropped first. Where only the back-up fails the round is finished all the same, and
/// the error says both.
[[nodiscard]] Result<QString> finishRound(Session &session, const RoundId &round);

} // namespace keyround
