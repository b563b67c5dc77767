// SPDX-License-Identifier: GPL-3.0-or-later
// What is taken out of a plan in one step: strings of jobs in neighbouring crew-days, and the jobs
// left out nearby, which may take their places.
#include "core/routing/crew_days_search.h"

namespace keyround {

namespace {

// Christiaens and Vanden Berghe's figures.
constexpr double meanRemoved = 10.0;
constexpr double longestString = 10.0;
constexpr double splitShare = 0.5;
constexpr double splitGrowth = 0.01; ///< chance that one more job stays within it
/// In a wild step strings may be this long in a plan of short crew-days, too.
constexpr double wildLongest = 5.0;
/// Jobs left out near the ruin that may take the place of those taken out.
constexpr std::size_t leftOutTried = 25;

} // namespace

void CrewDaySearch::ruin()
{
    const std::size_t jobs = m_model->jobCount();
    const std::size_t done = jobs - m_leftOut.size();
    const auto seed = static_cast<std::uint32_t>(below(jobs));
    if (done > 0) {
        const double average = static_cast<double>(done) /
                               static_cast<double>(std::max<std::size_t>(1, m_routes.size()));
        const double longest =
            std::max(m_wild ? wildLongest : 1.0, std::min(longestString, average));
        const double strings = 4.0 * meanRemoved / (1.0 + longest) - 1.0;
        const auto wanted = static_cast<std::size_t>(1.0 + share() * strings);
        const auto ruinAt = [&](std::uint32_t job) {
            const int route = m_routeOf[job];
            if (route >= 0 && m_isTouched[static_cast<std::size_t>(route)] == 0) {
                ruinString(job, static_cast<std::size_t>(longest));
            }
        };
        ruinAt(seed);
        for (std::size_t k = 0; k < m_model->nearCount() && m_touched.size() < wanted; ++k) {
            ruinAt(m_model->near(seed)[k]);
        }
    }
    gatherLeftOut(seed);
}

void CrewDaySearch::ruinString(std::uint32_t job, std::size_t longest)
{
    const auto route = static_cast<std::size_t>(m_routeOf[job]);
    touch(route);
    countRoute(route, -1.0);
    const std::vector<std::uint32_t> order = m_routes[route].jobs();
    const std::size_t most = std::min(order.size(), longest);
    const std::size_t length = 1 + below(most);
    std::size_t within = 0; // jobs inside the string that stay
    if (length > 1 && length < order.size() && share() < splitShare) {
        within = 1;
        while (length + within < order.size() && share() < splitGrowth) {
            ++within;
        }
    }
    const std::size_t span = length + within;
    const auto at =
        static_cast<std::size_t>(std::find(order.begin(), order.end(), job) - order.begin());
    const std::size_t earliest = at + 1 >= span ? at + 1 - span : 0;
    const std::size_t latest = std::min(at, order.size() - span);
    const std::size_t begin = earliest + below(latest - earliest + 1);
    const std::size_t keepFrom = within > 0 ? begin + 1 + below(length - 1) : begin + span;
    for (std::size_t i = begin; i < begin + span; ++i) {
        if (i < keepFrom || i >= keepFrom + within) {
            take(order[i]);
            m_pool.push_back(order[i]);
        }
    }
    if (within > 0) {
        m_routes[route].cut(keepFrom + within, begin + span);
        m_routes[route].cut(begin, keepFrom);
    } else {
        m_routes[route].cut(begin, begin + span);
    }
    release(route);
}

/// What is left of a crew-day may be impossible where the table is not one of shortest ways.
void CrewDaySearch::release(std::size_t route)
{
    if (!m_routes[route].refresh()) {
        for (const std::uint32_t job : m_routes[route].jobs()) {
            take(job);
            m_pool.push_back(job);
        }
        m_routes[route].clear();
    }
    countRoute(route, 1.0);
}

void CrewDaySearch::gatherLeftOut(std::uint32_t seed)
{
    const std::size_t taken = m_pool.size();
    if (m_leftOut.size() <= taken) {
        return;
    }
    if (m_leftOut.size() - taken <= leftOutTried) {
        m_pool.assign(m_leftOut.begin(), m_leftOut.end());
        return;
    }
    const auto isTaken = [&](std::uint32_t job) {
        return std::find(m_pool.begin(), m_pool.begin() + static_cast<std::ptrdiff_t>(taken),
                         job) != m_pool.begin() + static_cast<std::ptrdiff_t>(taken);
    };
    const auto offer = [&](std::uint32_t job) {
        if (m_routeOf[job] < 0 && share() < 0.8 && !isTaken(job)) {
            m_pool.push_back(job);
        }
    };
    offer(seed);
    for (std::size_t k = 0; k < m_model->nearCount() && m_pool.size() < taken + leftOutTried; ++k) {
        offer(m_model->near(seed)[k]);
    }
    const std::uint32_t any = m_leftOut[below(m_leftOut.size())];
    if (std::find(m_pool.begin(), m_pool.end(), any) == m_pool.end()) {
        m_pool.push_back(any);
    }
}

} // namespace keyround
