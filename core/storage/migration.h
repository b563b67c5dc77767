// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: the numbered steps from an empty file to the present schema. The list is handed
// in wherever it is used, so that a test can walk the road with a step of its own.
#pragma once

#include "core/common/result.h"

#include <QString>
#include <QStringList>

#include <vector>

namespace keyround {

struct Migration
{
    int version = 0; ///< the schema after this step; steps count 1, 2, 3, ...
    QStringList statements;
};

/// The steps that this program ships (resources/schema), for SQLite.
[[nodiscard]] const std::vector<Migration> &shippedMigrations();

/// Splits a script into its statements: at semicolons outside of quotes, comments and the
/// BEGIN ... END of a trigger. Comments are dropped.
[[nodiscard]] QStringList splitScript(const QString &script);

/// Runs the steps after schema `from`, within the caller's transaction, and writes the number
/// of the last one into the file.
[[nodiscard]] Status runMigrations(const QString &connection,
                                   const std::vector<Migration> &migrations, int from);

} // namespace keyround
