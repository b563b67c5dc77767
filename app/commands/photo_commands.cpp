// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/photo_commands.h"

#include "app/commands/sign_row.h"
#include "core/storage/photo_store.h"

#include <QBuffer>
#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QImage>
#include <QImageReader>

namespace keyround {

namespace {

// Wide enough for a 20 mm target at 144 dpi, twice; a JPEG of it has some 10 to 20 kB.
constexpr int thumbnailPixels = 320;
constexpr int thumbnailQuality = 80;
// What the largest picture may take in memory while it is read; Qt's own limit is 256 MB.
constexpr int readingMegabytes = 1024;

/// Decodes the whole picture: the header may be right and the rest not.
Result<QByteArray> thumbnailOf(QByteArray bytes, const QString &fileName)
{
    QBuffer source(&bytes);
    QImageReader reader(&source);
    QImageReader::setAllocationLimit(readingMegabytes);
    reader.setAutoTransform(true);
    if (const QSize size = reader.size(); size.isValid()) {
        reader.setScaledSize(size.scaled(thumbnailPixels, thumbnailPixels, Qt::KeepAspectRatio)
                                 .expandedTo(QSize(1, 1)));
    }
    const QImage image = reader.read();
    if (image.isNull()) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("%1 was not taken in: the picture cannot be read (%2). Copy it "
                                "from the camera again.")
                        .arg(fileName, reader.errorString()));
    }
    QByteArray thumbnail;
    QBuffer target(&thumbnail);
    if (!image.convertToFormat(QImage::Format_RGB32).save(&target, "JPEG", thumbnailQuality)) {
        return fail(ErrorCode::StorageFault,
                    QObject::tr("No thumbnail of %1 could be made. Install the package "
                                "libqt6gui6 whole, then start again.")
                        .arg(fileName));
    }
    return thumbnail;
}

Result<QByteArray> bytesOfFile(const QString &path)
{
    QFile file(path);
    if (!file.open(QIODevice::ReadOnly)) {
        return fail(ErrorCode::NotFound,
                    QObject::tr("%1 cannot be read (%2). Choose the photo "
                                "again.")
                        .arg(QDir::toNativeSeparators(path), file.errorString()));
    }
    return file.read(photoBytesAtMost + 1); // one more than allowed is refused, whatever follows
}

} // namespace

Result<Photo> addPhoto(Session &session, const PhotoOwner &owner, const QString &path)
{
    const QFileInfo info(path);
    const Result<QByteArray> bytes = bytesOfFile(path);
    if (!bytes) {
        return tl::unexpected(bytes.error());
    }
    if (const auto facts = lookAtImage(*bytes, info.fileName()); !facts) {
        return tl::unexpected(facts.error());
    }
    Result<QByteArray> thumbnail = thumbnailOf(*bytes, info.fileName());
    if (!thumbnail) {
        return tl::unexpected(thumbnail.error());
    }
    Photo photo;
    photo.added = session.now();
    photo.id = PhotoId{newUuid7(photo.added.utcMilliseconds)};
    photo.owner = owner;
    photo.fileName = info.fileName();
    photo.taken = Moment::from(info.lastModified());
    photo.thumbnail = std::move(*thumbnail);
    if (const Status signedOff = signRow(session, photo); !signedOff) {
        return tl::unexpected(signedOff.error());
    }
    Result<Photo> added = session.project().photos().add(std::move(photo), *bytes);
    if (added) {
        Q_EMIT session.notifier().photosChanged();
    }
    return added;
}

Status strikePhoto(Session &session, const Photo &photo)
{
    Status struck = session.project().photos().strike(photo, session.author(), session.now());
    if (struck) {
        Q_EMIT session.notifier().photosChanged();
    }
    return struck;
}

std::vector<Photo> photosOf(Session &session, const PhotoOwner &owner)
{
    return session.isOpen() ? session.valueOr(session.project().photos().of(owner), {})
                            : std::vector<Photo>{};
}

std::vector<Photo> photosOfValve(Session &session, const ValveId &valve)
{
    return session.isOpen() ? session.valueOr(session.project().photos().ofValve(valve), {})
                            : std::vector<Photo>{};
}

QStringList picturesIn(const QString &folder)
{
    static const QStringList patterns{QStringLiteral("*.jpg"), QStringLiteral("*.jpeg"),
                                      QStringLiteral("*.png")};
    QStringList paths;
    for (const QFileInfo &file :
         QDir(folder).entryInfoList(patterns, QDir::Files | QDir::Readable, QDir::Time)) {
        paths << file.absoluteFilePath();
    }
    return paths;
}

} // namespace keyround
