// SPDX-License-Identifier: GPL-3.0-or-later
// A day's task as its searches see it: units (a stop, or a locked stretch of stops) with seconds
// between them, and the clock of a unit forwards (earliest leaving) and backwards (latest
// arriving), for every number of breaks taken so far.
//
// Legs without a way count as `noWay` seconds, by which no day ends in time: sums stay finite.
#pragma once

#include "core/routing/timed_route.h"

#include <cstdint>
#include <vector>

namespace keyround {

struct DayUnit
{
    std::vector<std::size_t> stops; ///< of the task
    double prize = 0;               ///< what it is worth: any must-go unit more than all others
    bool mustGo = false;
    bool isFirst = false;
    bool isLast = false;
};

class DayUnits
{
public:
    static constexpr double noWay = 1e9;
    static constexpr double impossible = unreachable;
    static constexpr double tooLate = 5e8; ///< no day ends after this

    DayUnits(const Matrix &seconds, const TimedShift &shift, const std::vector<TimedStop> &stops,
             std::vector<DayUnit> units);

    [[nodiscard]] std::uint32_t size() const { return m_count; }
    [[nodiscard]] std::uint32_t start() const { return m_count; }
    [[nodiscard]] std::uint32_t finish() const { return m_count + 1; }
    /// Numbers of breaks that may have been taken: 0, 1, ... (one more than there are breaks).
    [[nodiscard]] std::size_t states() const { return m_states; }
    [[nodiscard]] const DayUnit &unit(std::uint32_t u) const { return m_units[u]; }
    [[nodiscard]] double prize(std::uint32_t u) const { return m_units[u].prize; }
    /// From the last stop of one to the first stop of another.
    [[nodiscard]] double drive(std::uint32_t from, std::uint32_t to) const
    {
        return m_drive[from * (m_count + 2) + to];
    }
    /// Work and the driving within the unit.
    [[nodiscard]] double within(std::uint32_t u) const { return m_within[u]; }
    [[nodiscard]] double driveWithin(std::uint32_t u) const { return m_driveWithin[u]; }
    /// From the stop before to the i-th of the unit.
    [[nodiscard]] double hop(std::uint32_t u, std::size_t i) const { return m_hops[u][i]; }
    [[nodiscard]] double begin() const { return m_shift.begin; }
    /// No windows and no breaks: only the sum of seconds counts.
    [[nodiscard]] bool isPlain() const { return m_plain; }
    [[nodiscard]] bool hasWindow(std::uint32_t u) const { return m_hasWindow[u] != 0; }

    /// Seconds at which the crew is ready to drive from the start.
    void leaveStart(double *ready) const;
    /// From arrivals (by breaks taken) to being ready to drive on, with breaks taken after work
    /// where they may be. False when no state is left.
    bool work(std::uint32_t u, double *times) const;
    /// Backwards: from the latest seconds of being ready to drive on (before breaks) to the latest
    /// arrivals at the unit. -impossible where there are none.
    void latestArrivals(std::uint32_t u, double *times) const;
    /// Latest arrivals at the finish.
    void latestFinish(double *times) const;
    /// Takes a step back from the latest arrivals at the next unit over the drive and the breaks.
    void latestReady(double drive, double *times) const;

    /// One state and one window a stop: what `work` comes to.
    [[nodiscard]] bool isSimple() const { return m_simple; }
    [[nodiscard]] double workSimple(std::uint32_t u, double arrive) const
    {
        return arrive > m_to[u] ? impossible
                                : (arrive < m_from[u] ? m_from[u] : arrive) + m_within[u];
    }
    [[nodiscard]] double waitSimple(std::uint32_t u, double arrive) const
    {
        return arrive < m_from[u] ? m_from[u] - arrive : 0.0;
    }
    /// Latest arrival, and the first second of work, over all windows (for rough orders).
    [[nodiscard]] double lastArrival(std::uint32_t u) const { return m_to[u]; }
    [[nodiscard]] double firstWork(std::uint32_t u) const { return m_from[u]; }

private:
    struct WorkTimes ///< of a stop: what is asked for again and again, side by side
    {
        double from = -impossible;
        double to = impossible;
        double service = 0;
        std::size_t windows = 0;
    };

    void takeBreaks(double *times) const;
    [[nodiscard]] double endOfWork(std::size_t stop, double arrive) const;

    const TimedShift &m_shift;
    const std::vector<TimedStop> &m_stops;
    std::vector<DayUnit> m_units;
    std::uint32_t m_count = 0;
    std::size_t m_states = 1;
    bool m_plain = true;
    bool m_simple = true;
    std::vector<WorkTimes> m_work;
    std::vector<double> m_drive;
    std::vector<double> m_within;
    std::vector<double> m_driveWithin;
    std::vector<double> m_from;
    std::vector<double> m_to;
    std::vector<char> m_hasWindow;
    std::vector<std::vector<double>> m_hops; ///< within each unit
};

} // namespace keyround
