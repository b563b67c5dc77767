// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: looking at a file and its place before the database touches either. Everything
// that can be refused is refused here, from the file's first 100 bytes (the SQLite header,
// sqlite.org/fileformat2.html section 1.3), so that a refused file keeps every byte.
#pragma once

#include "core/common/result.h"

#include <QByteArray>
#include <QString>

#include <cstdint>

namespace keyround {

/// The application_id of a project file: "KEYR".
inline constexpr std::uint32_t projectApplicationId = 0x4B455952;

/// What is wrong with reading this file, or its schema version; its place is not looked at.
[[nodiscard]] Result<int> checkProjectHeader(const QString &path, int newestKnownSchema);

/// What is wrong with opening this file, or its schema version.
[[nodiscard]] Result<int> checkProjectFile(const QString &path, int newestKnownSchema);

/// What is wrong with making a file at this path: it exists, no folder, read-only, network.
[[nodiscard]] Status checkNewFile(const QString &path);

/// True for file systems that are reached over a network, where locks and flushes cannot be
/// trusted (sqlite.org/howtocorrupt.html section 2.1).
[[nodiscard]] bool isNetworkFileSystem(const QByteArray &type);

/// The refusal of a file with a newer schema.
[[nodiscard]] Error newerSchemaError(const QString &path, int found, int known);

} // namespace keyround
