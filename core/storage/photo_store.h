// SPDX-License-Identifier: GPL-3.0-or-later
// Photos of the project. The pictures lie as files in a folder beside the project file
// (NAME.photos/), each named by the SHA-256 of its bytes; whose they are, and a thumbnail, are rows
// of the log inside the project.
//
// Why not inside the one file: a photo is written once and never changed, so it gains nothing from
// transactions, and it is a thousand times the size of a visit. In the file, each back-up at a
// finished round and each copy before a migration would hold all photos again, and each opening
// would read them all. Beside it they cost one flush each when they are taken in, two laptops'
// folders come together by copying, and a project whose folder was left behind still opens and
// shows the thumbnails.
//
// Order of writing: the picture, flushed under its name, before the row that names it. A power cut
// between the two leaves a file that nobody names, never a row without a file.
#pragma once

#include "core/fieldlog/photo.h"
#include "core/storage/project.h"

namespace keyround {

class PhotoStore
{
public:
    explicit PhotoStore(Project &project, QString connection);

    /// NAME.photos beside the project.
    [[nodiscard]] QString folder() const;
    [[nodiscard]] QString pathOf(const Photo &photo) const;

    /// Takes a picture in. Id, stamp, owner, names, moments and thumbnail come with `photo`; hash,
    /// kind and size are read off the bytes. BadInput: not a picture; NotFound: no such valve.
    [[nodiscard]] Result<Photo> add(Photo photo, const QByteArray &bytes);

    /// The photos of the half-typed stop go to the visit it became; how many. Part of the caller's
    /// transaction.
    [[nodiscard]] Result<int> moveToVisit(const ValveId &valve, const RoundId &round,
                                          const VisitId &visit, const Moment &now);

    /// Strikes a photo out: it is shown no more. The row and the file stay.
    [[nodiscard]] Status strike(const Photo &photo, const Author &author, const Moment &now);

    /// All of a valve that stand, with and without a visit, by stamp.
    [[nodiscard]] Result<std::vector<Photo>> ofValve(const ValveId &valve) const;
    [[nodiscard]] Result<std::vector<Photo>> of(const PhotoOwner &owner) const;
    [[nodiscard]] Result<std::vector<Photo>> all() const;

    /// The picture's bytes, compared with the hash. NotFound: the file is not in the folder;
    /// Damaged: it is not what was taken in.
    [[nodiscard]] Result<QByteArray> read(const Photo &photo) const;

private:
    Project &m_project;
    QString m_connection;
};

} // namespace keyround
