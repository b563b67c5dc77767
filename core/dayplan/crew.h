// SPDX-License-Identifier: GPL-3.0-or-later
// A crew: where and when it works and what it is able to do, and which valves ask for that.
#pragma once

#include "core/dayplan/round.h"
#include "core/inventory/valve.h"

#include <QList>

#include <optional>

namespace keyround {

struct Crew
{
    QString name;
    std::optional<GeoPoint> yard = {};  ///< its own; empty: the project's
    std::optional<Shift> shift = {};    ///< its own; empty: the project's
    QStringList skills = {};            ///< the utility's own words: "geared gate", "large valves"
    QList<int> weekdays{1, 2, 3, 4, 5}; ///< 1 Monday to 7 Sunday
    QList<QDate> daysOff = {};
    friend bool operator==(const Crew &, const Crew &) = default;
};
[[nodiscard]] bool worksOn(const Crew &crew, const QDate &date);
/// The next `count` working days of a crew, from `first` on; none for one that works on no weekday.
[[nodiscard]] QList<QDate> workingDays(const Crew &crew, const QDate &first, int count);

/// Which valves ask for a skill: all limits that are given must be met.
struct SkillNeed
{
    QString skill;
    std::optional<NominalSize> sizeFrom; ///< inclusive
    QList<ValveType> types;              ///< empty: any
    friend bool operator==(const SkillNeed &, const SkillNeed &) = default;
};
/// A valve whose size is not known is not large.
[[nodiscard]] QStringList skillsFor(const std::vector<SkillNeed> &needs, const Valve &valve);
/// Those of the needed skills that the crew lacks; skills are compared in any case.
[[nodiscard]] QStringList missingSkills(const Crew &crew, const QStringList &needed);
[[nodiscard]] QStringList missingSkills(const QStringList &crewSkills, const QStringList &needed);
/// "Needs a crew with: geared gate, large valves."
[[nodiscard]] QString skillsText(const QStringList &missing);

} // namespace keyround
