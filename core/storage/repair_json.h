// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: repairs as JSON, and back.
#pragma once

#include "core/common/result.h"
#include "core/repairs/repair_habits.h"

#include <QJsonObject>

namespace keyround {

[[nodiscard]] QJsonObject toJson(const RepairHabits &habits);
/// Where nothing is stored: what projects start with. Damaged for a key that does not exist.
[[nodiscard]] Result<RepairHabits> repairHabitsFromJson(const QJsonObject &json);

/// Every department needs a name and a key of its own; no finding belongs to two; days are not
/// below nothing.
[[nodiscard]] Status checkRepairHabits(const RepairHabits &habits);

} // namespace keyround
