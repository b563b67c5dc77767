// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/truck_json.h"

#include <QJsonArray>

#include <array>

namespace keyround {

namespace {

// In the order of ProblemGroup.
constexpr std::array<const char *, 7> groupKeys{"reach", "box",      "turn", "shut",
                                                "leak",  "position", "other"};

ProblemGroup groupFrom(const QString &key)
{
    for (std::size_t i = 0; i < groupKeys.size(); ++i) {
        if (key == QLatin1String(groupKeys[i])) {
            return static_cast<ProblemGroup>(i);
        }
    }
    return ProblemGroup::Other;
}

} // namespace

QJsonObject toJson(const TruckHabits &habits)
{
    QJsonArray own;
    for (const OwnProblem &each : habits.ownProblems) {
        own.append(QJsonObject{{QStringLiteral("words"), each.words},
                               {QStringLiteral("group"),
                                QLatin1String(groupKeys.at(static_cast<std::size_t>(each.group)))},
                               {QStringLiteral("in_use"), each.inUse}});
    }
    const bool feet = habits.torqueUnit == TorqueUnit::FootPounds;
    return {{QStringLiteral("arrival_metres"), habits.arrivalDistance.value},
            {QStringLiteral("back_off_quarter_turns"), habits.backOff.value},
            {QStringLiteral("torque_unit"), feet ? QStringLiteral("ft_lb") : QStringLiteral("n_m")},
            {QStringLiteral("own_problems"), own},
            {QStringLiteral("stuck_procedure"), habits.stuckProcedure}};
}

TruckHabits truckHabitsFromJson(const QJsonObject &json)
{
    TruckHabits habits;
    habits.arrivalDistance.value =
        json.value(QLatin1String("arrival_metres")).toDouble(habits.arrivalDistance.value);
    habits.backOff.value =
        json.value(QLatin1String("back_off_quarter_turns")).toInt(habits.backOff.value);
    if (json.value(QLatin1String("torque_unit")).toString() == QLatin1String("n_m")) {
        habits.torqueUnit = TorqueUnit::NewtonMetres;
    }
    for (const auto &each : json.value(QLatin1String("own_problems")).toArray()) {
        const QString words = each[QLatin1String("words")].toString();
        // The trade's list has grown since: it offers this one now. Visits keep their words.
        if (problemFromText(words)) {
            continue;
        }
        habits.ownProblems.push_back({words, groupFrom(each[QLatin1String("group")].toString()),
                                      each[QLatin1String("in_use")].toBool(true)});
    }
    habits.stuckProcedure = json.value(QLatin1String("stuck_procedure")).toString();
    return faultIn(habits).isEmpty() ? habits : TruckHabits{};
}

} // namespace keyround
