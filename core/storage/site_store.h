// SPDX-License-Identifier: GPL-3.0-or-later
// What people have said of streets and valves for their work zones, in the project file.
#pragma once

#include "core/common/result.h"
#include "core/workzone/known_sites.h"

namespace keyround {

class Project;

class SiteStore
{
public:
    explicit SiteStore(Project &project, QString connection);

    [[nodiscard]] Result<KnownSites> load() const;
    /// One that knows nothing is forgotten. BadInput for a change that names nobody.
    [[nodiscard]] Status put(const QString &streetKey, const KnownStreet &street);
    [[nodiscard]] Status put(const ValveId &valve, const KnownValve &known);

private:
    [[nodiscard]] Status putRow(const QString &kind, const QString &subject, const QString &content,
                                const std::optional<SetUpOverride> &change, bool isEmpty);

    Project &m_project;
    QString m_connection;
};

} // namespace keyround
