// SPDX-License-Identifier: GPL-3.0-or-later
// The drawn layers beside the valves: streets, mains, hydrants, services, sources. A layer is
// brought in from a file again and again; rows are matched by number (streets: by key).
#pragma once

#include "core/common/clock.h"
#include "core/common/result.h"
#include "core/inventory/features.h"
#include "core/streets/street.h"

#include <QDate>

#include <vector>

namespace keyround {

class Project;

/// How many services have a customer's name or phone that came in on a day; null: nobody knows.
struct ContactAge
{
    QDate since;
    int services = 0;
};

/// That names and phones were deleted; the log keeps this, and nothing of what they were.
struct ContactsPurged
{
    Moment at;
    QDate before;
    int services = 0;
    QString person;
    QString device;
    HybridTime stamp;
};

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
    /// `contactsSince`: the day on which their names and phones came in, to be forgotten by age.
    /// Services whose name and phone are as they were keep the day that they had.
    [[nodiscard]] Status put(const std::vector<Service> &rows, const QDate &contactsSince = {});
    [[nodiscard]] Status put(const std::vector<Source> &rows);
    [[nodiscard]] Result<std::vector<ContactAge>> contactAges() const; ///< oldest first
    /// Empties name and phone of every service whose contact came in before that day, or nobody
    /// knows when, and writes the row into the log. Overwritten on the disk too; back-ups keep
    /// what they hold.
    [[nodiscard]] Status purgeContacts(const ContactsPurged &purged);
    [[nodiscard]] Result<std::vector<ContactsPurged>> contactPurges() const; ///< by stamp

    /// For undoing a source that was placed by hand; one that is not there is no failure.
    [[nodiscard]] Status removeSource(const QString &number);

private:
    Project &m_project;
    QString m_connection;
};

} // namespace keyround
