// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/file_check.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QStorageInfo>
#include <QtEndian>

#include <algorithm>
#include <array>

namespace keyround {

namespace {

constexpr qsizetype headerSize = 100;

// Offsets into the header of an SQLite file.
constexpr qsizetype pageSizeAt = 16;
constexpr qsizetype changeCounterAt = 24;
constexpr qsizetype pageCountAt = 28;
constexpr qsizetype userVersionAt = 60;
constexpr qsizetype applicationIdAt = 68;
constexpr qsizetype versionValidForAt = 92;

const QByteArray &sqliteMagic()
{
    static const QByteArray magic("SQLite format 3\0", 16);
    return magic;
}

std::uint32_t bigEndian32(const QByteArray &header, qsizetype at)
{
    return qFromBigEndian<quint32>(header.constData() + at);
}

QString shown(const QString &path)
{
    return QDir::toNativeSeparators(path);
}

Status checkPlace(const QFileInfo &file)
{
    const QFileInfo folder(file.absolutePath());
    if (!folder.isDir()) {
        return fail(ErrorCode::NotFound,
                    QStringLiteral("The folder %1 does not exist. Make it, or choose another.")
                        .arg(shown(folder.filePath())));
    }
    const QStorageInfo storage(folder.filePath());
    if (isNetworkFileSystem(storage.fileSystemType())) {
        return fail(
            ErrorCode::Refused,
            QStringLiteral("%1 lies on a network drive (%2), where a project file can be "
                           "damaged. Keep it on this computer's own disk; copy it to the "
                           "network when it is closed.")
                .arg(shown(file.filePath()), QString::fromLatin1(storage.fileSystemType())));
    }
    // The journal is written beside the file, so the folder must be writable too.
    if (storage.isReadOnly() || !folder.isWritable()) {
        return fail(ErrorCode::Refused,
                    QStringLiteral("The folder %1 cannot be written. Copy the project to a folder "
                                   "of your own, or ask for the right to write there.")
                        .arg(shown(folder.filePath())));
    }
    return {};
}

Error cutShort(const QString &path)
{
    return Error{ErrorCode::Damaged,
                 QStringLiteral("%1 is cut short: its end is missing. It was left as it is. Copy "
                                "it again from where it came, or open the newest back-up.")
                     .arg(shown(path))};
}

Error notAProject(const QString &path, const QByteArray &header)
{
    const bool isText = std::none_of(header.begin(), header.end(), [](char c) {
        const auto byte = static_cast<unsigned char>(c);
        return byte < 0x20 && c != '\t' && c != '\n' && c != '\r' && c != '\f';
    });
    return Error{ErrorCode::Refused,
                 (isText ? QStringLiteral("%1 is a text file, not a Keyround project. To bring in "
                                          "its rows, open a project and import the file.")
                         : QStringLiteral("%1 is not a Keyround project. It was left as it is. "
                                          "Choose a file that ends in .keyround."))
                     .arg(shown(path))};
}

// A shorter file than its header says has lost its end, unless a journal waits to restore it.
bool isTruncated(const QFileInfo &file, const QByteArray &header)
{
    if (QFileInfo(file.filePath() + QStringLiteral("-journal")).size() > 0) {
        return false;
    }
    if (bigEndian32(header, changeCounterAt) != bigEndian32(header, versionValidForAt)) {
        return false; // then the header's page count does not count (file format, 1.3.8)
    }
    const auto stored = qFromBigEndian<quint16>(header.constData() + pageSizeAt);
    const qint64 pageSize = stored == 1 ? 65536 : stored;
    return file.size() < pageSize * qint64{bigEndian32(header, pageCountAt)};
}

/// The schema that the file's first bytes name, or why this program cannot open it.
Result<int> schemaIn(const QByteArray &header, const QString &path, int newestKnownSchema)
{
    const bool isDatabase = header.startsWith(sqliteMagic());
    if (!isDatabase) {
        return tl::unexpected(sqliteMagic().startsWith(header) ? cutShort(path)
                                                               : notAProject(path, header));
    }
    if (header.size() < headerSize) {
        return tl::unexpected(cutShort(path));
    }
    if (bigEndian32(header, applicationIdAt) != projectApplicationId) {
        return fail(ErrorCode::Refused,
                    QStringLiteral("%1 is a database of another program, not a Keyround project. "
                                   "It was left as it is. To bring in its layers, open a project "
                                   "and import the file.")
                        .arg(shown(path)));
    }
    const auto version = static_cast<int>(bigEndian32(header, userVersionAt));
    if (version > newestKnownSchema) {
        return tl::unexpected(newerSchemaError(path, version, newestKnownSchema));
    }
    if (version < 1) {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("%1 does not say which schema it has. It was "
                                   "left as it is. Open the newest back-up.")
                        .arg(shown(path)));
    }
    return version;
}

} // namespace

