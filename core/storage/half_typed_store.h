// SPDX-License-Identifier: GPL-3.0-or-later
// What a person has typed and not yet recorded, outside of the Truck's stops: kept under a name, as
// the screen's own JSON, with a hash; see VisitStore for half-typed stops.
#pragma once

#include "core/common/clock.h"
#include "core/common/result.h"

#include <QJsonObject>
#include <QStringList>

#include <optional>
#include <vector>

namespace keyround {

class Project;
class Statement;

struct HalfTyped
{
    QString name; ///< "paper sheet <round>"
    QJsonObject content;
    Moment savedAt;
};

class HalfTypedStore
{
public:
    explicit HalfTypedStore(Project &project, QString connection);

    [[nodiscard]] Status save(const HalfTyped &typed);
    /// Empty when nothing is kept under the name; Damaged when it does not match its hash.
    [[nodiscard]] Result<std::optional<HalfTyped>> load(const QString &name) const;
    [[nodiscard]] Status drop(const QString &name);
    [[nodiscard]] Result<QStringList> names() const; ///< newest first
    [[nodiscard]] Result<std::vector<HalfTyped>> all() const;

private:
    Project &m_project;
    QString m_connection;
};

// Inside storage, for recovering row by row.
[[nodiscard]] QString halfTypedColumns();
[[nodiscard]] bool halfTypedMatchesHash(const Statement &row);

} // namespace keyround
