// SPDX-License-Identifier: GPL-3.0-or-later
// What a project may be told (declared in settings_json.h and day_json.h).
#include "core/storage/day_json.h"
#include "core/storage/repair_json.h"
#include "core/storage/settings_json.h"
#include "core/storage/statement.h"

#include <QSet>

#include <algorithm>

namespace keyround {

namespace {

Status refused(const QString &why)
{
    return fail(ErrorCode::BadInput, why);
}

bool areWeekdays(const QList<int> &days)
{
    return std::ranges::all_of(days,
                               [](int day) { return day >= Qt::Monday && day <= Qt::Sunday; });
}

bool areDays(const QList<QDate> &days)
{
    return std::ranges::all_of(days, [](const QDate &day) { return day.isValid(); });
}

Status checkShift(const Shift &shift)
{
    return shift.from.isValid() && shift.to.isValid()
               ? Status{}
               : refused(QStringLiteral("The shift needs a time to start and a time to end."));
}

Status checkCrews(const std::vector<Crew> &crews)
{
    QSet<QString> names;
    for (const Crew &crew : crews) {
        const QString name = crew.name.trimmed().toCaseFolded();
        if (name.isEmpty() || names.contains(name)) {
            return refused(name.isEmpty()
                               ? QStringLiteral("Every crew needs a name.")
                               : QStringLiteral("Two crews are called %1. Name them apart.")
                                     .arg(crew.name.trimmed()));
        }
        names.insert(name);
        if (!areWeekdays(crew.weekdays) || !areDays(crew.daysOff)) {
            return refused(
                QStringLiteral("%1 has a working day or a day off that is no day.").arg(crew.name));
        }
        if (crew.yard) {
            if (Status place =
                    checkPlace(*crew.yard, QStringLiteral("The yard of %1").arg(crew.name));
                !place) {
                return place;
            }
        }
        if (Status shift = checkShift(crew.shift.value_or(Shift{})); !shift) {
            return shift;
        }
    }
    return {};
}

Status checkDays(const ProjectSettings &settings)
{
    for (const ShiftBreak &each : settings.breaks) {
        if (Status sound = checkBreak(each); !sound) {
            return sound;
        }
    }
    for (const BusyHours &rule : settings.busyHours) {
        if (!rule.from.isValid() || !rule.to.isValid() || rule.from >= rule.to ||
            !areWeekdays(rule.weekdays)) {
            return refused(QStringLiteral(
                "Busy hours need a time to begin and a later one to end, on the same day."));
        }
    }
    for (const SkillNeed &need : settings.skillNeeds) {
        if (need.skill.trimmed().isEmpty()) {
            return refused(QStringLiteral("A skill that valves ask for needs a name."));
        }
    }
    if (!areDays(settings.holidays)) {
        return refused(QStringLiteral("A holiday is no day of the calendar."));
    }
    if (!(cleaned(settings.turns) == settings.turns)) {
        return refused(QStringLiteral("The seconds of a turn cannot be below nothing."));
    }
    if (settings.notice.workingDays < 0 || !(settings.notice.hours >= 0)) {
        return refused(QStringLiteral("Notice is given some time before the work, not after."));
    }
    if (settings.notice.validDays < 1) {
        return refused(QStringLiteral("A notice must count for a day at least."));
    }
    if (!(settings.shutWeight >= 0)) {
        return refused(QStringLiteral("The weight of services without water cannot be below 0."));
    }
    return checkCrews(settings.crews);
}

Status checkWordings(const NoticeTemplates &templates)
{
    QSet<QString> names;
    for (const NoticeTemplate &wording : templates.list) {
        if (Status sound = checkTemplate(wording); !sound) {
            return sound;
        }
        const QString name = wording.name.trimmed().toCaseFolded();
        if (names.contains(name)) {
            return refused(QStringLiteral("Two wordings are called \"%1\". Name them apart.")
                               .arg(wording.name.trimmed()));
        }
        names.insert(name);
    }
    if (templates.keepContactDays < 1) {
        return refused(QStringLiteral("Names and phones are kept for a day at least."));
    }
    return {};
}

/// Of work zones and loading: a set-up with no cones at all would be worked out silently.
Status checkZones(const ProjectSettings &settings)
{
    const SetUpHabits &habits = settings.setUpHabits;
    if (!(habits.workSpace.value > 0) || habits.workers < 1 || !(habits.minutesASign >= 0) ||
        !(habits.minutesACone >= 0)) {
        return refused(QStringLiteral("A work space has a length, somebody works at the valve, and "
                                      "minutes are not below 0."));
    }
    if (!(settings.urbanLowSpeedTo > 0)) {
        return refused(QStringLiteral("Low speed ends at some speed above 0."));
    }
    const LoadHabits &load = settings.loadHabits;
    if (!(load.keyAboveLid.value >= 0) || load.spareCones < 0 || load.sheetsAStop < 0) {
        return refused(QStringLiteral("What is loaded on top cannot be below 0."));
    }
    QSet<QString> names;
    for (const SetUpOverride &saved : settings.savedSetUps) {
        const QString name = saved.name.trimmed().toCaseFolded();
        if (name.isEmpty() || saved.by.trimmed().isEmpty() || names.contains(name)) {
            return refused(QStringLiteral("Each set-up that is kept has a name of its own and says "
                                          "who made it."));
        }
        names.insert(name);
    }
    return {};
}

Status checkFigure(const LearnedFigure &figure)
{
    const QString name = QStringLiteral("A learned figure");
    for (const std::optional<double> value :
         {figure.learned, figure.set, std::optional(figure.lowerQuartile),
          std::optional(figure.upperQuartile)}) {
        if (Status finite = checkFinite(value, name); !finite) {
            return finite;
        }
        if (value && *value < 0) {
            return refused(QStringLiteral("A time or a factor to plan with is below nothing."));
        }
    }
    return {};
}

Status checkLearned(const LearnedTimes &times)
{
    Status status = checkFigure(times.secondsPerTurn);
    for (const LearnedTimes::Minutes &each : times.stops) {
        status = status.and_then([&] { return checkFigure(each.minutes); });
    }
    for (const LearnedTimes::Driving &each : times.driving) {
        status = status.and_then([&] { return checkFigure(each.factor); });
    }
    return status;
}

} // namespace

Status checkBreak(const ShiftBreak &each)
{
    if (!each.earliest.isValid() || !each.latest.isValid() || each.latest < each.earliest ||
        !(each.minutes > 0) || each.minutes > 24 * 60) {
        return refused(QStringLiteral("A break needs minutes, and a time to begin that is not "
                                      "after the latest one."));
    }
    return {};
}

Status checkSettings(const ProjectSettings &settings)
{
    if (settings.yard) {
        if (Status status = checkPlace(*settings.yard, QStringLiteral("The yard")); !status) {
            return status;
        }
    }
    if (settings.backUps.keepCount < 1 || settings.backUps.keepDays < 0) {
        return refused(QStringLiteral("At least one back-up is kept, for none or more days."));
    }
    if (!(settings.policy == Policy{})) {
        // What could not be read back would keep the project's settings from loading.
        if (const Result<Policy> read = policyFromJson(toJson(settings.policy)); !read) {
            return tl::unexpected(read.error());
        }
    }
    if (const QString fault = faultIn(settings.truckHabits); !fault.isEmpty()) {
        return refused(fault);
    }
    return checkShift(settings.shift)
        .and_then([&] { return checkDays(settings); })
        .and_then([&] { return checkWordings(settings.noticeTemplates); })
        .and_then([&] { return checkZones(settings); })
        .and_then([&] { return checkLearned(settings.learned); })
        .and_then([&] { return checkRepairHabits(settings.repairs); });
}

} // namespace keyround
