// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/coming_days_model.h"

#include "core/dayplan/day_clock.h"
#include "core/dayplan/held_stops.h"

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

class ModelMaker
{
public:
    explicit ModelMaker(const ComingDaysRequest &request) : m_request(request) {}

    ComingDaysModel make()
    {
        for (std::size_t i = 0; i < m_request.days.size(); ++i) {
            const CrewDayRequest &day = m_request.days[i];
            for (const ValveId &valve : day.round.stops) {
                if (!m_made.homes.contains(valve)) {
                    m_made.homes.insert(valve, i);
                }
            }
            if (standingOf(day) != DayStanding::Untouched) {
                m_made.dates.push_back(day.round.date);
            }
        }
        std::sort(m_made.dates.begin(), m_made.dates.end());
        m_made.dates.erase(std::unique(m_made.dates.begin(), m_made.dates.end()),
                           m_made.dates.end());
        for (std::size_t i = 0; i < m_request.days.size(); ++i) {
            if (standingOf(m_request.days[i]) != DayStanding::Untouched) {
                addDay(i);
            }
        }
        for (std::size_t i = 0; i < m_request.backlog.size(); ++i) {
            addJob(i);
        }
        return std::move(m_made);
    }

private:
    void addDay(std::size_t index)
    {
        const CrewDayRequest &request = m_request.days[index];
        CrewDay day;
        day.shift = timedDay(request.round, {}).shift;
        day.shift.start = placeOf(request.round.start);
        const std::size_t finish = placeOf(finishOf(request.round));
        day.shift.finish = finish;
        const auto date =
            std::lower_bound(m_made.dates.begin(), m_made.dates.end(), request.round.date);
        day.day = static_cast<int>(date - m_made.dates.begin());
        day.crew = static_cast<int>(indexOf(m_crews, request.round.crew));
        day.skills = skillBits(request.skills, true);
        day.windowSet = weekdaySet(request.round.date);
        m_made.days.push_back(index);
        m_made.starts.push_back(day.shift.start);
        m_made.finishes.push_back(finish);
        m_taskDayOf[static_cast<qsizetype>(index)] = m_made.task.crewDays.size();
        m_made.task.crewDays.push_back(std::move(day));
    }

    void addJob(std::size_t index)
    {
        const BacklogCandidate &candidate = m_request.backlog[index];
        const StopCandidate &stop = candidate.stop;
        const auto home = m_made.homes.constFind(stop.valve);
        const bool isHome = home != m_made.homes.cend();
        if (isHome && standingOf(m_request.days[*home]) == DayStanding::Untouched) {
            return;
        }
        const bool stays = isHome && staysAtHome(m_request.days[*home], stop.valve);
        if (!stop.place.isValid()) {
            // A told day keeps it, and says that no time is counted for it.
            if (!isHome || standingOf(m_request.days[*home]) != DayStanding::Told) {
                m_made.leftOut.push_back(
                    {stop.valve,
                     QStringLiteral("It has no place on the map. Give it one, then plan again.")});
            }
            return;
        }
        if (!stop.heldBy.isEmpty() && !stays && !stop.mustGo) {
            m_made.leftOut.push_back({stop.valve, stop.heldBy});
            return;
        }
        BacklogJob job;
        job.place = m_made.places.size();
        job.service = stop.minutes * 60.0;
        job.priority = worthOf(stop);
        job.mustGo = stop.mustGo || stays;
        job.skillsNeeded = stays ? 0 : skillBits(stop.skills, false);
        if (isHome) {
            const std::size_t day = m_taskDayOf.value(static_cast<qsizetype>(*home));
            (stays ? job.toldCrewDay : job.plannedCrewDay) = day;
        }
        setDates(job, stop, stays);
        setWindows(job, candidate);
        m_made.places.push_back(stop.place);
        m_made.jobs.push_back(index);
        m_made.task.jobs.push_back(std::move(job));
    }

    /// Told, or decided by hand: drawing up the days leaves it where it is.
    [[nodiscard]] static bool staysAtHome(const CrewDayRequest &day, const ValveId &valve)
    {
        return standingOf(day) == DayStanding::Told || day.round.mustGo.contains(valve) ||
               heldValves(day.round).contains(valve);
    }

    void setDates(BacklogJob &job, const StopCandidate &stop, bool stays) const
    {
        const auto &dates = m_made.dates;
        if (stop.notBefore.isValid() && !stays) {
            job.earliestDay = static_cast<int>(
                std::lower_bound(dates.begin(), dates.end(), stop.notBefore) - dates.begin());
        }
        if (stop.dueOn.isValid()) {
            const auto after = std::upper_bound(dates.begin(), dates.end(), stop.dueOn);
            // What is late already is as late as can be.
            job.dueDay = std::max(0, static_cast<int>(after - dates.begin()) - 1);
        }
    }

    void setWindows(BacklogJob &job, const BacklogCandidate &candidate) const
    {
        for (const QDate &date : m_weekdays) {
            const WorkHours hours =
                workHours(m_request.busyHours, candidate.street, candidate.kind, date);
            auto windows = windowsFor(hours, job.service);
            job.windows.push_back(windows ? std::move(*windows)
                                          : std::vector<TimeWindow>{neverOpen});
        }
    }

    [[nodiscard]] std::size_t placeOf(const GeoPoint &place)
    {
        const auto found = std::find(m_made.places.begin(), m_made.places.end(), place);
        if (found != m_made.places.end()) {
            return static_cast<std::size_t>(found - m_made.places.begin());
        }
        m_made.places.push_back(place);
        return m_made.places.size() - 1;
    }

