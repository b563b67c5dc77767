// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/settings_store.h"

#include "core/storage/project.h"
#include "core/storage/settings_json.h"
#include "core/storage/statement.h"

#include <QJsonDocument>
#include <QJsonObject>

#include <algorithm>

namespace keyround {

namespace {

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

} // namespace

QStringList crewNames(const ProjectSettings &settings)
{
    QStringList names;
    for (const Crew &crew : settings.crews) {
        names << crew.name;
    }
    return names;
}

Crew crewNamed(const ProjectSettings &settings, const QString &name)
{
    const auto found = std::ranges::find_if(settings.crews, [&name](const Crew &crew) {
        return crew.name.compare(name, Qt::CaseInsensitive) == 0;
    });
    if (found != settings.crews.end()) {
        return *found;
    }
    Crew unknown;
    unknown.name = name;
    return unknown;
}

Round emptyRound(const ProjectSettings &settings, const QString &crew, const QDate &date)
{
    const Crew known = crewNamed(settings, crew);
    Round round;
    round.date = date;
    round.crew = known.name;
    round.shift = known.shift.value_or(settings.shift);
    round.start = known.yard ? *known.yard : settings.yard.value_or(GeoPoint{});
    round.finish = round.start;
    round.breaks = settings.breaks;
    return round;
}

SettingsStore::SettingsStore(Project &project, QString connection)
    : m_project(project), m_connection(std::move(connection))
{
}

Result<ProjectSettings> SettingsStore::load() const
{
    SettingValues values;
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
        const SettingValues values = toValues(settings);
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
