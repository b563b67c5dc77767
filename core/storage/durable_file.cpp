// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/durable_file.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>

#include <cstdio>

#ifdef Q_OS_UNIX
#include <fcntl.h>
#include <unistd.h>
#endif

namespace keyround {

namespace {

Status notWritten(const QString &path, const QString &why)
{
    return fail(ErrorCode::StorageFault,
                QStringLiteral("%1 could not be written (%2). Check that the disk has room and may "
                               "be written, then do it again.")
                    .arg(QDir::toNativeSeparators(path), why));
}

} // namespace

bool flushToDisk(const QString &path)
{
#ifdef Q_OS_UNIX
    const int handle = ::open(QFile::encodeName(path).constData(), O_RDONLY | O_CLOEXEC);
    if (handle < 0) {
        return false;
    }
    const bool flushed = ::fsync(handle) == 0;
    ::close(handle);
    return flushed;
#else
    return QFile::exists(path);
#endif
}

Status makeFolder(const QString &path)
{
    if (QFileInfo(path).isDir()) {
        return {};
    }
    if (!QDir().mkpath(path) || !flushToDisk(QFileInfo(path).absolutePath())) {
        return notWritten(path, QStringLiteral("the folder could not be made"));
    }
    return {};
}

Status writeDurably(const QString &path, const QByteArray &bytes)
{
    const QString part = path + QStringLiteral(".part");
    QFile file(part);
    if (!file.open(QIODevice::WriteOnly | QIODevice::Truncate)) {
        return notWritten(path, file.errorString());
    }
    const bool written = file.write(bytes) == bytes.size() && file.flush();
    const QString why = file.errorString();
    file.close();
    if (!written || !flushToDisk(part)) {
        QFile::remove(part);
        return notWritten(path, written ? QStringLiteral("the disk did not take it") : why);
    }
    // rename(2) replaces in one step, which QFile::rename() does not.
    if (std::rename(QFile::encodeName(part).constData(), QFile::encodeName(path).constData()) !=
            0 ||
        !flushToDisk(QFileInfo(path).absolutePath())) {
        QFile::remove(part);
        return notWritten(path, QStringLiteral("the disk did not take its name"));
    }
    return {};
}

Status renameDurably(const QString &from, const QString &to)
{
    if (QFileInfo::exists(to)) {
        return fail(
            ErrorCode::Refused,
            QStringLiteral("%1 exists already and is never overwritten. Choose another name.")
                .arg(QDir::toNativeSeparators(to)));
    }
    if (!QFile::rename(from, to) || !flushToDisk(QFileInfo(to).absolutePath())) {
        return notWritten(
            to, QStringLiteral("%1 could not be renamed").arg(QDir::toNativeSeparators(from)));
    }
    return {};
}

} // namespace keyround