    /// Hours are by weekday: one set of windows for each that is worked.
    std::size_t weekdaySet(const QDate &date)
    {
        const auto found =
            std::find_if(m_weekdays.begin(), m_weekdays.end(),
                         [&](const QDate &other) { return other.dayOfWeek() == date.dayOfWeek(); });
        if (found != m_weekdays.end()) {
            return static_cast<std::size_t>(found - m_weekdays.begin());
        }
        m_weekdays.push_back(date);
        return m_weekdays.size() - 1;
    }

    static qsizetype indexOf(QStringList &words, const QString &word)
    {
        const qsizetype found = words.indexOf(word);
        if (found >= 0) {
            return found;
        }
        words << word;
        return words.size() - 1;
    }

    /// A bit a skill that any valve asks for. There are 63 of them and a last one that stands for
    /// all others and that no crew has.
    std::uint64_t skillBits(const QStringList &skills, bool ofCrew)
    {
        constexpr qsizetype others = 63;
        if (m_skills.isEmpty()) {
            for (const BacklogCandidate &candidate : m_request.backlog) {
                for (const QString &skill : candidate.stop.skills) {
                    indexOf(m_skills, skill.simplified().toCaseFolded());
                }
            }
        }
        std::uint64_t bits = 0;
        for (const QString &skill : skills) {
            const qsizetype index = m_skills.indexOf(skill.simplified().toCaseFolded());
            if (index >= 0 && index < others) {
                bits |= std::uint64_t{1} << index;
            } else if (!ofCrew) {
                bits |= std::uint64_t{1} << others;
            }
        }
        return bits;
    }

    const ComingDaysRequest &m_request;
    ComingDaysModel m_made;
    QStringList m_crews;
    QStringList m_skills;
    std::vector<QDate> m_weekdays; ///< a date of each weekday
    QHash<qsizetype, std::size_t> m_taskDayOf;
};

QString dayText(const CrewDayRequest &day)
{
    const QString date = day.round.date.toString(Qt::ISODate);
    return day.round.crew.isEmpty() ? date : QStringLiteral("%1 (%2)").arg(date, day.round.crew);
}

/// What the crew that comes nearest to them lacks.
QString nearestSkillsText(const ComingDaysRequest &request, const QStringList &needed)
{
    QStringList least = needed;
    for (const CrewDayRequest &day : request.days) {
        const QStringList missing = missingSkills(day.skills, needed);
        if (missing.size() < least.size()) {
            least = missing;
        }
    }
    return skillsText(least);
}

QString allRulesText(const ComingDaysRequest &request, const BacklogCandidate &candidate)
{
    std::vector<BusyHours> rules;
    for (const CrewDayRequest &day : request.days) {
        const WorkHours hours =
            workHours(request.busyHours, candidate.street, candidate.kind, day.round.date);
        for (const BusyHours &rule : hours.closedBy) {
            if (std::find(rules.begin(), rules.end(), rule) == rules.end()) {
                rules.push_back(rule);
            }
        }
    }
    return rulesText(rules);
}

} // namespace

DayStanding standingOf(const CrewDayRequest &day)
{
    if (day.round.state != RoundState::Planned) {
        return DayStanding::Untouched;
    }
    return day.isFixed || day.round.isTold ? DayStanding::Told : DayStanding::Open;
}

ComingDaysModel comingDaysModel(const ComingDaysRequest &request)
{
    return ModelMaker(request).make();
}

StopCandidate candidateOn(const CrewDayRequest &day, const BacklogCandidate &from,
                          const std::vector<BusyHours> &rules)
{
    StopCandidate stop = from.stop;
    stop.hours = workHours(rules, from.street, from.kind, day.round.date);
    stop.lacking = missingSkills(day.skills, stop.skills);
    return stop;
}

QString backlogLeftOutText(const ComingDaysRequest &request, const ComingDaysModel &model,
                           const LeftOutJob &left)
{
    const BacklogCandidate &candidate = request.backlog[model.jobs[left.job]];
    const QString rules = allRulesText(request, candidate);
    QString minutes;
    QString where;
    if (left.crewDay && left.secondsMissing > 0) {
        minutes = minutesText(left.secondsMissing);
        where = dayText(request.days[model.days[*left.crewDay]]);
    }
    switch (left.cause) {
    case BacklogCause::NoSkill:
        return nearestSkillsText(request, candidate.stop.skills);
    case BacklogCause::NotBefore:
        return QStringLiteral("Not before %1: a later day with a crew that has what it needs would "
                              "let it in.")
            .arg(candidate.stop.notBefore.toString(Qt::ISODate));
    case BacklogCause::NoWindow:
        return QStringLiteral("Busy hours (%1) leave no time for it on any of these days. Other "
                              "days, other shifts or a change of the hours would let it in.")
            .arg(rules);
    case BacklogCause::NoWay:
        return QStringLiteral("No way leads there and back on the streets that are loaded.");
    case BacklogCause::TooLong:
        return minutes.isEmpty()
                   ? QStringLiteral("It takes longer than any shift of these days.")
                   : QStringLiteral("It takes longer than a whole shift: %1 more on %2 would let "
                                    "it in.")
                         .arg(minutes, where);
    case BacklogCause::Full:
        break;
    }
    if (!minutes.isEmpty()) {
        return QStringLiteral("The days are full: %1 more on %2 would let it in.")
            .arg(minutes, where);
    }
    return rules.isEmpty()
               ? QStringLiteral("The days are full: another day would let it in.")
               : QStringLiteral("The days are full, and busy hours (%1) leave no gap for it: "
                                "another day would let it in.")
                     .arg(rules);
}

} // namespace keyround
