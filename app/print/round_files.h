// SPDX-License-Identifier: GPL-3.0-or-later
// A round on paper and in files: route sheet (PDF), map (PNG), route (GPX 1.1), day log (CSV), and
// a plain text to be read over the radio.
// Window and console use the same functions. Each file is written whole or not at all.
#pragma once

#include "app/shell/session.h"
#include "core/dayplan/plan.h"

namespace keyround {

[[nodiscard]] Status writeRouteSheet(Session &session, const RoundId &round, const QString &path);
[[nodiscard]] Status writeRouteGpx(Session &session, const RoundId &round, const QString &path);
[[nodiscard]] Status writeRouteMap(Session &session, const RoundId &round, const QString &path);
[[nodiscard]] Status writeRadioList(Session &session, const RoundId &round, const QString &path);
[[nodiscard]] Status writeDayLog(Session &session, const RoundId &round, const QString &path);

} // namespace keyround
