// SPDX-License-Identifier: GPL-3.0-or-later
// Work zones and the load list on paper (PDF). Window and console use the same functions.
#pragma once

#include "app/map/zone_painter.h"
#include "app/print/sheet_printer.h"
#include "app/shell/session.h"
#include "core/reports/sheet.h"

namespace keyround {

/// The drawing of a valve's set-up on its own street.
[[nodiscard]] ZoneDrawing zoneDrawingOf(Session &session, const Valve &valve, const SetUp &setUp);

[[nodiscard]] Status writeZoneSheet(Session &session, const Valve &valve, const QString &path);
/// All stops in one table, then a page for each that is worked out.
[[nodiscard]] Result<std::vector<SheetPart>> roundZoneParts(Session &session, const RoundId &round);
[[nodiscard]] Status writeRoundZones(Session &session, const RoundId &round, const QString &path);
[[nodiscard]] Result<Sheet> loadSheetOf(Session &session, const RoundId &round);
[[nodiscard]] Status writeLoadSheet(Session &session, const RoundId &round, const QString &path);

} // namespace keyround
