// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: what is known of work zones as JSON, and back. Lengths are feet and speeds mph,
// as in core/workzone; the place of a lid and the setting are keys. What is not there is not known.
#pragma once

#include "core/common/result.h"
#include "core/dayplan/load_list.h"
#include "core/workzone/known_sites.h"

#include <QJsonArray>
#include <QJsonObject>

namespace keyround {

/// Damaged for an answer that cannot have been given.
[[nodiscard]] QJsonObject toJson(const KnownStreet &street);
[[nodiscard]] Result<KnownStreet> knownStreetFromJson(const QJsonObject &json);
[[nodiscard]] QJsonObject toJson(const KnownValve &valve);
[[nodiscard]] Result<KnownValve> knownValveFromJson(const QJsonObject &json);

[[nodiscard]] QJsonArray toJson(const std::vector<SetUpOverride> &changes);
[[nodiscard]] std::vector<SetUpOverride> setUpOverridesFromJson(const QJsonArray &json);
[[nodiscard]] QJsonObject toJson(const SetUpHabits &habits);
[[nodiscard]] SetUpHabits setUpHabitsFromJson(const QJsonObject &json);
[[nodiscard]] QJsonObject toJson(const LoadHabits &habits);
[[nodiscard]] LoadHabits loadHabitsFromJson(const QJsonObject &json);

} // namespace keyround
