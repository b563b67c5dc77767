// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: the habits of the work at the stop as JSON, and back. What is not there, or says
// nothing that can be kept, takes its default.
#pragma once

#include "core/fieldlog/truck_habits.h"

#include <QJsonObject>

namespace keyround {

[[nodiscard]] QJsonObject toJson(const TruckHabits &habits);
[[nodiscard]] TruckHabits truckHabitsFromJson(const QJsonObject &json);

} // namespace keyround
