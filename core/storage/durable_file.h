// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: files that are whole and on the disk, or not there. A new file is written under
// another name, flushed, renamed, and then the folder is flushed: without that last step a power
// cut may take the name away again.
#pragma once

#include "core/common/result.h"

#include <QByteArray>
#include <QString>

namespace keyround {

/// fsync of a file, or of a folder's list of names. False: the disk did not take it.
[[nodiscard]] bool flushToDisk(const QString &path);

/// Makes the folder where it is not there, durably.
[[nodiscard]] Status makeFolder(const QString &path);

/// Writes a file that is whole whenever it is there; one of the same name is replaced.
[[nodiscard]] Status writeDurably(const QString &path, const QByteArray &bytes);

/// Renames a file within one folder, durably; an existing target is refused.
[[nodiscard]] Status renameDurably(const QString &from, const QString &to);

} // namespace keyround
