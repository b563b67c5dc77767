// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/settings_store.h"

#include "core/storage/codes.h"
#include "core/storage/project.h"
#include "core/storage/statement.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

namespace keyround {

namespace {

const QString timeFormat = QStringLiteral("HH:mm:ss.zzz");

// Each setting is a JSON object of its own, so that a new one needs no new column, and a file
// without it takes the default.
using Values = QMap<QString, QJsonObject>;

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
    return {{QStringLiteral("from"), shift.from.toString(timeFormat)},
            {QStringLiteral("to"), shift.to.toString(timeFormat)}};
}

QJsonObject stopTimesJson(const StopTimes &times)
{
    return {{QStringLiteral("base_minutes"), times.baseMinutes},
            {QStringLiteral("seconds_per_turn"), times.secondsPerTurn},
            {QStringLiteral("passes"), times.passes},
            {QStringLiteral("large_extra_minutes"), times.largeExtraMinutes},
            {QStringLiteral("large_from_quarter_inches"), times.largeFrom.quarterInches},
            {QStringLiteral("fallback_turns"), times.fallbackTurns}};
}

QJsonObject travelJson(const TravelSettings &travel)
{
    return {{QStringLiteral("detour_factor"), travel.detourFactor},
            {QStringLiteral("estimate_metres_per_second"), travel.estimateMetresPerSecond},
            {QStringLiteral("snap_metres"), travel.snapMetres}};
}

QJsonObject toleranceJson(const Tolerance &tolerance)
{
    return {{QStringLiteral("quarter_turns"), tolerance.turns.value},
            {QStringLiteral("share"), tolerance.share}};
}

Values toValues(const ProjectSettings &settings)
{
    Values values;
    values[QStringLiteral("units")] = {{QStringLiteral("system"), storedKey(settings.units)}};
    values[QStringLiteral("utility")] = {{QStringLiteral("name"), settings.utility}};
    QJsonObject yard;
    if (settings.yard) {
        yard = {{QStringLiteral("latitude"), settings.yard->latitude},
                {QStringLiteral("longitude"), settings.yard->longitude}};
    }
    values[QStringLiteral("yard")] = yard;
    values[QStringLiteral("crews")] = {
        {QStringLiteral("names"), QJsonArray::fromStringList(settings.crews)}};
    values[QStringLiteral("shift")] = shiftJson(settings.shift);
    values[QStringLiteral("stop_times")] = stopTimesJson(settings.stopTimes);
    values[QStringLiteral("travel")] = travelJson(settings.travel);
    values[QStringLiteral("tolerance")] = toleranceJson(settings.tolerance);
    // A project without a policy yet keeps an empty one: a policy without a name is none.
    values[QStringLiteral("policy")] =
        settings.policy == Policy{} ? QJsonObject() : toJson(settings.policy);
    return values;
}

void takeTimes(const Values &values, ProjectSettings &settings)
{
    const QJsonObject shift = values.value(QStringLiteral("shift"));
    const QTime from = QTime::fromString(shift.value(QLatin1String("from")).toString(), timeFormat);
    const QTime to = QTime::fromString(shift.value(QLatin1String("to")).toString(), timeFormat);
    settings.shift =
        Shift{from.isValid() ? from : settings.shift.from, to.isValid() ? to : settings.shift.to};

    const QJsonObject times = values.value(QStringLiteral("stop_times"));
    take(times, "base_minutes", settings.stopTimes.baseMinutes);
    take(times, "seconds_per_turn", settings.stopTimes.secondsPerTurn);
    take(times, "passes", settings.stopTimes.passes);
    take(times, "large_extra_minutes", settings.stopTimes.largeExtraMinutes);
    take(times, "large_from_quarter_inches", settings.stopTimes.largeFrom.quarterInches);
    take(times, "fallback_turns", settings.stopTimes.fallbackTurns);

    const QJsonObject travel = values.value(QStringLiteral("travel"));
    take(travel, "detour_factor", settings.travel.detourFactor);
    take(travel, "estimate_metres_per_second", settings.travel.estimateMetresPerSecond);
    take(travel, "snap_metres", settings.travel.snapMetres);

    const QJsonObject tolerance = values.value(QStringLiteral("tolerance"));
    take(tolerance, "quarter_turns", settings.tolerance.turns.value);
    take(tolerance, "share", settings.tolerance.share);
}

Result<ProjectSettings> fromValues(const Values &values)
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
    const QString crews = QStringLiteral("crews");
    if (values.contains(crews)) {
        settings.crews.clear();
        const QJsonArray names = values.value(crews).value(QLatin1String("names")).toArray();
        for (const auto &name : names) {
            settings.crews << name.toString();
        }
    }
    takeTimes(values, settings);
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

QString jsonText(const QJsonObject &json)
{
    return QString::fromUtf8(QJsonDocument(json).toJson(QJsonDocument::Compact));
}

Result<QJsonObject> jsonFrom(const QString &text, const QString &name)
{
    QJsonParseError parsed;
    const QJsonDocument document = QJsonDocument::fromJson(text.toUtf8(), &parsed);
    if (parsed.error != QJsonParseError::NoError || !document.isObject()) {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("The setting \"%1\" cannot be read: it was damaged on the disk. "
                                   "Keep this file, and open the newest back-up.")
                        .arg(name));
    }
    return document.object();
}

