// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/photo_store.h"

#include "core/storage/codes.h"
#include "core/storage/durable_file.h"
#include "core/storage/log_fields.h"
#include "core/storage/statement.h"

#include <QCryptographicHash>
#include <QDir>
#include <QFile>
#include <QFileInfo>

#include <algorithm>
#include <iterator>

namespace keyround {

namespace {

// All three kinds have the valve for their subject, so that one valve's are read by one index.
const QString photoKind = QStringLiteral("photo");
const QString moveKind = QStringLiteral("photo_visit");
const QString strikeKind = QStringLiteral("photo_struck");

QString sha256Of(const QByteArray &bytes)
{
    return QString::fromLatin1(QCryptographicHash::hash(bytes, QCryptographicHash::Sha256).toHex());
}

QJsonObject momentJson(const Moment &moment)
{
    QJsonObject json;
    putMoment(json, moment);
    return json;
}

LogRow rowOf(const Photo &photo)
{
    QJsonObject body{
        {QStringLiteral("round"), idColumn(photo.owner.round.uuid)},
        {QStringLiteral("visit"), idColumn(photo.owner.visit.uuid)},
        {QStringLiteral("sha256"), photo.sha256},
        {QStringLiteral("suffix"), photo.suffix},
        {QStringLiteral("file_name"), photo.fileName},
        {QStringLiteral("bytes"), photo.bytes},
        {QStringLiteral("width"), photo.width},
        {QStringLiteral("height"), photo.height},
        {QStringLiteral("taken"), momentJson(photo.taken)},
        {QStringLiteral("added"), momentJson(photo.added)},
        {QStringLiteral("thumbnail"), QString::fromLatin1(photo.thumbnail.toBase64())}};
    putWho(body, photo);
    return {photo.id.uuid, photoKind, photo.owner.valve.text(), photo.stamp, body};
}

Photo photoFrom(const LogRow &row)
{
    Photo photo;
    photo.id = PhotoId{row.id};
    photo.owner = {ValveId::fromText(row.subject), RoundId::fromText(textIn(row.body, "round")),
                   VisitId::fromText(textIn(row.body, "visit"))};
    photo.sha256 = textIn(row.body, "sha256");
    photo.suffix = textIn(row.body, "suffix");
    photo.fileName = textIn(row.body, "file_name");
    photo.bytes = row.body.value(QLatin1String("bytes")).toInteger();
    photo.width = row.body.value(QLatin1String("width")).toInt();
    photo.height = row.body.value(QLatin1String("height")).toInt();
    photo.taken = momentIn(row.body.value(QLatin1String("taken")).toObject());
    photo.added = momentIn(row.body.value(QLatin1String("added")).toObject());
    photo.thumbnail = QByteArray::fromBase64(textIn(row.body, "thumbnail").toLatin1());
    takeWho(row, photo);
    return photo;
}

PhotoMove moveFrom(const LogRow &row)
{
    return {PhotoId::fromText(textIn(row.body, "photo")),
            VisitId::fromText(textIn(row.body, "visit")), row.stamp};
}

Result<std::vector<Photo>> photosFrom(const Result<std::vector<LogRow>> &rows)
{
    if (!rows) {
        return tl::unexpected(rows.error());
    }
    std::vector<Photo> photos;
    std::vector<PhotoMove> moves;
    for (const LogRow &row : *rows) {
        if (row.kind == photoKind) {
            photos.push_back(photoFrom(row));
        } else {
            moves.push_back(moveFrom(row));
        }
    }
    return standingPhotos(std::move(photos), moves);
}

const QStringList &photoKinds()
{
    static const QStringList kinds{photoKind, moveKind, strikeKind};
    return kinds;
}

} // namespace

PhotoStore::PhotoStore(Project &project, QString connection)
    : m_project(project), m_connection(std::move(connection))
{
}

QString PhotoStore::folder() const
{
    const QFileInfo file(m_project.path());
    return file.absolutePath() + QLatin1Char('/') + file.completeBaseName() +
           QStringLiteral(".photos");
}

QString PhotoStore::pathOf(const Photo &photo) const
{
    return QStringLiteral("%1/%2.%3").arg(folder(), photo.sha256, photo.suffix);
}

Result<Photo> PhotoStore::add(Photo photo, const QByteArray &bytes)
{
    const Result<ImageFacts> facts = lookAtImage(bytes, photo.fileName);
    if (!facts) {
        return tl::unexpected(facts.error());
    }
    photo.sha256 = sha256Of(bytes);
    photo.suffix = facts->suffix;
    photo.bytes = bytes.size();
    photo.width = facts->width;
    photo.height = facts->height;
    const auto valve =
        readText(m_connection, QStringLiteral("SELECT number FROM valves WHERE id = ?"),
                 photo.owner.valve.text());
    if (!valve) {
        return tl::unexpected(valve.error());
    }
    if (!valve->has_value()) {
        return fail(ErrorCode::NotFound,
                    QStringLiteral("%1 was not taken in: its valve is not in this project.")
                        .arg(photo.fileName));
    }
    // One that is there and sound is left; one that was damaged is healed by this copy.
    const Status written = read(photo) ? Status{} : makeFolder(folder()).and_then([&] {
        return writeDurably(pathOf(photo), bytes);
    });
    return written.and_then([&] { return addLogRow(m_project, m_connection, rowOf(photo)); })
        .map([&photo] { return std::move(photo); });
}

Result<int> PhotoStore::moveToVisit(const ValveId &valve, const RoundId &round,
                                    const VisitId &visit, const Moment &now)
{
    const Result<std::vector<Photo>> waiting = of({valve, round, VisitId{}});
    if (!waiting) {
        return tl::unexpected(waiting.error());
    }
    const Status moved = m_project.transaction([&]() -> Status {
        for (const Photo &photo : *waiting) {
            const Result<HybridTime> stamp = m_project.nextStamp(now);
            if (!stamp) {
                return tl::unexpected(stamp.error());
            }
            const QJsonObject body{{QStringLiteral("photo"), photo.id.text()},
                                   {QStringLiteral("visit"), visit.text()}};
            const LogRow row{newUuid7(now.utcMilliseconds), moveKind, valve.text(), *stamp, body};
            if (Status added = addLogRow(m_project, m_connection, row); !added) {
                return added;
            }
        }
        return {};
    });
    return moved.map([&waiting] { return static_cast<int>(waiting->size()); });
}

Status PhotoStore::strike(const Photo &photo, const Author &author, const Moment &now)
{
    return m_project.nextStamp(now).and_then([&](HybridTime stamp) {
        QJsonObject body{{QStringLiteral("photo"), photo.id.text()},
                         {QStringLiteral("at"), momentJson(now)}};
        putWho(body, author);
        return addLogRow(
            m_project, m_connection,
            {newUuid7(now.utcMilliseconds), strikeKind, photo.owner.valve.text(), stamp, body});
    });
}

Result<std::vector<Photo>> PhotoStore::ofValve(const ValveId &valve) const
{
    return photosFrom(logRowsAbout(m_connection, photoKinds(), valve.text()));
}

Result<std::vector<Photo>> PhotoStore::of(const PhotoOwner &owner) const
{
    return ofValve(owner.valve).map([&owner](std::vector<Photo> photos) {
        std::erase_if(photos, [&owner](const Photo &photo) {
            return photo.owner.visit != owner.visit ||
                   (owner.visit.isNull() && photo.owner.round != owner.round);
        });
        return photos;
    });
}

Result<std::vector<Photo>> PhotoStore::all() const
{
    std::vector<LogRow> rows;
    for (const QString &kind : photoKinds()) {
        Result<std::vector<LogRow>> some = logRows(m_connection, kind);
        if (!some) {
            return tl::unexpected(some.error());
        }
        std::ranges::move(*some, std::back_inserter(rows));
    }
    return photosFrom(rows);
}

Result<QByteArray> PhotoStore::read(const Photo &photo) const
{
    const QString path = pathOf(photo);
    QFile file(path);
    if (!file.exists()) {
        return fail(ErrorCode::NotFound,
                    QStringLiteral("The photo %1 is not in the folder %2. Bring that folder along "
                                   "with the project file.")
                        .arg(photo.fileName, QDir::toNativeSeparators(folder())));
    }
    if (!file.open(QIODevice::ReadOnly)) {
        return fail(
            ErrorCode::StorageFault,
            QStringLiteral("The photo %1 cannot be read (%2). Ask for the right to read "
                           "the folder %3.")
                .arg(photo.fileName, file.errorString(), QDir::toNativeSeparators(folder())));
    }
    QByteArray bytes = file.read(photoBytesAtMost + 1);
    if (sha256Of(bytes) != photo.sha256) {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("The photo %1 was damaged on the disk (%2). Take the file from "
                                   "another copy of the folder, or add the photo again.")
                        .arg(photo.fileName, QDir::toNativeSeparators(path)));
    }
    return bytes;
}

} // namespace keyround
