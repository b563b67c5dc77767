// SPDX-License-Identifier: GPL-3.0-or-later
// The drawn layers beside the valves: streets, mains, hydrants, services, sources. A layer is
// brought in from a file again and again; rows are matched by number (streets: by key).
#pragma once

#include "core/common/result.h"
#include "core/inventory/features.h"
#include "core/streets/street.h"

#include <vector>

namespace keyround {

class Project;

class LayerStore
{
public:
    explicit LayerStore(Project &project, QString connection);

    [[nodiscard]] Result<std::vector<Street>> streets() const;
    [[nodiscard]] Result<std::vector<Main>> mains() const;
    [[nodiscard]] Result<std::vector<Hydrant>> hydrants() const;
    [[nodiscard]] Result<std::vector<Service>> services() const;
    [[nodiscard]] Result<std::vector<Source>> sources() const;

    /// Adds rows whose number is new, rewrites those whose number is known; deletes nothing.
    [[nodiscard]] Status put(const std::vector<Street> &rows);
    [[nodiscard]] Status put(const std::vector<Main> &rows);
    [[nodiscard]] Status put(const std::vector<Hydrant> &rows);
    [[nodiscard]] Status put(const std::vector<Service> &rows);
    [[nodiscard]] Status put(const std::vector<Source> &rows);
    /// For undoing a source that was placed by hand; one that is not there is no failure.
    [[nodiscard]] Status removeSource(const QString &number);

private:
    Project &m_project;
    QString m_connection;
};

} // namespace keyround
