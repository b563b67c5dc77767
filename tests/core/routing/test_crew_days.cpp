// SPDX-License-Identifier: GPL-3.0-or-later
// The backlog over crew-days: against trying out every plan on small tasks, the rules of the clock
// by timed_route.h on random ones, and what people were told.
#include "core/routing/crew_days.h"
#include "core/routing/timed_route.h"

#include <QtTest>

#include <algorithm>
#include <cmath>
#include <random>
#include <set>

using namespace keyround;

namespace {

/// Whole seconds, so that all sums are exact.
SecondsTable randomTable(std::size_t places, double metres, std::mt19937 &random)
{
    std::uniform_real_distribution<double> anywhere(0.0, metres);
    std::vector<double> x(places);
    std::vector<double> y(places);
    for (std::size_t i = 0; i < places; ++i) {
        x[i] = anywhere(random);
        y[i] = anywhere(random);
    }
    std::uniform_int_distribution<int> oneWay(0, 60);
    SecondsTable seconds(places);
    for (std::size_t i = 0; i < places; ++i) {
        for (std::size_t j = 0; j < places; ++j) {
            const double metresApart = std::hypot(x[i] - x[j], y[i] - y[j]);
            seconds.set(i, j, i == j ? 0.0 : std::ceil(metresApart / 6.0) + oneWay(random));
        }
    }
    // Shortest ways: no detour is shorter than the hop itself.
    for (std::size_t via = 0; via < places; ++via) {
        for (std::size_t i = 0; i < places; ++i) {
            for (std::size_t j = 0; j < places; ++j) {
                seconds.set(i, j,
                            std::min(seconds.at(i, j), seconds.at(i, via) + seconds.at(via, j)));
            }
        }
    }
    return seconds;
}

Matrix matrixOf(const SecondsTable &table)
{
    Matrix matrix(table.size());
    for (std::size_t i = 0; i < table.size(); ++i) {
        for (std::size_t j = 0; j < table.size(); ++j) {
            matrix.set(i, j, table.at(i, j));
        }
    }
    return matrix;
}

std::vector<TimeWindow> windowsOn(const BacklogJob &job, const CrewDay &crewDay)
{
    return crewDay.windowSet < job.windows.size() ? job.windows[crewDay.windowSet]
                                                  : std::vector<TimeWindow>();
}

bool isAllowed(const BacklogTask &task, std::size_t job, std::size_t crewDay)
{
    const BacklogJob &what = task.jobs[job];
    const CrewDay &where = task.crewDays[crewDay];
    return (what.skillsNeeded & ~where.skills) == 0 && where.day >= what.earliestDay;
}

RouteTimes timesOn(const BacklogTask &task, const Matrix &seconds, std::size_t crewDay,
                   const std::vector<std::size_t> &jobs)
{
    std::vector<TimedStop> stops;
    std::vector<std::size_t> order;
    for (const std::size_t job : jobs) {
        const BacklogJob &what = task.jobs[job];
        order.push_back(stops.size());
        stops.push_back({what.place, what.service, what.priority, what.mustGo,
                         windowsOn(what, task.crewDays[crewDay])});
    }
    return timesAlong(seconds, task.crewDays[crewDay].shift, stops, order);
}

std::vector<std::size_t> jobsOf(const CrewDayPlan &plan)
{
    std::vector<std::size_t> jobs;
    for (const PlannedJob &planned : plan.jobs) {
        jobs.push_back(planned.job);
    }
    return jobs;
}

/// What breaks a rule; empty when nothing does.
QString brokenRule(const BacklogTask &task, const BacklogPlan &plan)
{
    const Matrix seconds = matrixOf(task.seconds);
    std::vector<int> seen(task.jobs.size(), 0);
    double priority = 0;
    double drive = 0;
    if (plan.crewDays.size() != task.crewDays.size()) {
        return QStringLiteral("not every crew-day is told");
    }
    for (std::size_t d = 0; d < plan.crewDays.size(); ++d) {
        const std::vector<std::size_t> jobs = jobsOf(plan.crewDays[d]);
        const RouteTimes times = timesOn(task, seconds, d, jobs);
        if (!jobs.empty() && !times.isKept()) {
            return QStringLiteral("crew-day %1: %2 misses").arg(d).arg(times.misses());
        }
        drive += jobs.empty() ? 0.0 : times.drive;
        for (std::size_t i = 0; i < jobs.size(); ++i) {
            ++seen[jobs[i]];
            priority += task.jobs[jobs[i]].priority;
            if (!isAllowed(task, jobs[i], d)) {
                return QStringLiteral("job %1 must not be on crew-day %2").arg(jobs[i]).arg(d);
            }
            if (std::abs(plan.crewDays[d].jobs[i].begin - times.stops[i].begin) > 1e-6) {
                return QStringLiteral("job %1: times do not agree").arg(jobs[i]);
            }
        }
    }
    for (const LeftOutJob &left : plan.leftOut) {
        ++seen[left.job];
    }
    if (std::any_of(seen.begin(), seen.end(), [](int times) { return times != 1; })) {
        return QStringLiteral("a job is told not once");
    }
    if (plan.done + plan.leftOut.size() != task.jobs.size() ||
        std::abs(plan.priority - priority) > 1e-6 || std::abs(plan.driveSeconds - drive) > 1e-3) {
        return QStringLiteral("the sums are wrong");
    }
    return {};
}

/// A free choice of rules, so that each is met somewhere.
BacklogTask randomTask(std::size_t jobs, std::size_t crewDays, unsigned seed)
{
    std::mt19937 random(seed);
    const auto upTo = [&random](int most) {
        return std::uniform_int_distribution<int>(0, most)(random);
    };
    BacklogTask task;
    task.seconds = randomTable(jobs + 2, 8000.0, random);
    for (std::size_t d = 0; d < crewDays; ++d) {
        CrewDay crewDay;
        crewDay.shift = {static_cast<std::size_t>(upTo(1)), 1, 25200.0, 25200.0 + 18000, {}};
        if (upTo(2) == 0) {
            crewDay.shift.finish.reset();
        }
        if (upTo(1) == 0) {
            crewDay.shift.breaks.push_back({34200, 37800, 1800});
        }
        if (upTo(3) == 0) {
            crewDay.shift.breaks.insert(crewDay.shift.breaks.begin(), {28800, 30600, 900});
        }
        crewDay.day = static_cast<int>(d / 2);
        crewDay.crew = static_cast<int>(d % 2);
        crewDay.skills = static_cast<std::uint64_t>(upTo(3));
        crewDay.windowSet = static_cast<std::size_t>(crewDay.day % 3);
        task.crewDays.push_back(crewDay);
    }
    for (std::size_t i = 0; i < jobs; ++i) {
        BacklogJob job;
        job.place = i + 2;
        job.service = 300.0 + 60.0 * upTo(30);
        job.priority =
            upTo(4) == 0 ? 0.0 : std::array{1.0, 1.0, 5.0, 20.0}[static_cast<std::size_t>(upTo(3))];
        job.mustGo = upTo(19) == 0;
        job.skillsNeeded = upTo(3) == 0 ? static_cast<std::uint64_t>(upTo(3)) : 0U;
        job.earliestDay = upTo(3) == 0 ? upTo(3) : 0;
        if (upTo(4) == 0) {
            job.dueDay = upTo(2);
        }
        if (upTo(2) == 0) {
            const double from = 25200.0 + 600.0 * upTo(10);
            job.windows = {{{from, from + 3600}, {from + 9000, from + 10800}},
                           upTo(1) == 0 ? std::vector<TimeWindow>{neverOpen}
                                        : std::vector<TimeWindow>()};
        }
        if (upTo(9) == 0) {
            job.group = static_cast<std::size_t>(upTo(3));
        }
        task.jobs.push_back(job);
    }
    return task;
}

/// The most priority of all plans, by trying out every choice of crew-days and every order.
class EveryPlan
{
public:
    explicit EveryPlan(const BacklogTask &task) : m_task(task), m_seconds(matrixOf(task.seconds))
    {
        const std::size_t sets = std::size_t{1} << task.jobs.size();
        for (std::size_t d = 0; d < task.crewDays.size(); ++d) {
            m_fits.emplace_back(sets, 0);
            for (std::size_t set = 0; set < sets; ++set) {
                m_fits[d][set] = fits(d, set) ? 1 : 0;
            }
        }
    }
    [[nodiscard]] double mostPriority() { return most(0, 0); }

private:
    [[nodiscard]] bool fits(std::size_t d, std::size_t set) const
    {
        std::vector<std::size_t> jobs;
        for (std::size_t job = 0; job < m_task.jobs.size(); ++job) {
            if ((set >> job & 1U) != 0) {
                // Less of it must fit too: sparing most of the orders.
                if (!isAllowed(m_task, job, d) || m_fits[d][set & ~(std::size_t{1} << job)] == 0) {
                    return false;
                }
                jobs.push_back(job);
            }
        }
        do {
            if (jobs.empty() || timesOn(m_task, m_seconds, d, jobs).isKept()) {
                return true;
            }
        } while (std::next_permutation(jobs.begin(), jobs.end()));
        return false;
    }
    [[nodiscard]] double most(std::size_t d, std::size_t done) const
    {
        if (d == m_task.crewDays.size()) {
            return 0;
        }
        double best = 0;
        for (std::size_t set = 0; set < m_fits[d].size(); ++set) {
            if ((set & done) == 0 && m_fits[d][set] != 0) {
                double priority = 0;
                for (std::size_t job = 0; job < m_task.jobs.size(); ++job) {
                    priority += (set >> job & 1U) != 0 ? m_task.jobs[job].priority : 0.0;
                }
                best = std::max(best, priority + most(d + 1, done | set));
            }
        }
        return best;
    }