Status checkSettings(const ProjectSettings &settings)
{
    if (settings.yard) {
        if (Status status = checkPlace(*settings.yard, QStringLiteral("The yard")); !status) {
            return status;
        }
    }
    if (!settings.shift.from.isValid() || !settings.shift.to.isValid()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("The shift needs a time to start and a time to end."));
    }
    if (!(settings.policy == Policy{})) {
        // What could not be read back would keep the project's settings from loading.
        if (const Result<Policy> read = policyFromJson(toJson(settings.policy)); !read) {
            return tl::unexpected(read.error());
        }
    }
    return {};
}

} // namespace

SettingsStore::SettingsStore(Project &project, QString connection)
    : m_project(project), m_connection(std::move(connection))
{
}

Result<ProjectSettings> SettingsStore::load() const
{
    Values values;
    const Status status =
        readRows(m_connection, QStringLiteral("SELECT name, content FROM settings"),
                 [&values](const Statement &row) {
                     const QString name = row.text(0);
                     return jsonFrom(row.text(1), name).map([&](const QJsonObject &json) {
                         values.insert(name, json);
                     });
                 });
    if (!status) {
        return tl::unexpected(status.error());
    }
    return fromValues(values);
}

Status SettingsStore::save(const ProjectSettings &settings)
{
    return m_project.transaction([&]() -> Status {
        if (Status sound = checkSettings(settings); !sound) {
            return sound;
        }
        Result<Statement> put = Statement::prepare(
            m_connection, QStringLiteral("INSERT INTO settings (name, content) VALUES (?, ?) "
                                         "ON CONFLICT (name) DO UPDATE SET "
                                         "content = excluded.content"));
        if (!put) {
            return tl::unexpected(put.error());
        }
        const Values values = toValues(settings);
        for (auto value = values.begin(); value != values.end(); ++value) {
            if (Status status = put->run(value.key(), jsonText(value.value())); !status) {
                return status;
            }
        }
        return {};
    });
}

Result<QMap<QString, QString>> SettingsStore::columnMatch(const QString &layoutKey) const
{
    const auto content =
        readText(m_connection,
                 QStringLiteral("SELECT content FROM column_matches WHERE layout = ?"), layoutKey);
    if (!content) {
        return tl::unexpected(content.error());
    }
    QMap<QString, QString> match;
    if (content->has_value()) {
        const Result<QJsonObject> json = jsonFrom(**content, QStringLiteral("column match"));
        if (!json) {
            return tl::unexpected(json.error());
        }
        for (auto field = json->begin(); field != json->end(); ++field) {
            match.insert(field.key(), field.value().toString());
        }
    }
    return match;
}

Status SettingsStore::saveColumnMatch(const QString &layoutKey, const QMap<QString, QString> &match)
{
    QJsonObject json;
    for (auto field = match.begin(); field != match.end(); ++field) {
        json.insert(field.key(), field.value());
    }
    return m_project.transaction([&] {
        return runOnce(m_connection,
                       QStringLiteral("INSERT INTO column_matches (layout, content) VALUES (?, ?) "
                                      "ON CONFLICT (layout) DO UPDATE SET "
                                      "content = excluded.content"),
                       layoutKey, jsonText(json));
    });
}

} // namespace keyround
