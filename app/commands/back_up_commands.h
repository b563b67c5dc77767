// SPDX-License-Identifier: GPL-3.0-or-later
// Putting a back-up in the project's place, and getting a damaged project out of its ruins. Both
// set the file that was there aside under a dated name; nothing is overwritten, and it can be put
// back the same way.
#pragma once

#include "app/shell/session.h"
#include "core/storage/recover.h"

namespace keyround {

/// Closes the project when it is open, restores, and opens it again. The path under which the file
/// that was there is kept. On failure the project is open again as it was.
[[nodiscard]] Result<QString> restoreProject(Session &session, const QString &project,
                                             const QString &backUp);

/// Reads the damaged file row by row into a new one, puts that in its place and opens it. A report
/// is kept beside it.
[[nodiscard]] Result<Recovery> recoverInPlace(Session &session, const QString &project);

} // namespace keyround