    const BacklogTask &m_task;
    Matrix m_seconds;
    std::vector<std::vector<char>> m_fits;
};

/// Crews of a town without odd rules: 8 h, a yard in one corner.
BacklogTask townTask(std::size_t jobs, std::size_t crewDays, double hours, unsigned seed)
{
    std::mt19937 random(seed);
    BacklogTask task;
    task.seconds = randomTable(jobs + 1, 6000.0, random);
    for (std::size_t d = 0; d < crewDays; ++d) {
        CrewDay crewDay;
        crewDay.shift = {0, 0, 0, hours * 3600.0, {}};
        crewDay.day = static_cast<int>(d / 2);
        crewDay.crew = static_cast<int>(d % 2);
        task.crewDays.push_back(crewDay);
    }
    std::uniform_int_distribution<std::size_t> kind(0, 3);
    for (std::size_t i = 0; i < jobs; ++i) {
        BacklogJob job;
        job.place = i + 1;
        job.service = 720;
        job.priority = std::array{1.0, 1.0, 5.0, 20.0}[kind(random)];
        task.jobs.push_back(job);
    }
    return task;
}

BacklogOptions counted(std::size_t ruinsPerJob, std::uint64_t seed = 1)
{
    BacklogOptions options;
    options.ruinsPerJob = ruinsPerJob;
    options.seed = seed;
    return options;
}

std::vector<std::optional<std::size_t>> crewDayOf(const BacklogTask &task, const BacklogPlan &plan)
{
    std::vector<std::optional<std::size_t>> found(task.jobs.size());
    for (std::size_t d = 0; d < plan.crewDays.size(); ++d) {
        for (const PlannedJob &planned : plan.crewDays[d].jobs) {
            found[planned.job] = d;
        }
    }
    return found;
}

} // namespace

