// SPDX-License-Identifier: GPL-3.0-or-later
// What the project has been told: units, utility, policy, tolerances, times, yard, crews, breaks,
// busy hours, skills, holidays, what was learned of times, habits of work zones, loading, the work
// at the stop and repairs, and the column matches of past imports.
#pragma once

#include "core/common/result.h"
#include "core/dayplan/crew.h"
#include "core/dayplan/learned_times.h"
#include "core/dayplan/load_list.h"
#include "core/dayplan/notice.h"
#include "core/dayplan/notice_text.h"
#include "core/dayplan/plan.h"
#include "core/fieldlog/judgement.h"
#include "core/fieldlog/truck_habits.h"
#include "core/repairs/repair_habits.h"
#include "core/schedule/policy.h"
#include "core/storage/back_up_habits.h"
#include "core/streets/turn_rules.h"
#include "core/workzone/busy_hours.h"

#include <QMap>

#include <optional>

namespace keyround {

class Project;

struct ProjectSettings
{
    UnitSystem units = UnitSystem::Us;
    QString utility;              ///< the utility's name, for sheets
    std::optional<GeoPoint> yard; ///< where rounds start and finish unless told otherwise
    std::vector<Crew> crews{Crew{.name = QStringLiteral("Crew 1")}};
    Shift shift;
    std::vector<ShiftBreak> breaks{ShiftBreak{}};
    std::vector<BusyHours> busyHours;
    std::vector<SkillNeed> skillNeeds;
    QList<QDate> holidays; ///< nobody works, whatever a crew's weekdays are
    NoticeLead notice;
    NoticeTemplates noticeTemplates; ///< the utility's own wordings
    /// How much of a due valve's priority the services count for that its failing would cost: 0
    /// leaves the policy's order; 1 doubles the priority of the valve that costs most.
    double shutWeight = 0.5;
    LearnedTimes learned;
    StopTimes stopTimes;
    SetUpHabits setUpHabits;
    LoadHabits loadHabits;
    std::vector<SetUpOverride> savedSetUps; ///< the utility's own, each with a name
    /// In mph: where a street of a town begins to be of high speed. The agency's to say; this is
    /// common practice, no source.
    double urbanLowSpeedTo = 40;
    TravelSettings travel;
    TurnRules turns; ///< of the drive graph: driving side, U-turns, seconds a turn
    Tolerance tolerance;
    TruckHabits truckHabits;
    BackUpHabits backUps;
    Policy policy = startingPolicy();
    RepairHabits repairs = startingRepairHabits();
};

[[nodiscard]] QStringList crewNames(const ProjectSettings &settings);
/// The crew of this name, in any case; one that only has the name where the project knows none.
[[nodiscard]] Crew crewNamed(const ProjectSettings &settings, const QString &name);
/// A round of the crew on the day, without stops and without an id: the crew's own shift and yard
/// where it has them, else the project's; the project's breaks.
[[nodiscard]] Round emptyRound(const ProjectSettings &settings, const QString &crew,
                               const QDate &date);

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
