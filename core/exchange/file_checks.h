// SPDX-License-Identifier: GPL-3.0-or-later
// Looking at a file's outside before GDAL opens it: is it there, is it whole, is it inside what its
// name says. Most broken files are told apart here, where the message can say what to do.
#pragma once

#include "core/common/result.h"

#include <QString>

namespace keyround {

struct FileFormat
{
    const char *driver = nullptr; ///< GDAL's short name
    const char *words = nullptr;  ///< "a GeoPackage"
    bool isText = false;          ///< a plain table, read by way of csv_text.h
};

/// The format that the file at `path` has, or an error that says what is wrong with it.
[[nodiscard]] Result<FileFormat> checkFile(const QString &path);

/// "CSV, XLSX, ODS, GeoPackage ...", for messages.
[[nodiscard]] QString formatsTaken();

/// The largest files that are taken: tables in text are held in memory, the others are not.
inline constexpr qint64 mostTextBytes = 512LL * 1024 * 1024;
inline constexpr qint64 mostBytes = 2LL * 1024 * 1024 * 1024;

} // namespace keyround