class TestCrewDays : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void earnsTheMostPriority();
    void neverBreaksARule();
    void losesNoHigherPriorityForLower();
    void keepsWhatPeopleWereTold();
    void keepsThePlanBefore();
    void sameSeedSamePlan();
    void cancelGivesAValidPlan();
    void tellsWhyAJobIsLeftOut();
    void urgentComesEarly();
    void groupsStayTogether();
    void loadsAreFair();
    void keepsTheTimeBudget();
    void refusesNonsense();
    void takesEmptyTasks();
};

void TestCrewDays::earnsTheMostPriority()
{
    int tight = 0;
    for (unsigned seed = 1; seed <= 30; ++seed) {
        BacklogTask task = randomTask(6 + seed % 2, 3, seed);
        for (CrewDay &crewDay : task.crewDays) {
            crewDay.shift.end = crewDay.shift.begin + 4500 + 300 * (seed % 5);
            crewDay.skills |= seed % 3;
        }
        for (BacklogJob &job : task.jobs) {
            job.mustGo = false;
        }
        BacklogOptions options = counted(250, seed);
        options.higherFirst = false;
        const auto plan = planBacklog(task, options);
        QVERIFY(plan);
        QCOMPARE(brokenRule(task, *plan), QString());
        QCOMPARE(plan->priority, EveryPlan(task).mostPriority());
        tight += plan->leftOut.empty() ? 0 : 1;
    }
    QVERIFY(tight > 15);
}

