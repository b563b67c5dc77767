// SPDX-License-Identifier: GPL-3.0-or-later
// The Office's figures as JSON for scripts: keys in snake_case, shares from 0 to 1, dates ISO 8601,
// valves by number and visits by id; null where there is nothing to say.
#pragma once

#include "core/condition/ageing.h"
#include "core/condition/changes.h"
#include "core/condition/condition_bands.h"
#include "core/condition/fleet_turns.h"
#include "core/schedule/outlook.h"
#include "core/schedule/pace.h"
#include "core/schedule/what_next.h"

#include <QJsonObject>

#include <functional>

namespace keyround::batch {

using NumberOf = std::function<QString(const ValveId &)>;

[[nodiscard]] QJsonObject reviewJson(const Pace &figure);
[[nodiscard]] QJsonObject reviewJson(const ConditionOverTime &figure);
[[nodiscard]] QJsonObject reviewJson(const ConditionChanges &figure, const NumberOf &numberOf);
[[nodiscard]] QJsonObject reviewJson(const Ageing &figure, const NumberOf &numberOf);
[[nodiscard]] QJsonObject reviewJson(const ValveTurns &figure);
[[nodiscard]] QJsonObject reviewJson(const FleetTurns &figure, const NumberOf &numberOf);
[[nodiscard]] QJsonObject reviewJson(const std::vector<RiskEntry> &entries, const Outlook &ahead,
                                     const NumberOf &numberOf);

} // namespace keyround::batch
