// SPDX-License-Identifier: GPL-3.0-or-later
// Repairs in the project file: rows of the log, written once and never changed.
#pragma once

#include "core/common/result.h"
#include "core/fieldlog/replacement.h"
#include "core/repairs/repair_request.h"

#include <vector>

namespace keyround {

class Project;

class RepairStore
{
public:
    explicit RepairStore(Project &project, QString connection);

    /// Its id and stamp must be set. Writing the same row twice is no error.
    [[nodiscard]] Status add(const Replacement &replacement);
    /// All, those that were taken back too, by stamp: see standingReplacements().
    [[nodiscard]] Result<std::vector<Replacement>> replacements() const;

    /// Ids and stamps must be set; all of them or none.
    [[nodiscard]] Status add(const std::vector<RepairEvent> &events);
    /// All rows of all requests, by stamp: see foldRequests().
    [[nodiscard]] Result<std::vector<RepairEvent>> events() const;

private:
    Project &m_project;
    QString m_connection;
};

} // namespace keyround