void TestCrewDays::neverBreaksARule()
{
    std::size_t done = 0;
    std::size_t left = 0;
    for (unsigned seed = 1; seed <= 40; ++seed) {
        BacklogTask task = randomTask(20 + seed % 40, 3 + seed % 4, 1000 + seed);
        if (seed % 5 == 0) {
            // Places with no way in or out.
            for (std::size_t i = 0; i < task.seconds.size(); ++i) {
                task.seconds.set(i, 5, unreachable);
                task.seconds.set(7, i, unreachable);
            }
        }
        const auto plan = planBacklog(task, counted(15, seed));
        QVERIFY(plan);
        QCOMPARE(brokenRule(task, *plan), QString());
        done += plan->done;
        left += plan->leftOut.size();
    }
    QVERIFY(done > 700);
    QVERIFY(left > 100);
}

/// No job left out could be driven in a crew-day from which jobs of lower steps alone are taken.
void TestCrewDays::losesNoHigherPriorityForLower()
{
    int checked = 0;
    for (unsigned seed = 1; seed <= 15; ++seed) {
        const BacklogTask task = townTask(30, 3, 1.5, seed);
        const auto plan = planBacklog(task, counted(80, seed));
        QVERIFY(plan);
        const Matrix seconds = matrixOf(task.seconds);
        for (const LeftOutJob &left : plan->leftOut) {
            const double priority = task.jobs[left.job].priority;
            for (std::size_t d = 0; d < task.crewDays.size(); ++d) {
                std::vector<std::size_t> kept;
                bool lower = false;
                for (const std::size_t job : jobsOf(plan->crewDays[d])) {
                    if (task.jobs[job].priority * 2 <= priority) {
                        lower = true;
                    } else {
                        kept.push_back(job);
                    }
                }
                for (std::size_t at = 0; lower && at <= kept.size(); ++at) {
                    std::vector<std::size_t> with = kept;
                    with.insert(with.begin() + static_cast<std::ptrdiff_t>(at), left.job);
                    QVERIFY(!timesOn(task, seconds, d, with).isKept());
                    ++checked;
                }
            }
        }
    }
    QVERIFY(checked > 0);
}

void TestCrewDays::keepsWhatPeopleWereTold()
{
    for (unsigned seed = 1; seed <= 10; ++seed) {
        BacklogTask task = townTask(60, 6, 3.0, seed);
        for (std::size_t i = 0; i < 12; ++i) {
            task.jobs[i].toldCrewDay = i % 6;
            task.jobs[i].priority = 0; // that they were told alone must keep them
        }
        task.jobs[12].toldCrewDay = 0; // impossible there: not before day 2
        task.jobs[12].earliestDay = 2;
        const auto plan = planBacklog(task, counted(25, seed));
        QVERIFY(plan);
        QCOMPARE(brokenRule(task, *plan), QString());
        const auto at = crewDayOf(task, *plan);
        for (std::size_t i = 0; i < 12; ++i) {
            QVERIFY(at[i] == task.jobs[i].toldCrewDay);
        }
        QCOMPARE(plan->toldMoved, std::vector<std::size_t>{12});
        QVERIFY(at[12] && task.crewDays[*at[12]].day >= 2);
    }
}

