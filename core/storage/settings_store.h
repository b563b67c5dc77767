// SPDX-License-Identifier: GPL-3.0-or-later
// What the project has been told: units, utility, policy, tolerances, times, yard, and the column
// matches of past imports.
#pragma once

#include "core/common/result.h"
#include "core/dayplan/plan.h"
#include "core/dayplan/round.h"
#include "core/fieldlog/judgement.h"
#include "core/schedule/policy.h"

#include <QMap>

#include <optional>

namespace keyround {

class Project;

struct ProjectSettings
{
    UnitSystem units = UnitSystem::Us;
    QString utility;              ///< the utility's name, for sheets
    std::optional<GeoPoint> yard; ///< where rounds start and finish unless told otherwise
    QStringList crews{QStringLiteral("Crew 1")};
    Shift shift;
    StopTimes stopTimes;
    TravelSettings travel;
    Tolerance tolerance;
    Policy policy = startingPolicy();
};

class SettingsStore
{
public:
    explicit SettingsStore(Project &project, QString connection);

    [[nodiscard]] Result<ProjectSettings> load() const;
    [[nodiscard]] Status save(const ProjectSettings &settings);

    /// The column match (field key to column) last used for files with this layout.
    [[nodiscard]] Result<QMap<QString, QString>> columnMatch(const QString &layoutKey) const;
    [[nodiscard]] Status saveColumnMatch(const QString &layoutKey,
                                         const QMap<QString, QString> &match);

private:
    Project &m_project;
    QString m_connection;
};

} // namespace keyround
