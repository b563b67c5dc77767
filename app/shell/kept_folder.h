// SPDX-License-Identifier: GPL-3.0-or-later
// Where half-typed stops are kept that a project could not take: the user's own data folder, most
// often another disk than the project's.
#pragma once

#include <QStandardPaths>
#include <QString>

namespace keyround {

[[nodiscard]] inline QString keptStopsFolder()
{
    return QStandardPaths::writableLocation(QStandardPaths::AppDataLocation) +
           QStringLiteral("/kept-stops");
}

} // namespace keyround