/// A finished day goes, what it left undone comes back, and of the other days little moves.
void TestCrewDays::keepsThePlanBefore()
{
    BacklogTask task = townTask(90, 8, 3.0, 5);
    const auto before = planBacklog(task, counted(30));
    QVERIFY(before);
    const auto was = crewDayOf(task, *before);
    BacklogTask next;
    next.seconds = task.seconds;
    next.crewDays.assign(task.crewDays.begin() + 2, task.crewDays.end());
    for (std::size_t i = 0; i < task.jobs.size(); ++i) {
        BacklogJob job = task.jobs[i];
        if (was[i] && *was[i] < 2 && i % 4 != 0) {
            continue; // done; every fourth was not
        }
        if (was[i] && *was[i] >= 2) {
            job.plannedCrewDay = *was[i] - 2;
        }
        next.jobs.push_back(job);
    }
    const auto planned = std::count_if(next.jobs.begin(), next.jobs.end(), [](const auto &job) {
        return job.plannedCrewDay.has_value();
    });
    const auto changed = [&next](const BacklogPlan &plan) {
        const auto at = crewDayOf(next, plan);
        std::size_t count = 0;
        for (std::size_t i = 0; i < next.jobs.size(); ++i) {
            count += next.jobs[i].plannedCrewDay && at[i] != next.jobs[i].plannedCrewDay ? 1 : 0;
        }
        return count;
    };
    const auto steady = planBacklog(next, counted(30));
    BacklogOptions careless = counted(30);
    careless.weights.stability = 0;
    const auto free = planBacklog(next, careless);
    QVERIFY(steady && free);
    QCOMPARE(brokenRule(next, *steady), QString());
    qInfo("of %d planned before, %zu elsewhere with stability (%zu on another day), %zu without",
          static_cast<int>(planned), changed(*steady), steady->moved, changed(*free));
    QVERIFY(planned > 40);
    QVERIFY(changed(*steady) * 5 < static_cast<std::size_t>(planned));
    QVERIFY(changed(*steady) * 2 < changed(*free));
    QVERIFY(steady->priority >= free->priority - 3);
}

void TestCrewDays::sameSeedSamePlan()
{
    const BacklogTask task = randomTask(60, 6, 77);
    const auto plan = [&task](std::uint64_t seed) {
        const auto found = planBacklog(task, counted(30, seed));
        std::vector<std::vector<std::size_t>> orders;
        for (const CrewDayPlan &crewDay : found->crewDays) {
            orders.push_back(jobsOf(crewDay));
        }
        return orders;
    };
    QVERIFY(plan(3) == plan(3));
    QVERIFY(plan(3) != plan(4));
}

void TestCrewDays::cancelGivesAValidPlan()
{
    const BacklogTask task = townTask(250, 10, 4.0, 9);
    for (const int allowed : {0, 1, 2, 4}) {
        int asked = 0;
        BacklogOptions options;
        options.budgetMilliseconds = 60000.0;
        const auto plan = planBacklog(task, options, [&](double done, const QString &what) {
            return !what.isEmpty() && done <= 1.0 && asked++ < allowed;
        });
        QVERIFY(plan);
        QVERIFY(plan->cancelled);
        QCOMPARE(brokenRule(task, *plan), QString());
        QVERIFY(plan->done > 100);
    }
}

