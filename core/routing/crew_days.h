// SPDX-License-Identifier: GPL-3.0-or-later
// The backlog over many crew-days: which job is done by which crew on which day, and in which
// order. Works on a table of seconds and knows nothing of valves. Every crew-day keeps to the clock
// of timed_task.h: its shift, its breaks, its windows; and to the skills of its crew.
//
// What a better plan is, in this order:
//  1. more jobs done that must be, or whose people were told the day;
//  2. more priority done. Priorities stand in steps: what is worth at least twice as much is never
//     left out for the other, however many of those; within a step the sum counts;
//  3. less of everything else, added up in seconds by BacklogWeights: driving, urgent and important
//     jobs late, neighbours on different crew-days, uneven crews, jobs moved from where they were.
//
// The search is ruin and recreate (slack induction by string removals: Christiaens and Vanden
// Berghe, "Slack induction by string removals for vehicle routing problems", Transportation Science
// 54, 2020), accepted by simulated annealing; jobs left out compete for each gap. It finds good
// plans and proves nothing.
#pragma once

#include "core/common/progress.h"
#include "core/common/result.h"
#include "core/routing/crew_days_seconds.h"
#include "core/routing/timed_task.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace keyround {

/// One crew on one working day.
struct CrewDay
{
    TimedShift shift;
    int day = 0;               ///< working days from the first one, 0, 1, 2 ...
    int crew = 0;              ///< for fair loads: any number that stands for the crew
    std::uint64_t skills = 0;  ///< a bit a skill
    std::size_t windowSet = 0; ///< which of a job's sets of windows holds (kind of weekday)
};

/// A window for days on which a job cannot be begun at all.
inline constexpr TimeWindow neverOpen{unreachable, unreachable};

struct BacklogJob
{
    std::size_t place = 0; ///< index in the table of seconds
    double service = 0;    ///< seconds on site
    double priority = 0;   ///< earned when it is done; not negative
    bool mustGo = false;
    std::uint64_t skillsNeeded = 0;
    int earliestDay = 0;       ///< not before this working day (a notice takes time)
    std::optional<int> dueDay; ///< should be done by this day; may be done later
    /// The windows of each set, in order, apart from each other. A set that is empty or not given
    /// means: at any time.
    std::vector<std::vector<TimeWindow>> windows;
    /// People were told this crew-day: it is done there or, if that has become impossible even for
    /// this job alone, wherever it can (see BacklogPlan::toldMoved).
    std::optional<std::size_t> toldCrewDay;
    std::optional<std::size_t> plannedCrewDay; ///< where the plan before this one had it
    std::optional<std::size_t> group;          ///< belongs on one crew-day with its like
};

struct BacklogTask
{
    SecondsTable seconds;
    std::vector<CrewDay> crewDays;
    std::vector<BacklogJob> jobs;
};

/// What the things below priority weigh against each other, in seconds of driving.
struct BacklogWeights
{
    double early = 60;      ///< a day's delay of the job with the highest priority; others by share
    double late = 3600;     ///< a day past the due day
    double together = 15;   ///< two near neighbours (of three each) on different crew-days
    double group = 300;     ///< two of one group on different crew-days
    double stability = 900; ///< a job moved to another day than planned before; half of it if it
                            ///< only changes the crew
    double fair = 0.5;      ///< a second worked by a full crew more than by an idle one
};

struct BacklogOptions
{
    /// How long to search, counted in ruins for each job: the same answer on every machine.
    std::size_t ruinsPerJob = 150;
    /// If given, the clock ends the search instead, and the answer may differ from run to run.
    std::optional<double> budgetMilliseconds;
    std::uint64_t seed = 1;
    bool higherFirst = true; ///< priorities in steps; otherwise nothing but their sum counts
    BacklogWeights weights;
};

struct PlannedJob
{
    std::size_t job = 0;
    double arrive = 0;
    double begin = 0; ///< of work: later than arriving when it waits for a window
    double leave = 0; ///< driving on; a break after the work is before it
};

struct CrewDayPlan
{
    std::vector<PlannedJob> jobs; ///< in driving order; none: the crew-day is free
    double driveSeconds = 0;
    double workSeconds = 0;
    double finish = 0; ///< at the finish, or at the end of the last stop
};

enum class BacklogCause {
    NoSkill,   ///< no crew has the skills
    NotBefore, ///< its earliest day is after the last day of those with the skills
    NoWindow,  ///< none of its windows can be met on any day it may be done
    NoWay,     ///< cannot be reached, or not left again
    TooLong,   ///< does not fit a shift even alone
    Full,      ///< its crew-days are full: secondsMissing in the one that comes nearest
};

struct LeftOutJob
{
    std::size_t job = 0;
    BacklogCause cause = BacklogCause::Full;
    double secondsMissing = 0;          ///< for TooLong and Full; 0 where more time does not help
    std::optional<std::size_t> crewDay; ///< for TooLong and Full: the one that comes nearest
};

struct CrewLoad
{
    int crew = 0;
    std::size_t jobs = 0;
    double driveSeconds = 0;
    double workSeconds = 0;
    double shiftSeconds = 0; ///< of all its crew-days; infinite when one has no end
};

struct BacklogPlan
{
    std::vector<CrewDayPlan> crewDays;  ///< one for each of the task
    std::vector<LeftOutJob> leftOut;    ///< by index of job
    std::vector<std::size_t> toldMoved; ///< told, but impossible there: somewhere else, or left out
    std::size_t done = 0;
    double priority = 0;
    double driveSeconds = 0;
    std::size_t moved = 0; ///< jobs done on another day than in the plan before
    std::vector<CrewLoad> loads;
    std::size_t ruins = 0;  ///< how far the search came
    bool cancelled = false; ///< the watcher stopped it; this is the best plan so far
};

/// Refuses indices outside of the table or the crew-days, and seconds, services, priorities,
/// shifts, breaks and windows that are not what they should be. Memory: the table twice (once when
/// there and back are alike) and about 1 kB a job.
[[nodiscard]] Result<BacklogPlan> planBacklog(const BacklogTask &task,
                                              const BacklogOptions &options = {},
                                              const Progress &progress = {});

} // namespace keyround
