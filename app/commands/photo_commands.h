// SPDX-License-Identifier: GPL-3.0-or-later
// Photos at a valve. What is taken in stays in the project; striking out only hides it.
#pragma once

#include "app/shell/session.h"
#include "core/fieldlog/photo.h"

namespace keyround {

/// Copies the file into the project with its hash and a thumbnail, for the visit or the half-typed
/// stop (no visit). On success it is on disk. recordVisit() hands a stop's photos to its visit.
/// Only whole JPEG and PNG pictures are taken, turned upright for the thumbnail only.
[[nodiscard]] Result<Photo> addPhoto(Session &session, const PhotoOwner &owner,
                                     const QString &path);
[[nodiscard]] Status strikePhoto(Session &session, const Photo &photo);

/// Those that stand, by stamp; a failing read is said through the notifier.
[[nodiscard]] std::vector<Photo> photosOf(Session &session, const PhotoOwner &owner);
[[nodiscard]] std::vector<Photo> photosOfValve(Session &session, const ValveId &valve);

/// The pictures of a camera's folder, newest first: what lookAtImage() could take, by suffix.
[[nodiscard]] QStringList picturesIn(const QString &folder);

} // namespace keyround
