// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/kept_stops.h"

#include "core/storage/durable_file.h"
#include "core/storage/project.h"

#include <QCryptographicHash>
#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QJsonDocument>

#include <algorithm>
#include <optional>

namespace keyround {

namespace {

QByteArray sha256Of(const QByteArray &bytes)
{
    return QCryptographicHash::hash(bytes, QCryptographicHash::Sha256).toHex();
}

// The hash on the first line, then the stop.
QByteArray fileOf(const StopDraft &draft, const QString &project)
{
    const QJsonObject json{
        {QStringLiteral("project"), project},
        {QStringLiteral("round"), draft.round.text()},
        {QStringLiteral("valve"), draft.valve.text()},
        {QStringLiteral("utc_ms"), static_cast<qint64>(draft.savedAt.utcMilliseconds)},
        {QStringLiteral("offset_s"), draft.savedAt.offsetSeconds},
        {QStringLiteral("content"), draft.content}};
    const QByteArray text = QJsonDocument(json).toJson(QJsonDocument::Compact);
    return sha256Of(text) + '\n' + text;
}

std::optional<StopDraft> draftIn(const QByteArray &bytes)
{
    const qsizetype end = bytes.indexOf('\n');
    if (end < 0 || sha256Of(bytes.mid(end + 1)) != bytes.left(end)) {
        return std::nullopt;
    }
    const QJsonObject json = QJsonDocument::fromJson(bytes.mid(end + 1)).object();
    return StopDraft{RoundId::fromText(json.value(QLatin1String("round")).toString()),
                     ValveId::fromText(json.value(QLatin1String("valve")).toString()),
                     json.value(QLatin1String("content")).toObject(),
                     {json.value(QLatin1String("utc_ms")).toInteger(),
                      json.value(QLatin1String("offset_s")).toInt()}};
}

} // namespace

KeptStops::KeptStops(QString folder, const QString &project)
    : m_folder(std::move(folder)), m_project(QFileInfo(project).absoluteFilePath())
{
}

QString KeptStops::pathOf(const RoundId &round, const ValveId &valve) const
{
    constexpr qsizetype enough = 16;
    return QStringLiteral("%1/%2-%3-%4.stop")
        .arg(m_folder, QString::fromLatin1(sha256Of(m_project.toUtf8()).left(enough)), round.text(),
             valve.text());
}

Status KeptStops::keep(const StopDraft &draft) const
{
    return makeFolder(m_folder).and_then(
        [&] { return writeDurably(pathOf(draft.round, draft.valve), fileOf(draft, m_project)); });
}

void KeptStops::forget(const RoundId &round, const ValveId &valve) const
{
    QFile::remove(pathOf(round, valve));
}

std::vector<StopDraft> KeptStops::all() const
{
    const QString mine = QFileInfo(pathOf({}, {})).fileName().section(QLatin1Char('-'), 0, 0);
    std::vector<StopDraft> drafts;
    for (const QFileInfo &info :
         QDir(m_folder).entryInfoList({mine + QStringLiteral("-*.stop")}, QDir::Files)) {
        QFile file(info.absoluteFilePath());
        if (!file.open(QIODevice::ReadOnly)) {
            continue;
        }
        if (const auto draft = draftIn(file.readAll())) {
            drafts.push_back(*draft);
        }
    }
    return drafts;
}

Result<std::vector<ValveId>> KeptStops::bringBack(Project &project) const
{
    const std::vector<StopDraft> kept = all();
    if (kept.empty()) {
        return std::vector<ValveId>{};
    }
    const auto stored = project.visits().drafts();
    if (!stored) {
        return tl::unexpected(stored.error());
    }
    std::vector<ValveId> back;
    for (const StopDraft &draft : kept) {
        const auto visits = project.visits().ofValve(draft.valve);
        if (!visits) {
            return tl::unexpected(visits.error());
        }
        const bool isOld = std::ranges::any_of(*stored,
                                               [&draft](const StopDraft &there) {
                                                   return there.round == draft.round &&
                                                          there.valve == draft.valve &&
                                                          there.savedAt >= draft.savedAt;
                                               }) ||
                           std::ranges::any_of(*visits, [&draft](const Visit &visit) {
                               return visit.round == draft.round &&
                                      visit.stamp.milliseconds() >= draft.savedAt.utcMilliseconds;
                           });
        if (!isOld) {
            if (Status saved = project.visits().saveDraft(draft); !saved) {
                return tl::unexpected(saved.error());
            }
            back.push_back(draft.valve);
        }
        forget(draft.round, draft.valve);
    }
    return back;
}

} // namespace keyround
