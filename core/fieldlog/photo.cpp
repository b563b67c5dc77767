// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/photo.h"

#include <QHash>
#include <QSet>
#include <QtEndian>

#include <algorithm>
#include <optional>

namespace keyround {

namespace {

constexpr qint64 megabyte = qint64{1024} * 1024;

struct Size
{
    int width = 0;
    int height = 0;
};

unsigned byteAt(const QByteArray &bytes, qsizetype at)
{
    return static_cast<unsigned char>(bytes.at(at));
}

int wordAt(const QByteArray &bytes, qsizetype at)
{
    return qFromBigEndian<quint16>(bytes.constData() + at);
}

// The frame headers SOF0 to SOF15; C4, C8 and CC are other segments (T.81 table B.1).
bool isFrameHeader(unsigned marker)
{
    return marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC;
}

// Walks the segments to the start of the scan; what follows must hold the end-of-image marker.
// Bytes after that are common (telephones put films there) and left alone.
std::optional<Size> jpegSize(const QByteArray &bytes)
{
    std::optional<Size> size;
    qsizetype at = 2;
    while (at + 4 <= bytes.size()) {
        if (byteAt(bytes, at) != 0xFF) {
            return std::nullopt;
        }
        const unsigned marker = byteAt(bytes, at + 1);
        if (marker == 0xFF) { // fill byte
            ++at;
            continue;
        }
        if (marker == 0x01 || (marker >= 0xD0 && marker <= 0xD7)) { // without a length
            at += 2;
            continue;
        }
        const int length = wordAt(bytes, at + 2);
        if (length < 2 || marker == 0xD9) {
            return std::nullopt;
        }
        if (marker == 0xDA) {
            const bool hasEnd = bytes.lastIndexOf(QByteArrayLiteral("\xFF\xD9")) > at + length;
            return hasEnd ? size : std::nullopt;
        }
        if (isFrameHeader(marker)) {
            if (length < 8 || at + 9 > bytes.size()) {
                return std::nullopt;
            }
            size = Size{wordAt(bytes, at + 7), wordAt(bytes, at + 5)};
        }
        at += 2 + length;
    }
    return std::nullopt;
}

// Chunk by chunk: length, name, content, check sum; the first is IHDR, the last IEND.
std::optional<Size> pngSize(const QByteArray &bytes)
{
    constexpr qsizetype around = 12;
    std::optional<Size> size;
    qsizetype at = 8;
    while (at + around <= bytes.size()) {
        const auto length = qsizetype{qFromBigEndian<quint32>(bytes.constData() + at)};
        const QByteArray name = bytes.mid(at + 4, 4);
        if (length > bytes.size() - at - around || (at == 8) != (name == "IHDR")) {
            return std::nullopt;
        }
        if (name == "IHDR") {
            if (length != 13) {
                return std::nullopt;
            }
            size = Size{static_cast<int>(qFromBigEndian<quint32>(bytes.constData() + at + 8)),
                        static_cast<int>(qFromBigEndian<quint32>(bytes.constData() + at + 12))};
        }
        if (name == "IEND") {
            return size;
        }
        at += around + length;
    }
    return std::nullopt;
}

} // namespace

std::vector<Photo> standingPhotos(std::vector<Photo> photos, const std::vector<PhotoMove> &moves)
{
    QSet<PhotoId> struck;
    QHash<PhotoId, const PhotoMove *> latest;
    for (const PhotoMove &move : moves) {
        if (move.visit.isNull()) {
            struck.insert(move.photo);
            continue;
        }
        const PhotoMove *&known = latest[move.photo];
        // Two moves of one stamp can only come from two laptops: the visit's id decides.
        if (known == nullptr || known->stamp < move.stamp ||
            (known->stamp == move.stamp && known->visit < move.visit)) {
            known = &move;
        }
    }
    std::erase_if(photos, [&struck](const Photo &photo) { return struck.contains(photo.id); });
    for (Photo &photo : photos) {
        if (const auto move = latest.constFind(photo.id); move != latest.constEnd()) {
            photo.owner.visit = (*move)->visit;
        }
    }
    std::ranges::sort(photos, [](const Photo &a, const Photo &b) {
        return a.stamp == b.stamp ? a.id < b.id : a.stamp < b.stamp;
    });
    return photos;
}

Result<ImageFacts> lookAtImage(const QByteArray &bytes, const QString &fileName)
{
    if (bytes.size() > photoBytesAtMost) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1 was not taken in: it has %2 MB, and a photo may have %3. "
                                   "Choose a photo, or save this one smaller.")
                        .arg(fileName)
                        .arg(bytes.size() / megabyte)
                        .arg(photoBytesAtMost / megabyte));
    }
    const bool isJpeg = bytes.startsWith(QByteArrayLiteral("\xFF\xD8\xFF"));
    const bool isPng = bytes.startsWith(QByteArrayLiteral("\x89PNG\r\n\x1A\n"));
    if (!isJpeg && !isPng) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1 was not taken in: it is neither a JPEG nor a PNG picture. "
                                   "Choose a photo, or save this one as JPEG.")
                        .arg(fileName));
    }
    const std::optional<Size> size = isJpeg ? jpegSize(bytes) : pngSize(bytes);
    if (!size || size->width < 1 || size->height < 1) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1 was not taken in: the picture is damaged or cut short. Copy "
                                   "it from the camera again.")
                        .arg(fileName));
    }
    return ImageFacts{isJpeg ? QStringLiteral("jpg") : QStringLiteral("png"), size->width,
                      size->height};
}

} // namespace keyround
