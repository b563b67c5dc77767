// SPDX-License-Identifier: GPL-3.0-or-later
// The dated back-ups beside a project (NAME.backups/): what there is, which may go, and putting one
// back. Restoring never overwrites: the present file is set aside under a dated name first. Photos
// (NAME.photos/) are never part of a back-up and stay where they are: they are only ever added to.
#pragma once

#include "core/common/clock.h"
#include "core/common/result.h"
#include "core/storage/back_up_habits.h"

#include <QDateTime>
#include <QString>

#include <optional>
#include <vector>

namespace keyround {

struct BackUp
{
    QString path;
    QDateTime made; ///< as its name says: the laptop's wall time
    qint64 bytes = 0;
};

/// What lies in a back-up, read without changing it.
struct BackUpContent
{
    int visits = 0;
    HybridTime lastStamp; ///< of the last visit; 0: none
};

[[nodiscard]] QString backUpFolder(const QString &project);

/// Newest first, by the dates in their names. Files of other names in the folder are not ours.
[[nodiscard]] std::vector<BackUp> backUpsOf(const QString &project);

/// Damaged or Refused where it is not a sound project of a schema that this program knows.
[[nodiscard]] Result<BackUpContent> lookInto(const BackUp &backUp);

/// Of a list with the newest first: those beyond the count that are older than the days. The
/// newest one never goes.
[[nodiscard]] std::vector<BackUp> surplus(const std::vector<BackUp> &newestFirst,
                                          const BackUpHabits &habits, const QDate &today);

/// Removes what surplus() names; how many went.
[[nodiscard]] int pruneBackUps(const QString &project, const BackUpHabits &habits,
                               const QDate &today);

/// Makes the back-up the project, after it was checked whole on a copy; the project must not be
/// open. The path under which the file that was there is kept now; empty where there was none.
[[nodiscard]] Result<QString> restoreBackUp(const QString &project, const QString &backUp,
                                            const Moment &now);

/// Puts a file (which is moved) in the project's place, as above.
[[nodiscard]] Result<QString> replaceProject(const QString &project, const QString &with,
                                             const Moment &now);

} // namespace keyround
