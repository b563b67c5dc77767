// SPDX-License-Identifier: GPL-3.0-or-later
// One crew-day during the search. Beside its order it keeps, for each place and each number of
// breaks taken before, the earliest second at which the crew can drive on and the latest at which
// it may arrive so that all the rest can still be kept. Whether a job fits between two others is
// then answered in a few additions, breaks and windows among them, and exactly.
#pragma once

#include "core/routing/crew_days_model.h"

namespace keyround {

class CrewRoute
{
public:
    CrewRoute(const BacklogModel &model, std::size_t crewDay);

    [[nodiscard]] const std::vector<std::uint32_t> &jobs() const { return m_jobs; }
    [[nodiscard]] std::size_t crewDay() const { return m_crewDay; }
    [[nodiscard]] double driveSeconds() const { return m_drive; }
    [[nodiscard]] double workSeconds() const { return m_work; }
    /// No job that takes longer fits in anywhere.
    [[nodiscard]] double slack() const { return m_slack; }

    /// False, and nothing changed, where it does not fit after all.
    bool insert(std::size_t position, std::uint32_t job);
    /// Takes out without working out the times anew: refresh() follows.
    void cut(std::size_t begin, std::size_t end);
    void clear();
    void assign(const std::vector<std::uint32_t> &jobs);
    /// False when the order cannot be driven within the shift, the windows and the breaks.
    bool refresh();

    struct Gap
    {
        std::size_t position = 0;
        double detour = unreachable; ///< seconds of driving that it adds
    };
    /// The gap with the least detour below `limit` in which the job fits; `skip(position)` may pass
    /// over some.
    template <typename Skip>
    [[nodiscard]] Gap bestGap(std::uint32_t job, double limit, Skip skip) const;

    /// The seconds by which the shift would have to be longer for the job to fit in somewhere (0:
    /// it fits as it is), infinite where more time does not help.
    [[nodiscard]] double missingFor(std::size_t job) const;

private:
    [[nodiscard]] bool fits(std::size_t position, const std::vector<TimeWindow> &windows,
                            double service, double there, double back) const;
    void refreshForwards();
    void refreshBackwards();
    [[nodiscard]] double hopFrom(std::size_t place, std::size_t next) const;

    const BacklogModel *m_model;
    const TimedShift *m_shift;
    std::size_t m_crewDay;
    std::size_t m_states; ///< breaks taken so far: none, one, ... all
    std::vector<std::uint32_t> m_jobs;
    std::vector<std::size_t> m_places; ///< start, jobs (the finish is the shift's)
    std::vector<double> m_hops;        ///< from each place to the next; the last to the finish
    std::vector<double> m_ready;       ///< by place and state: earliest second to drive on
    std::vector<double> m_latest;      ///< by place, the finish last, and state: latest arrival
    double m_drive = 0;
    double m_work = 0;
    double m_slack = 0;
};

template <typename Skip>
CrewRoute::Gap CrewRoute::bestGap(std::uint32_t job, double limit, Skip skip) const
{
    const BacklogJob &what = m_model->job(job);
    const auto &windows = m_model->windows(job, m_crewDay);
    const float *to = m_model->to(what.place);
    const float *from = m_model->from(what.place);
    const std::size_t count = m_places.size();
    Gap best;
    best.detour = limit;
    bool found = false;
    for (std::size_t i = 0; i < count; ++i) {
        const double there = static_cast<double>(to[m_places[i]]);
        const bool last = i + 1 == count;
        const double back = !last             ? static_cast<double>(from[m_places[i + 1]])
                            : m_shift->finish ? static_cast<double>(from[*m_shift->finish])
                                              : 0.0;
        const double detour = there + back - m_hops[i];
        if (detour < best.detour && fits(i, windows, what.service, there, back) && !skip(i)) {
            best = {i, detour};
            found = true;
        }
    }
    return found ? best : Gap();
}

inline bool CrewRoute::fits(std::size_t position, const std::vector<TimeWindow> &windows,
                            double service, double there, double back) const
{
    const double *ready = &m_ready[position * m_states];
    const double *latest = &m_latest[(position + 1) * m_states];
    for (std::size_t taken = 0; taken < m_states; ++taken) {
        double leave = firstBegin(windows, ready[taken] + there) + service;
        for (std::size_t now = taken; now < m_states; ++now) {
            if (leave + back <= latest[now]) {
                return true;
            }
            if (now + 1 < m_states) {
                leave = afterBreak(m_shift->breaks[now], leave);
            }
        }
    }
    return false;
}

} // namespace keyround
