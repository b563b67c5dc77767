// SPDX-License-Identifier: GPL-3.0-or-later
// A backlog prepared for the search: what it costs to leave a job out, what it costs to have it on
// a crew-day, which jobs are near each other and which belong together.
#pragma once

#include "core/routing/crew_days.h"

#include <algorithm>
#include <array>

namespace keyround {

/// Steps of worth: 0 holds what must be done, then the steps of priority, the last one what has no
/// priority. Priorities of more steps than there are stand in the last but one, where their sum
/// counts.
inline constexpr std::size_t worthSteps = 7;
/// What was left out, by step; a better plan is smaller in the first step that differs.
using Lost = std::array<double, worthSteps>;
[[nodiscard]] int compareLost(const Lost &left, const Lost &right);

class BacklogModel
{
public:
    static constexpr std::size_t nearestKept = 100;
    static constexpr double unplaceable = unreachable;

    BacklogModel(const BacklogTask &task, const BacklogOptions &options);

    [[nodiscard]] const BacklogTask &task() const { return *m_task; }
    [[nodiscard]] const BacklogWeights &weights() const { return m_weights; }
    [[nodiscard]] std::size_t jobCount() const { return m_task->jobs.size(); }
    [[nodiscard]] std::size_t dayCount() const { return m_task->crewDays.size(); }
    [[nodiscard]] const BacklogJob &job(std::size_t index) const { return m_task->jobs[index]; }

    [[nodiscard]] std::size_t stepOf(std::size_t job) const { return m_step[job]; }
    [[nodiscard]] double worthOf(std::size_t job) const { return m_worth[job]; }
    /// What leaving it out counts in the annealing, in seconds.
    [[nodiscard]] double penaltyOf(std::size_t job) const { return m_penalty[job]; }

    /// Seconds that having a job on a crew-day counts: its delay, its move. `unplaceable` where it
    /// may not be.
    [[nodiscard]] double placeCost(std::size_t job, std::size_t crewDay) const
    {
        return static_cast<double>(m_placeCost[job * dayCount() + crewDay]);
    }
    [[nodiscard]] const std::vector<std::size_t> &toldMoved() const { return m_toldMoved; }

    /// Seconds from a place to all others, and from all others to a place.
    [[nodiscard]] const float *from(std::size_t place) const { return m_task->seconds.row(place); }
    [[nodiscard]] const float *to(std::size_t place) const { return m_back->row(place); }

    [[nodiscard]] std::size_t nearCount() const { return m_nearCount; }
    /// The nearest other jobs, nearest first (there and back).
    [[nodiscard]] const std::uint32_t *near(std::size_t job) const
    {
        return m_near.data() + job * m_nearCount;
    }

    struct Link
    {
        std::uint32_t other = 0;
        double seconds = 0; ///< counted when the two are on different crew-days
    };
    [[nodiscard]] const Link *linksBegin(std::size_t job) const
    {
        return m_links.data() + m_linkStart[job];
    }
    [[nodiscard]] const Link *linksEnd(std::size_t job) const
    {
        return m_links.data() + m_linkStart[job + 1];
    }

    [[nodiscard]] std::size_t crewCount() const { return m_crews.size(); }
    [[nodiscard]] int crewNumber(std::size_t index) const { return m_crews[index]; }
    [[nodiscard]] std::size_t crewOf(std::size_t crewDay) const { return m_crewOf[crewDay]; }
    /// Seconds of all shifts of a crew; finite (24 h for a shift without an end).
    [[nodiscard]] double crewSeconds(std::size_t crew) const { return m_crewSeconds[crew]; }

    [[nodiscard]] const std::vector<TimeWindow> &windows(std::size_t job, std::size_t crewDay) const
    {
        const auto &sets = m_task->jobs[job].windows;
        const std::size_t set = m_task->crewDays[crewDay].windowSet;
        return set < sets.size() ? sets[set] : m_anyTime;
    }
    /// A job by itself: the seconds its shift is too short (0: it fits), infinite where more time
    /// does not help.
    [[nodiscard]] double missingAlone(std::size_t job, std::size_t crewDay) const;

private:
    void rankWorth(bool higherFirst);
    void costPlaces();
    void costPlacesOf(std::size_t job, double highest);
    void findNear();
    void linkJobs();
    void countCrews();

    const BacklogTask *m_task;
    BacklogWeights m_weights;
    SecondsTable m_turned;
    const SecondsTable *m_back;
    std::vector<std::size_t> m_step;
    std::vector<double> m_worth;
    std::vector<double> m_penalty;
    std::vector<float> m_placeCost;
    std::vector<std::size_t> m_toldMoved;
    std::size_t m_nearCount = 0;
    std::vector<std::uint32_t> m_near;
    std::vector<std::size_t> m_linkStart;
    std::vector<Link> m_links;
    std::vector<int> m_crews;
    std::vector<std::size_t> m_crewOf;
    std::vector<double> m_crewSeconds;
    std::vector<TimeWindow> m_anyTime;
};

// The rules of windows and breaks, forwards and backwards in time.

/// When work can begin for who arrives then; infinite when never.
[[nodiscard]] inline double firstBegin(const std::vector<TimeWindow> &windows, double arrive)
{
    if (windows.empty()) {
        return arrive;
    }
    for (const TimeWindow &window : windows) {
        if (arrive <= window.to) {
            return std::max(arrive, window.from);
        }
    }
    return unreachable;
}

/// The latest arrival after which work still begins by `begin`; minus infinity when none does.
[[nodiscard]] inline double latestArrival(const std::vector<TimeWindow> &windows, double begin)
{
    if (windows.empty()) {
        return begin;
    }
    double latest = -unreachable;
    for (const TimeWindow &window : windows) {
        if (window.from <= begin) {
            latest = std::min(begin, window.to);
        }
    }
    return latest;
}

/// When a break that could begin at `ready` is over; infinite when it is too late for it.
[[nodiscard]] inline double afterBreak(const TimedBreak &pause, double ready)
{
    const double begin = std::max(ready, pause.earliest);
    return begin <= pause.latest ? begin + pause.seconds : unreachable;
}

/// The latest second to be ready for a break that must be over by `done`.
[[nodiscard]] inline double beforeBreak(const TimedBreak &pause, double done)
{
    const double begin = std::min(pause.latest, done - pause.seconds);
    return begin >= pause.earliest ? begin : -unreachable;
}

} // namespace keyround
