// SPDX-License-Identifier: GPL-3.0-or-later
// Valves in the project file, and the record of every change to one: which field, from what, to
// what, who, when. Nothing is deleted: a valve that is gone is retired.
#pragma once

#include "core/common/clock.h"
#include "core/common/result.h"
#include "core/inventory/valve.h"
#include "core/inventory/valve_fields.h"
#include "core/storage/project.h"

#include <vector>

namespace keyround {

struct ValveEdit
{
    EditId id;
    ValveId valve;
    ValveField field = ValveField::Number;
    QString before; ///< valveFieldStored() text
    QString after;
    Author author;
    Moment when;
    QString why; ///< "edited", "import valves.csv", "undo"
};

class ValveStore
{
public:
    explicit ValveStore(Project &project, QString connection);

    [[nodiscard]] Result<std::vector<Valve>> all() const;
    [[nodiscard]] Result<Valve> byNumber(const QString &number) const;
    /// Adds a valve; its id must be set and its number new (else BadInput). One edit row records
    /// it: the number, from nothing.
    [[nodiscard]] Status add(const Valve &valve, const Author &author, const Moment &now,
                             const QString &why);
    /// Adds many, all or none, with their statements prepared once.
    [[nodiscard]] Status addAll(const std::vector<Valve> &valves, const Author &author,
                                const Moment &now, const QString &why);
    /// Writes the valve's present values and one edit row for each field that differs.
    [[nodiscard]] Status update(const Valve &valve, const Author &author, const Moment &now,
                                const QString &why);
    /// Newest first.
    [[nodiscard]] Result<std::vector<ValveEdit>> edits(const ValveId &valve) const;

private:
    [[nodiscard]] Status record(const std::vector<ValveEdit> &edits);

    Project &m_project;
    QString m_connection;
};

} // namespace keyround
