// SPDX-License-Identifier: GPL-3.0-or-later
// Photos taken at a valve. One belongs to a half-typed stop (a valve in a round) until the stop is
// recorded, and from then on to the visit. The picture itself lies in a file that is named by the
// SHA-256 of its bytes; what stands here says whose it is.
//
// Rows only ever get added (a photo, where it went, that it was struck out), so that two laptops'
// photos come together as a union: standingPhotos() gives the same from any order of the rows.
#pragma once

#include "core/common/clock.h"
#include "core/common/ids.h"
#include "core/common/result.h"

#include <QByteArray>
#include <QString>

#include <vector>

namespace keyround {

using PhotoId = Id<struct PhotoTag>;

/// Whose a photo is: of a visit, or (without a visit) of the half-typed stop of this valve in this
/// round; a stop outside a round has the null round.
struct PhotoOwner
{
    ValveId valve;
    RoundId round;
    VisitId visit;
    friend bool operator==(const PhotoOwner &, const PhotoOwner &) = default;
};

struct Photo
{
    PhotoId id;
    PhotoOwner owner;
    QString sha256;   ///< of the file's bytes, hexadecimal
    QString suffix;   ///< "jpg" or "png": what the bytes are, whatever the file was called
    QString fileName; ///< as the camera called it
    qint64 bytes = 0;
    int width = 0; ///< pixels, as stored (before any turning that the file asks for)
    int height = 0;
    Moment taken; ///< when the camera wrote the file
    Moment added;
    QByteArray thumbnail; ///< a small JPEG, upright; may be empty
    QString person;
    QString device;
    HybridTime stamp;
    friend bool operator==(const Photo &, const Photo &) = default;
};

/// A photo went to a visit, or was struck out (`visit` null).
struct PhotoMove
{
    PhotoId photo;
    VisitId visit;
    HybridTime stamp;
};

/// The photos that were not struck out, each with its present owner, by stamp and id. The latest
/// move to a visit stands; striking out stands for good.
[[nodiscard]] std::vector<Photo> standingPhotos(std::vector<Photo> photos,
                                                const std::vector<PhotoMove> &moves);

/// What the bytes of a picture say of themselves.
struct ImageFacts
{
    QString suffix;
    int width = 0;
    int height = 0;
};

/// A photo's file may not be larger: a telephone's photo has 3 to 12 MB (common practice, no
/// source), and everything larger is most likely a film or a scan picked by mistake.
inline constexpr qint64 photoBytesAtMost = qint64{32} * 1024 * 1024;

/// Looks through the parts of a JPEG (ITU-T T.81 annex B) or PNG (ISO/IEC 15948 section 5) to its
/// end, without decoding it. BadInput: neither, cut short, without a size, or too large a file.
[[nodiscard]] Result<ImageFacts> lookAtImage(const QByteArray &bytes, const QString &fileName);

} // namespace keyround
