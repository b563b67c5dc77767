// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/crew_days.h"

#include "core/routing/crew_days_report.h"
#include "core/routing/crew_days_search.h"

#include <chrono>
#include <cmath>

namespace keyround {

namespace {

using MonotonicClock = std::chrono::steady_clock;

/// The watcher is asked this often; the clock, with a budget, every few ruins.
constexpr std::chrono::milliseconds askedEvery(100);
constexpr std::size_t ruinsBetweenLooks = 32;
/// Of a budget, for putting the result together (times, reasons).
constexpr double closingShare = 0.01;

tl::unexpected<Error> refuse(const QString &message)
{
    return fail(ErrorCode::BadInput, message);
}

Status checkTable(const SecondsTable &seconds)
{
    for (std::size_t from = 0; from < seconds.size(); ++from) {
        const float *row = seconds.row(from);
        for (std::size_t to = 0; to < seconds.size(); ++to) {
            if (!(row[to] >= 0.0F)) {
                return refuse(QStringLiteral("The seconds from place %1 to place %2 are not a "
                                             "number from 0 up; work the table out anew.")
                                  .arg(from)
                                  .arg(to));
            }
        }
    }
    return {};
}

Status checkCrewDay(const CrewDay &crewDay, std::size_t index, std::size_t places)
{
    const TimedShift &shift = crewDay.shift;
    const auto say = [index](const char *what) {
        return refuse(QStringLiteral("Crew-day %1: %2").arg(index).arg(QLatin1String(what)));
    };
    if (shift.start >= places || (shift.finish && *shift.finish >= places)) {
        return say("its start or finish is not a place of the table.");
    }
    if (!std::isfinite(shift.begin) || !(shift.end >= shift.begin)) {
        return say("its shift must begin at some second and not end before.");
    }
    for (const TimedBreak &pause : shift.breaks) {
        if (!(pause.seconds >= 0) || !std::isfinite(pause.seconds) ||
            !(pause.latest >= pause.earliest)) {
            return say("a break must take some seconds and its latest second not be before its "
                       "earliest.");
        }
    }
    return {};
}

bool areWindows(const std::vector<TimeWindow> &windows)
{
    for (std::size_t i = 0; i < windows.size(); ++i) {
        if (!(windows[i].from <= windows[i].to) ||
            (i > 0 && !(windows[i].from > windows[i - 1].to))) {
            return false;
        }
    }
    return true;
}

Status checkJob(const BacklogJob &job, std::size_t index, std::size_t places, std::size_t crewDays)
{
    const auto say = [index](const char *what) {
        return refuse(QStringLiteral("Job %1: %2").arg(index).arg(QLatin1String(what)));
    };
    if (job.place >= places) {
        return say("its place is not in the table.");
    }
    if (!(job.service >= 0) || !std::isfinite(job.service)) {
        return say("its seconds on site must be a number from 0 up.");
    }
    if (!(job.priority >= 0) || !std::isfinite(job.priority)) {
        return say("its priority must be a number from 0 up.");
    }
    if ((job.toldCrewDay && *job.toldCrewDay >= crewDays) ||
        (job.plannedCrewDay && *job.plannedCrewDay >= crewDays)) {
        return say("the crew-day that it was told or planned for is not in the list.");
    }
    for (const std::vector<TimeWindow> &windows : job.windows) {
        if (!areWindows(windows)) {
            return say("its windows must be in order and apart from each other.");
        }
    }
    return {};
}

Status check(const BacklogTask &task)
{
    for (std::size_t d = 0; d < task.crewDays.size(); ++d) {
        if (const Status fine = checkCrewDay(task.crewDays[d], d, task.seconds.size()); !fine) {
            return fine;
        }
    }
    for (std::size_t i = 0; i < task.jobs.size(); ++i) {
        const Status fine = checkJob(task.jobs[i], i, task.seconds.size(), task.crewDays.size());
        if (!fine) {
            return fine;
        }
    }
    return checkTable(task.seconds);
}

/// How much of the search is behind us, by count or by the clock.
class Extent
{
public:
    Extent(const BacklogOptions &options, std::size_t jobs)
        : m_ruins(options.ruinsPerJob * jobs), m_budget(options.budgetMilliseconds),
          m_begin(MonotonicClock::now()), m_asked(m_begin)
    {
    }
    /// After the first plan: of the budget, this much was spent on it.
    void beginSearch()
    {
        m_spent = elapsed();
        m_look = 0;
    }
    [[nodiscard]] double shareDone(std::size_t ruins)
    {
        if (!m_budget) {
            return m_ruins > 0 ? static_cast<double>(ruins) / static_cast<double>(m_ruins) : 1.0;
        }
        if (m_look++ % ruinsBetweenLooks == 0) {
            const double open = *m_budget * (1.0 - closingShare) - m_spent;
            m_share = open > 0 ? (elapsed() - m_spent) / open : 1.0;
        }
        return m_share;
    }
    [[nodiscard]] bool askNow()
    {
        if (++m_sinceAsked < ruinsBetweenLooks) {
            return false;
        }
        m_sinceAsked = 0;
        const auto now = MonotonicClock::now();
        if (now - m_asked < askedEvery) {
            return false;
        }
        m_asked = now;
        return true;
    }

private:
    [[nodiscard]] double elapsed() const
    {
        return std::chrono::duration<double, std::milli>(MonotonicClock::now() - m_begin).count();
    }

    std::size_t m_ruins;
    std::optional<double> m_budget;
    MonotonicClock::time_point m_begin;
    MonotonicClock::time_point m_asked;
    double m_spent = 0;
    double m_share = 0;
    std::size_t m_look = 0;
    std::size_t m_sinceAsked = 0;
};

} // namespace

Result<BacklogPlan> planBacklog(const BacklogTask &task, const BacklogOptions &options,
                                const Progress &progress)
{
    if (const Status fine = check(task); !fine) {
        return tl::unexpected<Error>(fine.error());
    }
    Extent extent(options, task.jobs.size());
    const BacklogModel model(task, options);
    CrewDaySearch search(model, options.seed);
    bool goOn = search.construct(progress);
    extent.beginSearch();
    std::size_t ruins = 0;
    const bool anything = !task.jobs.empty() && !task.crewDays.empty();
    while (goOn && anything) {
        const double done = extent.shareDone(ruins);
        if (done >= 1.0) {
            break;
        }
        search.step(search.hottest() * std::pow(search.coldest() / search.hottest(), done));
        ++ruins;
        goOn = !extent.askNow() ||
               report(progress, 0.05 + 0.95 * done, QStringLiteral("Better plans"));
    }
    search.finish();
    BacklogPlan plan = tellPlan(model, search.routes());
    plan.ruins = ruins;
    plan.cancelled = !goOn;
    return plan;
}

} // namespace keyround
