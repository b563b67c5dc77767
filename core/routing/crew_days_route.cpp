// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/crew_days_route.h"

#include <cmath>

namespace keyround {

CrewRoute::CrewRoute(const BacklogModel &model, std::size_t crewDay)
    : m_model(&model), m_shift(&model.task().crewDays[crewDay].shift), m_crewDay(crewDay),
      m_states(m_shift->breaks.size() + 1)
{
    refresh();
}

bool CrewRoute::insert(std::size_t position, std::uint32_t job)
{
    m_jobs.insert(m_jobs.begin() + static_cast<std::ptrdiff_t>(position), job);
    if (refresh()) {
        return true;
    }
    // The same seconds added up in another order may come out longer by the last bit.
    cut(position, position + 1);
    refresh();
    return false;
}

void CrewRoute::cut(std::size_t begin, std::size_t end)
{
    m_jobs.erase(m_jobs.begin() + static_cast<std::ptrdiff_t>(begin),
                 m_jobs.begin() + static_cast<std::ptrdiff_t>(end));
}

void CrewRoute::clear()
{
    m_jobs.clear();
    refresh();
}

void CrewRoute::assign(const std::vector<std::uint32_t> &jobs)
{
    m_jobs = jobs;
    refresh();
}

double CrewRoute::hopFrom(std::size_t place, std::size_t next) const
{
    return static_cast<double>(m_model->from(place)[next]);
}

bool CrewRoute::refresh()
{
    const std::size_t count = m_jobs.size();
    m_places.resize(count + 1);
    m_hops.resize(count + 1);
    m_places[0] = m_shift->start;
    m_work = 0;
    m_drive = 0;
    for (std::size_t i = 0; i < count; ++i) {
        const BacklogJob &job = m_model->job(m_jobs[i]);
        m_places[i + 1] = job.place;
        m_hops[i] = hopFrom(m_places[i], job.place);
        m_work += job.service;
        m_drive += m_hops[i];
    }
    // A free day is not driven, whatever lies between its start and its finish.
    m_hops[count] = count > 0 && m_shift->finish ? hopFrom(m_places[count], *m_shift->finish) : 0.0;
    m_drive += m_hops[count];
    refreshForwards();
    refreshBackwards();
    for (std::size_t k = 0; k < m_states; ++k) {
        const std::size_t last = count * m_states + k;
        if (m_ready[last] + m_hops[count] <= m_latest[last + m_states]) {
            return true;
        }
    }
    return count == 0;
}

void CrewRoute::refreshForwards()
{
    const std::size_t count = m_jobs.size();
    m_ready.resize((count + 1) * m_states);
    for (std::size_t i = 0; i <= count; ++i) {
        double *ready = &m_ready[i * m_states];
        if (i == 0) {
            std::fill(ready, ready + m_states, unreachable);
            ready[0] = m_shift->begin;
        } else {
            const auto &windows = m_model->windows(m_jobs[i - 1], m_crewDay);
            const double service = m_model->job(m_jobs[i - 1]).service;
            for (std::size_t k = 0; k < m_states; ++k) {
                ready[k] =
                    firstBegin(windows, m_ready[(i - 1) * m_states + k] + m_hops[i - 1]) + service;
            }
        }
        for (std::size_t k = 0; k + 1 < m_states; ++k) {
            ready[k + 1] = std::min(ready[k + 1], afterBreak(m_shift->breaks[k], ready[k]));
        }
    }
}

void CrewRoute::refreshBackwards()
{
    const std::size_t count = m_jobs.size();
    m_latest.resize((count + 2) * m_states);
    for (std::size_t k = 0; k < m_states; ++k) {
        // Breaks that come when the crew is already at the finish fall away.
        m_latest[(count + 1) * m_states + k] =
            k + 1 < m_states ? std::min(m_shift->end, m_shift->breaks[k].earliest) : m_shift->end;
    }
    m_slack = 0;
    for (std::size_t i = count + 1; i-- > 0;) {
        const double *next = &m_latest[(i + 1) * m_states];
        double *latest = &m_latest[i * m_states];
        for (std::size_t k = m_states; k-- > 0;) {
            // Here: the latest second to be ready to drive on, or to take the next break.
            latest[k] = next[k] - m_hops[i];
            if (k + 1 < m_states) {
                latest[k] = std::max(latest[k], beforeBreak(m_shift->breaks[k], latest[k + 1]));
            }
        }
        for (std::size_t k = 0; k < m_states; ++k) {
            m_slack = std::max(m_slack, latest[k] - m_ready[i * m_states + k]);
            if (i > 0) {
                latest[k] = latestArrival(m_model->windows(m_jobs[i - 1], m_crewDay),
                                          latest[k] - m_model->job(m_jobs[i - 1]).service);
            }
        }
    }
}

double CrewRoute::missingFor(std::size_t job) const
{
    const BacklogJob &what = m_model->job(job);
    const auto &windows = m_model->windows(job, m_crewDay);
    double least = unreachable;
    for (std::size_t i = 0; i < m_places.size(); ++i) {
        const bool last = i + 1 == m_places.size();
        const double there = hopFrom(m_places[i], what.place);
        const double back = !last             ? hopFrom(what.place, m_places[i + 1])
                            : m_shift->finish ? hopFrom(what.place, *m_shift->finish)
                                              : 0.0;
        for (std::size_t taken = 0; taken < m_states; ++taken) {
            double leave =
                firstBegin(windows, m_ready[i * m_states + taken] + there) + what.service;
            for (std::size_t now = taken; now < m_states; ++now) {
                const double over = leave + back - m_latest[(i + 1) * m_states + now];
                // Where a break is still to come, it is in the way, not the shift's end.
                const bool breakAhead =
                    last && now + 1 < m_states && m_shift->breaks[now].earliest < m_shift->end;
                if (over <= 0) {
                    return 0.0;
                }
                if (std::isfinite(over) && !breakAhead) {
                    least = std::min(least, over);
                }
                if (now + 1 < m_states) {
                    leave = afterBreak(m_shift->breaks[now], leave);
                }
            }
        }
    }
    return least;
}

} // namespace keyround
