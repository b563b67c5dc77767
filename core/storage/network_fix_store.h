// SPDX-License-Identifier: GPL-3.0-or-later
// What people decided about the pipe network by hand, in the project file.
#pragma once

#include "core/common/result.h"
#include "core/mains/network_fixes.h"

namespace keyround {

class Project;

class NetworkFixStore
{
public:
    explicit NetworkFixStore(Project &project, QString connection);

    [[nodiscard]] Result<NetworkFixes> load() const;
    /// All of it in one transaction: what is not in `fixes` is forgotten.
    [[nodiscard]] Status save(const NetworkFixes &fixes);

private:
    Project &m_project;
    QString m_connection;
};

} // namespace keyround
