// SPDX-License-Identifier: GPL-3.0-or-later
// The first plan: territories, so that the days of a week do not lie across each other, and then
// everything where it costs least.
#include "core/routing/crew_days_search.h"

#include <cmath>

namespace keyround {

namespace {

constexpr int rounds = 4; ///< of moving the seeds to the middle of their territories
constexpr std::size_t reportEvery = 200;

} // namespace

std::size_t CrewDaySearch::daysNeeded() const
{
    const std::size_t days = m_routes.size();
    double work = 0;
    for (std::size_t job = 0; job < m_model->jobCount(); ++job) {
        const BacklogJob &what = m_model->job(job);
        // Twice the hop to the nearest job stands for its share of the driving.
        const double there = m_model->nearCount() > 0
                                 ? static_cast<double>(m_model->from(
                                       what.place)[m_model->job(m_model->near(job)[0]).place])
                                 : 0.0;
        work += what.service + (std::isfinite(there) ? 2.0 * there : 0.0);
    }
    double room = 0;
    for (std::size_t crew = 0; crew < m_model->crewCount(); ++crew) {
        room += m_model->crewSeconds(crew);
    }
    const double need = room > 0 ? work / (room / static_cast<double>(days)) : 1.0;
    return std::min({days, m_model->jobCount(), static_cast<std::size_t>(std::ceil(need))});
}

std::vector<std::uint32_t> CrewDaySearch::spreadSeeds(std::size_t count)
{
    const std::size_t jobs = m_model->jobCount();
    const auto apart = [this](std::uint32_t a, std::uint32_t b) {
        const std::size_t from = m_model->job(a).place;
        const std::size_t to = m_model->job(b).place;
        return static_cast<double>(m_model->from(from)[to] + m_model->to(from)[to]);
    };
    std::vector<std::uint32_t> seeds;
    std::vector<double> nearest(jobs, unreachable);
    std::vector<std::size_t> seedOf(jobs, 0);
    const auto add = [&](std::uint32_t seed) {
        seeds.push_back(seed);
        for (std::uint32_t job = 0; job < jobs; ++job) {
            const double distance = apart(job, seed);
            if (distance < nearest[job]) {
                nearest[job] = distance;
                seedOf[job] = seeds.size() - 1;
            }
        }
    };
    add(static_cast<std::uint32_t>(below(jobs)));
    while (seeds.size() < count) {
        // The farther from all seeds so far, the likelier (k-means++, Arthur and Vassilvitskii
        // 2007); the best of some dice.
        std::uint32_t best = 0;
        double farthest = -1;
        for (int i = 0; i < 8; ++i) {
            const auto job = static_cast<std::uint32_t>(below(jobs));
            const double distance = std::isfinite(nearest[job]) ? nearest[job] : 0.0;
            if (distance > farthest) {
                farthest = distance;
                best = job;
            }
        }
        add(best);
    }
    for (int round = 0; round < rounds; ++round) {
        std::vector<std::vector<std::uint32_t>> territories(seeds.size());
        for (std::uint32_t job = 0; job < jobs; ++job) {
            territories[seedOf[job]].push_back(job);
        }
        seeds.clear();
        std::fill(nearest.begin(), nearest.end(), unreachable);
        for (const std::vector<std::uint32_t> &territory : territories) {
            std::uint32_t middle = territory.empty() ? 0 : territory.front();
            double least = unreachable;
            for (const std::uint32_t candidate : territory) {
                double sum = 0;
                for (std::size_t i = 0; i < territory.size() && sum < least; ++i) {
                    sum += apart(candidate, territory[i]);
                }
                if (sum < least) {
                    least = sum;
                    middle = candidate;
                }
            }
            add(middle);
        }
    }
    return seeds;
}

void CrewDaySearch::placeSeeds()
{
    for (const std::uint32_t seed : spreadSeeds(daysNeeded())) {
        if (m_routeOf[seed] >= 0) {
            continue;
        }
        m_found = Found();
        ++m_placing;
        for (std::size_t route = 0; route < m_routes.size(); ++route) {
            if (m_routes[route].jobs().empty() && worthTrying(seed, route)) {
                tryRoute(seed, route, 0.0, false);
            }
        }
        if (m_found.cost < unreachable) {
            countRoute(m_found.route, -1.0);
            if (m_routes[m_found.route].insert(m_found.position, seed)) {
                put(seed, m_found.route);
            }
            countRoute(m_found.route, 1.0);
        }
    }
}

bool CrewDaySearch::construct(const Progress &progress)
{
    bool goOn = report(progress, 0.0, QStringLiteral("First plan"));
    if (goOn && m_model->jobCount() > 0 && !m_routes.empty()) {
        // What must be done comes before the seeds: it may need the very crew-days they take.
        std::vector<std::uint32_t> order = m_leftOut;
        const auto firm = std::partition(order.begin(), order.end(), [this](std::uint32_t job) {
            return m_model->stepOf(job) == 0;
        });
        for (auto job = order.begin(); job != firm; ++job) {
            place(*job, false, true);
        }
        placeSeeds();
        m_pool = m_leftOut;
        sortPool();
        for (std::size_t i = 0; i < m_pool.size() && goOn; ++i) {
            place(m_pool[i], false, false);
            goOn =
                i % reportEvery != 0 ||
                report(progress, 0.05 * static_cast<double>(i) / static_cast<double>(m_pool.size()),
                       QStringLiteral("First plan"));
        }
    }
    m_pool.clear();
    m_touched.clear();
    std::fill(m_isTouched.begin(), m_isTouched.end(), char{0});
    std::fill(m_differs.begin(), m_differs.end(), char{1});
    keepBest();
    return goOn;
}

} // namespace keyround