void TestCrewDays::tellsWhyAJobIsLeftOut()
{
    BacklogTask task = townTask(26, 2, 2.0, 3);
    task.crewDays[0].skills = 1;
    task.jobs[0].skillsNeeded = 2;
    task.jobs[1].earliestDay = 5;
    task.jobs[2].windows = {{neverOpen}};
    for (std::size_t i = 0; i < task.seconds.size(); ++i) {
        task.seconds.set(i, task.jobs[3].place, unreachable);
    }
    task.jobs[4].service = 7200; // alone it is too long by the drive there and back
    const double drive =
        task.seconds.at(0, task.jobs[4].place) + task.seconds.at(task.jobs[4].place, 0);
    task.jobs[5].service = 4000;
    task.jobs[5].priority = 0; // goes last
    const auto plan = planBacklog(task, counted(100));
    QVERIFY(plan);
    QCOMPARE(brokenRule(task, *plan), QString());
    std::vector<const LeftOutJob *> left(task.jobs.size(), nullptr);
    for (const LeftOutJob &job : plan->leftOut) {
        left[job.job] = &job;
    }
    for (std::size_t i = 0; i < 6; ++i) {
        QVERIFY(left[i] != nullptr);
    }
    QCOMPARE(left[0]->cause, BacklogCause::NoSkill);
    QCOMPARE(left[1]->cause, BacklogCause::NotBefore);
    QCOMPARE(left[2]->cause, BacklogCause::NoWindow);
    QCOMPARE(left[3]->cause, BacklogCause::NoWay);
    QCOMPARE(left[4]->cause, BacklogCause::TooLong);
    QCOMPARE(left[4]->secondsMissing, drive);
    QCOMPARE(left[5]->cause, BacklogCause::Full);
    QVERIFY(left[5]->crewDay.has_value());
    // With just those seconds more it fits, with one less it does not.
    const Matrix seconds = matrixOf(task.seconds);
    const auto fitsWith = [&](double more) {
        BacklogTask longer = task;
        longer.crewDays[*left[5]->crewDay].shift.end += more;
        const std::vector<std::size_t> jobs = jobsOf(plan->crewDays[*left[5]->crewDay]);
        for (std::size_t at = 0; at <= jobs.size(); ++at) {
            std::vector<std::size_t> with = jobs;
            with.insert(with.begin() + static_cast<std::ptrdiff_t>(at), 5);
            if (timesOn(longer, seconds, *left[5]->crewDay, with).isKept()) {
                return true;
            }
        }
        return false;
    };
    QVERIFY(fitsWith(left[5]->secondsMissing));
    QVERIFY(!fitsWith(left[5]->secondsMissing - 1));
}

void TestCrewDays::urgentComesEarly()
{
    BacklogTask task = townTask(60, 8, 3.0, 21);
    for (std::size_t i = 0; i < 10; ++i) {
        task.jobs[i].dueDay = 0;
    }
    const auto plan = planBacklog(task, counted(30));
    QVERIFY(plan);
    const auto at = crewDayOf(task, *plan);
    for (std::size_t i = 0; i < 10; ++i) {
        QVERIFY(at[i].has_value());
        QCOMPARE(task.crewDays[*at[i]].day, 0);
    }
    double days[2] = {0, 0};
    double counts[2] = {0, 0};
    for (std::size_t i = 10; i < task.jobs.size(); ++i) {
        if (at[i] && task.jobs[i].priority != 5.0) {
            const std::size_t high = task.jobs[i].priority > 5 ? 1 : 0;
            days[high] += task.crewDays[*at[i]].day;
            counts[high] += 1;
        }
    }
    QVERIFY(counts[0] > 0 && counts[1] > 0);
    QVERIFY(days[1] / counts[1] < days[0] / counts[0]);
}

void TestCrewDays::groupsStayTogether()
{
    BacklogTask task = townTask(60, 6, 3.0, 31);
    for (std::size_t i = 0; i < 12; ++i) {
        task.jobs[i].group = i / 4;
        task.jobs[i].priority = 20;
    }
    const auto apart = [&task](const BacklogPlan &plan) {
        const auto at = crewDayOf(task, plan);
        std::set<std::pair<std::size_t, std::size_t>> pairs;
        for (std::size_t i = 0; i < 12; ++i) {
            pairs.insert({i / 4, at[i].value_or(99)});
        }
        return pairs.size();
    };
    const auto grouped = planBacklog(task, counted(40));
    BacklogOptions careless = counted(40);
    careless.weights.group = 0;
    const auto free = planBacklog(task, careless);
    QVERIFY(grouped && free);
    QCOMPARE(apart(*grouped), std::size_t{3});
    QVERIFY(apart(*free) > 3);
}

