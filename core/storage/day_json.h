// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: what the planning of days is told (breaks, crews, busy hours, skills, holidays,
// learned times) as JSON arrays and objects, and back. Times of day are HH:MM:SS.mmm, days ISO
// 8601, kinds the stable keys of codes.h, sizes quarter inches.
//
// Reading fails with Damaged on what this program cannot have written; a key that is not there
// takes its default, so that older files read.
#pragma once

#include "core/common/result.h"
#include "core/dayplan/crew.h"
#include "core/dayplan/learned_times.h"
#include "core/workzone/busy_hours.h"

#include <QJsonArray>
#include <QJsonObject>

#include <vector>

namespace keyround {

[[nodiscard]] QString storedTime(const QTime &time);
[[nodiscard]] QTime storedTimeFrom(const QString &text);

[[nodiscard]] QJsonArray toJson(const std::vector<ShiftBreak> &breaks);
[[nodiscard]] Result<std::vector<ShiftBreak>> breaksFromJson(const QJsonArray &json);
/// What is wrong with a break, before it is stored.
[[nodiscard]] Status checkBreak(const ShiftBreak &each);

[[nodiscard]] QJsonArray toJson(const std::vector<Crew> &crews);
[[nodiscard]] Result<std::vector<Crew>> crewsFromJson(const QJsonArray &json);

[[nodiscard]] QJsonArray toJson(const std::vector<BusyHours> &rules);
[[nodiscard]] Result<std::vector<BusyHours>> busyHoursFromJson(const QJsonArray &json);

[[nodiscard]] QJsonArray toJson(const std::vector<SkillNeed> &needs);
[[nodiscard]] Result<std::vector<SkillNeed>> skillNeedsFromJson(const QJsonArray &json);

[[nodiscard]] QJsonArray toJson(const QList<QDate> &days);
[[nodiscard]] Result<QList<QDate>> daysFromJson(const QJsonArray &json);

[[nodiscard]] QJsonObject toJson(const LearnedTimes &times);
[[nodiscard]] Result<LearnedTimes> learnedTimesFromJson(const QJsonObject &json);

} // namespace keyround