bool isNetworkFileSystem(const QByteArray &type)
{
    static constexpr std::array names{"nfs",    "nfs4",       "cifs",     "smb",   "smb2",
                                      "smb3",   "smbfs",      "smbnetfs", "sshfs", "davfs",
                                      "davfs2", "afs",        "ncpfs",    "ceph",  "glusterfs",
                                      "rclone", "gvfsd-fuse", "webdav",   "afpfs", "s3fs"};
    QByteArray name = type.toLower();
    if (name.startsWith("fuse.")) {
        name = name.mid(5);
    }
    return std::any_of(names.begin(), names.end(),
                       [&name](const char *known) { return name == known; });
}

Error newerSchemaError(const QString &path, int found, int known)
{
    return Error{ErrorCode::Refused,
                 QStringLiteral("%1 was written by a newer Keyround (schema %2; this program knows "
                                "%3). It was left as it is. Install the newer Keyround to open it.")
                     .arg(shown(path))
                     .arg(found)
                     .arg(known)};
}

Result<int> checkProjectHeader(const QString &path, int newestKnownSchema)
{
    const QFileInfo info(path);
    if (!info.exists()) {
        return fail(
            ErrorCode::NotFound,
            QStringLiteral("There is no file %1. Check the name and the folder.").arg(shown(path)));
    }
    if (info.isDir()) {
        return fail(
            ErrorCode::Refused,
            QStringLiteral("%1 is a folder. Choose the .keyround file in it.").arg(shown(path)));
    }
    if (info.size() == 0) {
        return fail(ErrorCode::Refused,
                    QStringLiteral("%1 is empty: it was never filled, or its content is lost. Open "
                                   "a back-up, or delete it and make a new project.")
                        .arg(shown(path)));
    }
    QFile file(path);
    if (!file.open(QIODevice::ReadOnly)) {
        return fail(ErrorCode::Refused, QStringLiteral("%1 cannot be read (%2). Ask for the right "
                                                       "to read and write it.")
                                            .arg(shown(path), file.errorString()));
    }
    const QByteArray header = file.read(headerSize);
    file.close();
    Result<int> version = schemaIn(header, path, newestKnownSchema);
    if (!version) {
        return version;
    }
    if (isTruncated(info, header)) {
        return tl::unexpected(cutShort(path));
    }
    return version;
}

Result<int> checkProjectFile(const QString &path, int newestKnownSchema)
{
    Result<int> version = checkProjectHeader(path, newestKnownSchema);
    if (!version) {
        return version;
    }
    const QFileInfo info(path);
    if (Status place = checkPlace(info); !place) {
        return tl::unexpected(place.error());
    }
    if (!info.isWritable()) {
        return fail(ErrorCode::Refused,
                    QStringLiteral("%1 is read-only. Make it writable, or work on a copy.")
                        .arg(shown(path)));
    }
    return version;
}

Status checkNewFile(const QString &path)
{
    const QFileInfo info(path);
    if (info.isDir()) {
        return fail(ErrorCode::Refused,
                    QStringLiteral("%1 is a folder. Give the new project a file name in it.")
                        .arg(shown(path)));
    }
    if (info.exists() || info.isSymLink()) {
        return fail(ErrorCode::Refused,
                    QStringLiteral("%1 exists already and is never overwritten. Open it, or choose "
                                   "another name.")
                        .arg(shown(path)));
    }
    return checkPlace(info);
}

} // namespace keyround