void TestCrewDays::loadsAreFair()
{
    // Half as much work as there is time for, and days that cost nothing to be late.
    BacklogTask task = townTask(40, 6, 4.0, 41);
    BacklogOptions fair = counted(40);
    fair.weights.early = 0;
    fair.weights.fair = 2;
    const auto plan = planBacklog(task, fair);
    QVERIFY(plan);
    QCOMPARE(plan->done, task.jobs.size());
    QCOMPARE(plan->loads.size(), std::size_t{2});
    const auto load = [&plan](std::size_t crew) {
        return plan->loads[crew].driveSeconds + plan->loads[crew].workSeconds;
    };
    QVERIFY(std::abs(load(0) - load(1)) < 0.1 * (load(0) + load(1)));
}

void TestCrewDays::keepsTheTimeBudget()
{
    // No figure is asserted but that a budget of nothing ends at once with a plan.
    const BacklogTask task = townTask(120, 6, 4.0, 51);
    BacklogOptions options;
    options.budgetMilliseconds = 0.0;
    const auto plan = planBacklog(task, options);
    QVERIFY(plan);
    QCOMPARE(plan->ruins, std::size_t{0});
    QVERIFY(!plan->cancelled);
    QVERIFY(plan->done > 80);
    QCOMPARE(brokenRule(task, *plan), QString());
}

void TestCrewDays::refusesNonsense()
{
    const BacklogTask fine = townTask(5, 2, 2.0, 1);
    QVERIFY(planBacklog(fine, counted(1)));
    const auto isRefused = [&fine](auto spoil) {
        BacklogTask task = fine;
        spoil(task);
        const auto plan = planBacklog(task, counted(1));
        return !plan && plan.error().code == ErrorCode::BadInput && !plan.error().message.isEmpty();
    };
    QVERIFY(isRefused([](BacklogTask &task) { task.jobs[1].place = 6; }));
    QVERIFY(isRefused([](BacklogTask &task) { task.jobs[1].service = -1; }));
    QVERIFY(isRefused([](BacklogTask &task) { task.jobs[1].priority = std::nan(""); }));
    QVERIFY(isRefused([](BacklogTask &task) { task.jobs[1].toldCrewDay = 2; }));
    QVERIFY(isRefused([](BacklogTask &task) { task.jobs[1].windows = {{{5, 6}, {5, 9}}}; }));
    QVERIFY(isRefused([](BacklogTask &task) { task.crewDays[1].shift.start = 6; }));
    QVERIFY(isRefused([](BacklogTask &task) { task.crewDays[1].shift.end = -1; }));
    QVERIFY(isRefused([](BacklogTask &task) { task.crewDays[1].shift.breaks = {{9, 8, 7}}; }));
    QVERIFY(isRefused([](BacklogTask &task) { task.seconds.set(2, 3, -1); }));
    QVERIFY(isRefused([](BacklogTask &task) { task.seconds.set(2, 3, std::nan("")); }));
}

void TestCrewDays::takesEmptyTasks()
{
    const auto nothing = planBacklog(BacklogTask(), counted(1));
    QVERIFY(nothing);
    QCOMPARE(nothing->done, std::size_t{0});
    BacklogTask noDays = townTask(3, 0, 2.0, 1);
    const auto left = planBacklog(noDays, counted(1));
    QVERIFY(left);
    QCOMPARE(left->leftOut.size(), std::size_t{3});
    BacklogTask noJobs = townTask(0, 3, 2.0, 1);
    const auto idle = planBacklog(noJobs, counted(1));
    QVERIFY(idle);
    QCOMPARE(idle->crewDays.size(), std::size_t{3});
    const auto one = planBacklog(townTask(1, 1, 2.0, 1), counted(5));
    QVERIFY(one);
    QCOMPARE(one->done, std::size_t{1});
}

QTEST_GUILESS_MAIN(TestCrewDays)
#include "test_crew_days.moc"
