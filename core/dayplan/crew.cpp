// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/crew.h"

#include <algorithm>

namespace keyround {

namespace {

bool names(const QStringList &skills, const QString &skill)
{
    const QString wanted = skill.simplified();
    for (const QString &other : skills) {
        if (other.simplified().compare(wanted, Qt::CaseInsensitive) == 0) {
            return true;
        }
    }
    return false;
}

} // namespace

bool worksOn(const Crew &crew, const QDate &date)
{
    return date.isValid() && crew.weekdays.contains(date.dayOfWeek()) &&
           !crew.daysOff.contains(date);
}

QStringList skillsFor(const std::vector<SkillNeed> &needs, const Valve &valve)
{
    QStringList skills;
    for (const SkillNeed &need : needs) {
        const bool large = !need.sizeFrom || (valve.size.isKnown() && valve.size >= *need.sizeFrom);
        const bool kind = need.types.isEmpty() || need.types.contains(valve.type);
        const QString skill = need.skill.simplified();
        if (large && kind && !skill.isEmpty() && !names(skills, skill)) {
            skills << skill;
        }
    }
    return skills;
}

QStringList missingSkills(const QStringList &crewSkills, const QStringList &needed)
{
    QStringList missing;
    for (const QString &skill : needed) {
        if (!names(crewSkills, skill) && !names(missing, skill)) {
            missing << skill.simplified();
        }
    }
    return missing;
}

QStringList missingSkills(const Crew &crew, const QStringList &needed)
{
    return missingSkills(crew.skills, needed);
}

QString skillsText(const QStringList &missing)
{
    return QStringLiteral("Needs a crew with: %1.").arg(missing.join(QStringLiteral(", ")));
}

QList<QDate> workingDays(const Crew &crew, const QDate &first, int count)
{
    // Each week has a working day, and each day off costs one at most; a crew without any weekday
    // has no days.
    QList<QDate> days;
    const qint64 last = 7LL * (std::max(count, 0) + crew.daysOff.size() + 1);
    for (qint64 i = 0; i < last && days.size() < count; ++i) {
        const QDate day = first.addDays(i);
        if (worksOn(crew, day)) {
            days << day;
        }
    }
    return days;
}

} // namespace keyround
