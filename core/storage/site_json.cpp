// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/site_json.h"

#include <array>

namespace keyround {

namespace {

// In the order of LidPlace and RoadSetting.
constexpr std::array<const char *, 10> lidKeys{
    "outside_road",        "shoulder",         "lane_edge",         "lane",
    "inner_lane",          "centre",           "intersection_near", "intersection_far",
    "intersection_middle", "intersection_side"};
constexpr std::array<const char *, 4> settingKeys{"urban_low_speed", "urban_high_speed", "rural",
                                                  "freeway"};

template <std::size_t count>
std::optional<double> positionOf(const std::array<const char *, count> &keys, const QString &key)
{
    for (std::size_t i = 0; i < count; ++i) {
        if (key == QLatin1String(keys[i])) {
            return static_cast<double>(i);
        }
    }
    return std::nullopt;
}

QJsonValue answerJson(SiteQuestion question, double answer)
{
    const auto index = static_cast<std::size_t>(answer);
    if (question == SiteQuestion::Lid) {
        return QLatin1String(lidKeys.at(index));
    }
    if (question == SiteQuestion::Setting) {
        return QLatin1String(settingKeys.at(index));
    }
    return answer;
}

std::optional<double> answerFrom(SiteQuestion question, const QJsonValue &json)
{
    if (question == SiteQuestion::Lid) {
        return positionOf(lidKeys, json.toString());
    }
    if (question == SiteQuestion::Setting) {
        return positionOf(settingKeys, json.toString());
    }
    return json.isDouble() ? std::optional(json.toDouble()) : std::nullopt;
}

QJsonObject factsJson(const SiteFacts &facts)
{
    QJsonObject json;
    for (int i = 0; i < siteQuestionCount; ++i) {
        const auto question = static_cast<SiteQuestion>(i);
        if (const auto answer = answerIn(facts, question)) {
            json.insert(keyFor(question), answerJson(question, *answer));
        }
    }
    return json;
}

Result<SiteFacts> factsFrom(const QJsonObject &json)
{
    SiteFacts facts;
    for (int i = 0; i < siteQuestionCount; ++i) {
        const auto question = static_cast<SiteQuestion>(i);
        const QJsonValue value = json.value(keyFor(question));
        if (value.isUndefined()) {
            continue;
        }
        const auto answer = answerFrom(question, value);
        if (!answer || !setAnswer(facts, question, answer)) {
            return fail(ErrorCode::Damaged,
                        QStringLiteral("What is known of a street or valve for its work zone "
                                       "cannot be read (%1). The file is damaged: open the newest "
                                       "back-up.")
                            .arg(keyFor(question)));
        }
    }
    return facts;
}

void insert(QJsonObject &json, const char *key, const std::optional<int> &value)
{
    if (value) {
        json.insert(QLatin1String(key), *value);
    }
}
void insert(QJsonObject &json, const char *key, const std::optional<Feet> &value)
{
    if (value) {
        json.insert(QLatin1String(key), value->value);
    }
}
std::optional<int> countFrom(const QJsonObject &json, const char *key)
{
    const QJsonValue value = json.value(QLatin1String(key));
    return value.isDouble() ? std::optional(value.toInt()) : std::nullopt;
}
std::optional<Feet> feetFrom(const QJsonObject &json, const char *key)
{
    const QJsonValue value = json.value(QLatin1String(key));
    return value.isDouble() ? std::optional(Feet{value.toDouble()}) : std::nullopt;
}

QJsonObject toJson(const SetUpOverride &change)
{
    QJsonObject json{{QStringLiteral("name"), change.name},
                     {QStringLiteral("by"), change.by},
                     {QStringLiteral("why"), change.why}};
    insert(json, "application", change.application);
    insert(json, "cones", change.cones);
    insert(json, "flaggers", change.flaggers);
    insert(json, "people", change.people);
    insert(json, "taper_feet", change.taper);
    insert(json, "buffer_feet", change.buffer);
    return json;
}

SetUpOverride setUpOverrideFrom(const QJsonObject &json)
{
    return {json.value(QLatin1String("name")).toString(),
            countFrom(json, "application"),
            countFrom(json, "cones"),
            countFrom(json, "flaggers"),
            countFrom(json, "people"),
            feetFrom(json, "taper_feet"),
            feetFrom(json, "buffer_feet"),
            json.value(QLatin1String("by")).toString(),
            json.value(QLatin1String("why")).toString()};
}

QJsonObject placeJson(const SiteFacts &facts, const std::optional<SetUpOverride> &change)
{
    QJsonObject json{{QStringLiteral("facts"), factsJson(facts)}};
    if (change) {
        json.insert(QStringLiteral("set_up"), toJson(*change));
    }
    return json;
}

std::optional<SetUpOverride> changeFrom(const QJsonObject &json)
{
    const QJsonValue change = json.value(QLatin1String("set_up"));
    return change.isObject() ? std::optional(setUpOverrideFrom(change.toObject())) : std::nullopt;
}

} // namespace

QJsonObject toJson(const KnownStreet &street)
{
    return placeJson({street.facts, {}}, street.change);
}

Result<KnownStreet> knownStreetFromJson(const QJsonObject &json)
{
    return factsFrom(json.value(QLatin1String("facts")).toObject())
        .map([&](const SiteFacts &facts) {
            return KnownStreet{facts.street, changeFrom(json)};
        });
}

QJsonObject toJson(const KnownValve &valve)
{
    return placeJson({{}, valve.facts}, valve.change);
}

Result<KnownValve> knownValveFromJson(const QJsonObject &json)
{
    return factsFrom(json.value(QLatin1String("facts")).toObject())
        .map([&](const SiteFacts &facts) {
            return KnownValve{facts.valve, changeFrom(json)};
        });
}

QJsonArray toJson(const std::vector<SetUpOverride> &changes)
{
    QJsonArray json;
    for (const SetUpOverride &change : changes) {
        json.append(toJson(change));
    }
    return json;
}

std::vector<SetUpOverride> setUpOverridesFromJson(const QJsonArray &json)
{
    std::vector<SetUpOverride> changes;
    for (const auto &each : json) {
        changes.push_back(setUpOverrideFrom(each.toObject()));
    }
    return changes;
}

QJsonObject toJson(const SetUpHabits &habits)
{
    return {{QStringLiteral("work_space_feet"), habits.workSpace.value},
            {QStringLiteral("workers"), habits.workers},
            {QStringLiteral("minutes_a_sign"), habits.minutesASign},
            {QStringLiteral("minutes_a_cone"), habits.minutesACone}};
}

SetUpHabits setUpHabitsFromJson(const QJsonObject &json)
{
    SetUpHabits habits;
    habits.workSpace.value =
        json.value(QLatin1String("work_space_feet")).toDouble(habits.workSpace.value);
    habits.workers = json.value(QLatin1String("workers")).toInt(habits.workers);
    habits.minutesASign = json.value(QLatin1String("minutes_a_sign")).toDouble(habits.minutesASign);
    habits.minutesACone = json.value(QLatin1String("minutes_a_cone")).toDouble(habits.minutesACone);
    return habits;
}

QJsonObject toJson(const LoadHabits &habits)
{
    return {{QStringLiteral("key_above_lid_metres"), habits.keyAboveLid.value},
            {QStringLiteral("spare_cones"), habits.spareCones},
            {QStringLiteral("sheets_a_stop"), habits.sheetsAStop}};
}

LoadHabits loadHabitsFromJson(const QJsonObject &json)
{
    LoadHabits habits;
    habits.keyAboveLid.value =
        json.value(QLatin1String("key_above_lid_metres")).toDouble(habits.keyAboveLid.value);
    habits.spareCones = json.value(QLatin1String("spare_cones")).toInt(habits.spareCones);
    habits.sheetsAStop = json.value(QLatin1String("sheets_a_stop")).toInt(habits.sheetsAStop);
    return habits;
}

} // namespace keyround
