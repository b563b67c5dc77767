// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/settings_json.h"

#include "core/storage/codes.h"
#include "core/storage/day_json.h"
#include "core/storage/notice_json.h"
#include "core/storage/repair_json.h"
#include "core/storage/site_json.h"
#include "core/storage/truck_json.h"

#include <QJsonArray>

#include <utility>

namespace keyround {

namespace {

// Sets the target only where the key is there.
void take(const QJsonObject &json, const char *key, double &target)
{
    target = json.value(QLatin1String(key)).toDouble(target);
}
void take(const QJsonObject &json, const char *key, int &target)
{
    target = json.value(QLatin1String(key)).toInt(target);
}

QJsonObject shiftJson(const Shift &shift)
{
    return {{QStringLiteral("from"), storedTime(shift.from)},
            {QStringLiteral("to"), storedTime(shift.to)}};
}

QJsonObject stopTimesJson(const StopTimes &times)
{
    return {{QStringLiteral("base_minutes"), times.baseMinutes},
            {QStringLiteral("seconds_per_turn"), times.secondsPerTurn},
            {QStringLiteral("passes"), times.passes},
            {QStringLiteral("large_extra_minutes"), times.largeExtraMinutes},
            {QStringLiteral("large_from_quarter_inches"), times.largeFrom.quarterInches},
            {QStringLiteral("fallback_turns"), times.fallbackTurns},
            {QStringLiteral("base_zone_minutes"), times.baseZoneMinutes}};
}

QJsonObject travelJson(const TravelSettings &travel)
{
    return {{QStringLiteral("detour_factor"), travel.detourFactor},
            {QStringLiteral("estimate_metres_per_second"), travel.estimateMetresPerSecond},
            {QStringLiteral("snap_metres"), travel.snapMetres}};
}

// What each class of street allows, in the order of StreetClass.
QJsonArray turnClassesJson(const TurnRules &rules)
{
    QJsonArray json;
    for (std::size_t i = 0; i < rules.ofClass.size(); ++i) {
        const TurnRules::OfClass &each = rules.ofClass[i];
        json.append(QJsonObject{{QStringLiteral("street"), storedKey(static_cast<StreetClass>(i))},
                                {QStringLiteral("u_turn_at_junction"), each.uTurnAtJunction},
                                {QStringLiteral("u_turn_mid_street"), each.uTurnMidStreet},
                                {QStringLiteral("kerb_side_only"), each.kerbSideOnly}});
    }
    return json;
}

QJsonObject turnsJson(const TurnRules &rules)
{
    const bool left = rules.drivingSide == DrivingSide::Left;
    return {
        {QStringLiteral("driving_side"), left ? QStringLiteral("left") : QStringLiteral("right")},
        {QStringLiteral("straight_seconds"), rules.straightSeconds},
        {QStringLiteral("near_turn_seconds"), rules.nearTurnSeconds},
        {QStringLiteral("far_turn_seconds"), rules.farTurnSeconds},
        {QStringLiteral("u_turn_seconds"), rules.uTurnSeconds},
        {QStringLiteral("dead_end_seconds"), rules.deadEndSeconds},
        {QStringLiteral("straight_degrees"), rules.straightDegrees},
        {QStringLiteral("middle_metres"), rules.middleMetres},
        {QStringLiteral("classes"), turnClassesJson(rules)}};
}

QJsonObject toleranceJson(const Tolerance &tolerance)
{
    return {{QStringLiteral("quarter_turns"), tolerance.turns.value},
            {QStringLiteral("share"), tolerance.share}};
}

void takeTimes(const SettingValues &values, ProjectSettings &settings)
{
    const QJsonObject shift = values.value(QStringLiteral("shift"));
    const QTime from = storedTimeFrom(shift.value(QLatin1String("from")).toString());
    const QTime to = storedTimeFrom(shift.value(QLatin1String("to")).toString());
    settings.shift =
        Shift{from.isValid() ? from : settings.shift.from, to.isValid() ? to : settings.shift.to};

    const QJsonObject times = values.value(QStringLiteral("stop_times"));
    take(times, "base_minutes", settings.stopTimes.baseMinutes);
    take(times, "seconds_per_turn", settings.stopTimes.secondsPerTurn);
    take(times, "passes", settings.stopTimes.passes);
    take(times, "large_extra_minutes", settings.stopTimes.largeExtraMinutes);
    take(times, "large_from_quarter_inches", settings.stopTimes.largeFrom.quarterInches);
    take(times, "fallback_turns", settings.stopTimes.fallbackTurns);
    take(times, "base_zone_minutes", settings.stopTimes.baseZoneMinutes);

    const QJsonObject travel = values.value(QStringLiteral("travel"));
    take(travel, "detour_factor", settings.travel.detourFactor);
    take(travel, "estimate_metres_per_second", settings.travel.estimateMetresPerSecond);
    take(travel, "snap_metres", settings.travel.snapMetres);

    const QJsonObject tolerance = values.value(QStringLiteral("tolerance"));
    take(tolerance, "quarter_turns", settings.tolerance.turns.value);
    take(tolerance, "share", settings.tolerance.share);
}

Status takeTurns(const QJsonObject &json, TurnRules &rules)
{
    if (json.value(QLatin1String("driving_side")).toString() == QLatin1String("left")) {
        rules.drivingSide = DrivingSide::Left;
    }
    take(json, "straight_seconds", rules.straightSeconds);
    take(json, "near_turn_seconds", rules.nearTurnSeconds);
    take(json, "far_turn_seconds", rules.farTurnSeconds);
    take(json, "u_turn_seconds", rules.uTurnSeconds);
    take(json, "dead_end_seconds", rules.deadEndSeconds);
    take(json, "straight_degrees", rules.straightDegrees);
    take(json, "middle_metres", rules.middleMetres);
    for (const auto &each : json.value(QLatin1String("classes")).toArray()) {
        StreetClass kind = StreetClass::Unknown;
        if (Status known = fromKey(each[QLatin1String("street")].toString(), kind); !known) {
            return known;
        }
        rules.ofClass[static_cast<std::size_t>(kind)] = {
            each[QLatin1String("u_turn_at_junction")].toBool(),
            each[QLatin1String("u_turn_mid_street")].toBool(),
            each[QLatin1String("kerb_side_only")].toBool()};
    }
    return {};
}

// A list of its own; one that is not in the file leaves the default.
template <typename List, typename Read>
Status takeList(const SettingValues &values, const QString &name, List &list, Read read)
{
    if (!values.contains(name)) {
        return {};
    }
    return read(values.value(name).value(QLatin1String("list")).toArray())
        .map([&list](List &&found) { list = std::move(found); });
}

// Schema 1 knew crews by their names alone.
Status takeCrews(const SettingValues &values, std::vector<Crew> &crews)
{
    const QString name = QStringLiteral("crews");
    const QJsonValue names = values.value(name).value(QLatin1String("names"));
    if (!names.isArray()) {
        return takeList(values, name, crews, crewsFromJson);
    }
    crews.clear();
    for (const auto &each : names.toArray()) {
        Crew crew;
        crew.name = each.toString();
        crews.push_back(std::move(crew));
    }
    return {};
}

Status takeDays(const SettingValues &values, ProjectSettings &settings)
{
    const QJsonObject notice = values.value(QStringLiteral("notice"));
    take(notice, "working_days", settings.notice.workingDays);
    take(notice, "hours", settings.notice.hours);
    take(notice, "valid_days", settings.notice.validDays);
    take(values.value(QStringLiteral("shuts")), "weight", settings.shutWeight);
    return takeTurns(values.value(QStringLiteral("turns")), settings.turns)
        .and_then([&] { return takeCrews(values, settings.crews); })
        .and_then([&] {
            return takeList(values, QStringLiteral("breaks"), settings.breaks, breaksFromJson);
        })
        .and_then([&] {
            return takeList(values, QStringLiteral("busy_hours"), settings.busyHours,
                            busyHoursFromJson);
        })
        .and_then([&] {
            return takeList(values, QStringLiteral("skill_needs"), settings.skillNeeds,
                            skillNeedsFromJson);
        })
        .and_then([&] {
            return takeList(values, QStringLiteral("holidays"), settings.holidays, daysFromJson);
        })
        .and_then(
            [&] { return learnedTimesFromJson(values.value(QStringLiteral("learned_times"))); })
        .map([&](LearnedTimes &&learned) { settings.learned = std::move(learned); });
}

} // namespace

SettingValues toValues(const ProjectSettings &settings)
{
    SettingValues values;
    values[QStringLiteral("units")] = {{QStringLiteral("system"), storedKey(settings.units)}};
    values[QStringLiteral("utility")] = {{QStringLiteral("name"), settings.utility}};
    QJsonObject yard;
    if (settings.yard) {
        yard = {{QStringLiteral("latitude"), settings.yard->latitude},
                {QStringLiteral("longitude"), settings.yard->longitude}};
    }
    values[QStringLiteral("yard")] = yard;
    values[QStringLiteral("crews")] = {{QStringLiteral("list"), toJson(settings.crews)}};
    values[QStringLiteral("breaks")] = {{QStringLiteral("list"), toJson(settings.breaks)}};
    values[QStringLiteral("busy_hours")] = {{QStringLiteral("list"), toJson(settings.busyHours)}};
    values[QStringLiteral("skill_needs")] = {{QStringLiteral("list"), toJson(settings.skillNeeds)}};
    values[QStringLiteral("holidays")] = {{QStringLiteral("list"), toJson(settings.holidays)}};
    values[QStringLiteral("notice")] = {
        {QStringLiteral("working_days"), settings.notice.workingDays},
        {QStringLiteral("hours"), settings.notice.hours},
        {QStringLiteral("valid_days"), settings.notice.validDays}};
    values[QStringLiteral("notice_templates")] = toJson(settings.noticeTemplates);
    values[QStringLiteral("shuts")] = {{QStringLiteral("weight"), settings.shutWeight}};
    values[QStringLiteral("learned_times")] = toJson(settings.learned);
    values[QStringLiteral("set_up_habits")] = toJson(settings.setUpHabits);
    values[QStringLiteral("load_habits")] = toJson(settings.loadHabits);
    values[QStringLiteral("saved_set_ups")] = {
        {QStringLiteral("list"), toJson(settings.savedSetUps)}};
    values[QStringLiteral("road_settings")] = {
        {QStringLiteral("urban_low_speed_to_mph"), settings.urbanLowSpeedTo}};
    values[QStringLiteral("back_ups")] = {
        {QStringLiteral("keep_count"), settings.backUps.keepCount},
        {QStringLiteral("keep_days"), settings.backUps.keepDays}};
    values[QStringLiteral("repairs")] = toJson(settings.repairs);
    values[QStringLiteral("shift")] = shiftJson(settings.shift);
    values[QStringLiteral("stop_times")] = stopTimesJson(settings.stopTimes);
    values[QStringLiteral("travel")] = travelJson(settings.travel);
    values[QStringLiteral("turns")] = turnsJson(settings.turns);
    values[QStringLiteral("tolerance")] = toleranceJson(settings.tolerance);
    values[QStringLiteral("truck_habits")] = toJson(settings.truckHabits);
    // A project without a policy yet keeps an empty one: a policy without a name is none.
    values[QStringLiteral("policy")] =
        settings.policy == Policy{} ? QJsonObject() : toJson(settings.policy);
    return values;
}

Result<ProjectSettings> fromValues(const SettingValues &values)
{
    ProjectSettings settings;
    const QString units = QStringLiteral("units");
    if (values.contains(units)) {
        const QString key = values.value(units).value(QLatin1String("system")).toString();
        if (Status status = fromKey(key, settings.units); !status) {
            return tl::unexpected(status.error());
        }
    }
    settings.utility =
        values.value(QStringLiteral("utility")).value(QLatin1String("name")).toString();
    const QJsonObject yard = values.value(QStringLiteral("yard"));
    if (!yard.isEmpty()) {
        settings.yard = GeoPoint{yard.value(QLatin1String("latitude")).toDouble(),
                                 yard.value(QLatin1String("longitude")).toDouble()};
    }
    takeTimes(values, settings);
    settings.setUpHabits = setUpHabitsFromJson(values.value(QStringLiteral("set_up_habits")));
    settings.loadHabits = loadHabitsFromJson(values.value(QStringLiteral("load_habits")));
    settings.truckHabits = truckHabitsFromJson(values.value(QStringLiteral("truck_habits")));
    settings.savedSetUps = setUpOverridesFromJson(
        values.value(QStringLiteral("saved_set_ups")).value(QLatin1String("list")).toArray());
    Result<NoticeTemplates> wordings =
        noticeTemplatesFromJson(values.value(QStringLiteral("notice_templates")));
    if (!wordings) {
        return tl::unexpected(wordings.error());
    }
    settings.noticeTemplates = std::move(*wordings);
    take(values.value(QStringLiteral("road_settings")), "urban_low_speed_to_mph",
         settings.urbanLowSpeedTo);
    const QJsonObject backUps = values.value(QStringLiteral("back_ups"));
    take(backUps, "keep_count", settings.backUps.keepCount);
    take(backUps, "keep_days", settings.backUps.keepDays);
    if (Status days = takeDays(values, settings); !days) {
        return tl::unexpected(days.error());
    }
    Result<RepairHabits> repairs = repairHabitsFromJson(values.value(QStringLiteral("repairs")));
    if (!repairs) {
        return tl::unexpected(repairs.error());
    }
    settings.repairs = std::move(*repairs);
    const QString policy = QStringLiteral("policy");
    if (values.contains(policy) && values.value(policy).isEmpty()) {
        settings.policy = Policy{}; // taken away on purpose: not the one that projects start with
    } else if (values.contains(policy)) {
        Result<Policy> read = policyFromJson(values.value(policy));
        if (!read) {
            return tl::unexpected(read.error());
        }
        settings.policy = std::move(*read);
    }
    return settings;
}

} // namespace keyround
