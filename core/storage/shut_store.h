// SPDX-License-Identifier: GPL-3.0-or-later
// Shuts and notices in the project file: rows of the log, written once and never changed.
#pragma once

#include "core/common/result.h"
#include "core/dayplan/notice.h"
#include "core/fieldlog/shut_log.h"

#include <vector>

namespace keyround {

class Project;

class ShutStore
{
public:
    explicit ShutStore(Project &project, QString connection);

    /// Ids and stamps must be set. Writing the same row twice is no error.
    [[nodiscard]] Status begin(const ShutBegun &begun);
    [[nodiscard]] Status tick(const ShutTick &tick);
    [[nodiscard]] Status add(const Notice &notice);

    /// All shuts, newest first. A step whose shut is not here (its laptop's rows have not come in
    /// yet) is kept in the file and waits.
    [[nodiscard]] Result<std::vector<ShutLog>> all() const;
    [[nodiscard]] Result<std::vector<Notice>> notices() const; ///< by stamp

private:
    Project &m_project;
    QString m_connection;
};

} // namespace keyround
