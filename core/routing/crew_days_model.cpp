// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/crew_days_model.h"

#include "core/routing/crew_days_route.h"

#include <cmath>
#include <map>
#include <numeric>

namespace keyround {

namespace {

/// What the annealing gives for one job of the lowest step, in ways there and back to the farthest
/// job, and in seconds at least. Only the search's way depends on it; which plan is better does
/// not.
constexpr double lowestPenaltyWays = 1.5;
constexpr double lowestPenalty = 1200.0;
/// A job of one step outweighs this many of the step below.
constexpr double stepRatio = 32.0;
constexpr double noEndSeconds = 86400.0;
/// Neighbours that a job would like to share its crew-day with.
constexpr std::size_t linkedNeighbours = 3;
/// In larger groups each is linked to this many next ones, not to all.
constexpr std::size_t groupLinks = 6;

/// The priority that opens each step, highest first. A step ends where priorities are worth half of
/// its first one or less.
std::vector<double> stepTops(const std::vector<BacklogJob> &jobs)
{
    std::vector<double> priorities;
    for (const BacklogJob &job : jobs) {
        if (job.priority > 0 && !job.mustGo && !job.toldCrewDay) {
            priorities.push_back(job.priority);
        }
    }
    std::sort(priorities.begin(), priorities.end(), std::greater<>());
    std::vector<double> tops;
    for (const double priority : priorities) {
        if (tops.empty() || (priority * 2.0 <= tops.back() && tops.size() + 2 < worthSteps)) {
            tops.push_back(priority);
        }
    }
    return tops;
}

} // namespace

int compareLost(const Lost &left, const Lost &right)
{
    for (std::size_t step = 0; step < worthSteps; ++step) {
        const double slip = 1e-9 * (1.0 + std::abs(left[step]) + std::abs(right[step]));
        if (std::abs(left[step] - right[step]) > slip) {
            return left[step] < right[step] ? -1 : 1;
        }
    }
    return 0;
}

BacklogModel::BacklogModel(const BacklogTask &task, const BacklogOptions &options)
    : m_task(&task), m_weights(options.weights), m_back(&task.seconds)
{
    if (!task.seconds.isSymmetric()) {
        m_turned = task.seconds.transposed();
        m_back = &m_turned;
    }
    countCrews();
    costPlaces();
    rankWorth(options.higherFirst);
    findNear();
    linkJobs();
}

void BacklogModel::rankWorth(bool higherFirst)
{
    const std::size_t count = jobCount();
    const std::vector<double> tops =
        higherFirst ? stepTops(m_task->jobs) : std::vector<double>{unreachable};
    m_step.assign(count, worthSteps - 1);
    m_worth.assign(count, 1.0);
    std::array<double, worthSteps> smallest{};
    std::array<double, worthSteps> largest{};
    smallest.fill(unreachable);
    for (std::size_t i = 0; i < count; ++i) {
        const BacklogJob &one = job(i);
        if (one.mustGo || one.toldCrewDay) {
            m_step[i] = 0;
        } else if (one.priority > 0) {
            std::size_t step = 0;
            while (step + 1 < tops.size() && one.priority <= tops[step + 1]) {
                ++step;
            }
            m_step[i] = step + 1;
            m_worth[i] = one.priority;
        }
        smallest[m_step[i]] = std::min(smallest[m_step[i]], m_worth[i]);
        largest[m_step[i]] = std::max(largest[m_step[i]], m_worth[i]);
    }
    double farthest = 0;
    for (const CrewDay &crewDay : m_task->crewDays) {
        const std::size_t start = crewDay.shift.start;
        for (const BacklogJob &one : m_task->jobs) {
            const auto way = static_cast<double>(from(start)[one.place] + to(start)[one.place]);
            farthest = std::isfinite(way) ? std::max(farthest, way) : farthest;
        }
    }
    std::array<double, worthSteps> scale{};
    double below = std::max(lowestPenalty, lowestPenaltyWays * farthest) / stepRatio;
    for (std::size_t step = worthSteps; step-- > 0;) {
        if (largest[step] > 0) {
            scale[step] = below * stepRatio / smallest[step];
            below = scale[step] * largest[step];
        }
    }
    m_penalty.resize(count);
    for (std::size_t i = 0; i < count; ++i) {
        m_penalty[i] = scale[m_step[i]] * m_worth[i];
    }
}

double BacklogModel::missingAlone(std::size_t job, std::size_t crewDay) const
{
    return CrewRoute(*this, crewDay).missingFor(job);
}

void BacklogModel::costPlaces()
{
    double highest = 0;
    for (const BacklogJob &one : m_task->jobs) {
        highest = std::max(highest, one.priority);
    }
    m_placeCost.assign(jobCount() * dayCount(), static_cast<float>(unplaceable));
    for (std::size_t i = 0; i < jobCount(); ++i) {
        costPlacesOf(i, highest);
    }
}

void BacklogModel::costPlacesOf(std::size_t index, double highest)
{
    const BacklogJob &one = job(index);
    const auto mayBe = [&](std::size_t d) {
        const CrewDay &crewDay = m_task->crewDays[d];
        return (one.skillsNeeded & ~crewDay.skills) == 0 && crewDay.day >= one.earliestDay;
    };
    bool told = one.toldCrewDay.has_value();
    if (told && (!mayBe(*one.toldCrewDay) || missingAlone(index, *one.toldCrewDay) > 0)) {
        told = false;
        m_toldMoved.push_back(index);
    }
    const double share = highest > 0 ? one.priority / highest : 0.0;
    for (std::size_t d = 0; d < dayCount(); ++d) {
        if (!mayBe(d) || (told && d != *one.toldCrewDay)) {
            continue;
        }
        const CrewDay &crewDay = m_task->crewDays[d];
        double cost = m_weights.early * share * crewDay.day;
        if (one.dueDay && crewDay.day > *one.dueDay) {
            cost += m_weights.late * (crewDay.day - *one.dueDay);
        }
        if (one.plannedCrewDay && *one.plannedCrewDay != d) {
            const bool sameDay = m_task->crewDays[*one.plannedCrewDay].day == crewDay.day;
            cost += m_weights.stability * (sameDay ? 0.5 : 1.0);
        }
        m_placeCost[index * dayCount() + d] = static_cast<float>(cost);
    }
}

void BacklogModel::findNear()
{
    const std::size_t count = jobCount();
    m_nearCount = count > 0 ? std::min(nearestKept, count - 1) : 0;
    m_near.resize(count * m_nearCount);
    std::vector<std::pair<float, std::uint32_t>> others(count);
    for (std::size_t i = 0; i < count; ++i) {
        const float *there = from(job(i).place);
        const float *back = to(job(i).place);
        others.clear();
        for (std::size_t j = 0; j < count; ++j) {
            if (j != i) {
                const std::size_t place = job(j).place;
                others.emplace_back(there[place] + back[place], static_cast<std::uint32_t>(j));
            }
        }
        const auto end = others.begin() + static_cast<std::ptrdiff_t>(m_nearCount);
        if (end != others.end()) {
            std::nth_element(others.begin(), end, others.end());
        }
        std::sort(others.begin(), end);
        for (std::size_t k = 0; k < m_nearCount; ++k) {
            m_near[i * m_nearCount + k] = others[k].second;
        }
    }
}

void BacklogModel::linkJobs()
{
    std::map<std::pair<std::uint32_t, std::uint32_t>, double> weights;
    const auto link = [&weights](std::size_t a, std::size_t b, double seconds) {
        double &weight = weights[{static_cast<std::uint32_t>(std::min(a, b)),
                                  static_cast<std::uint32_t>(std::max(a, b))}];
        weight = std::max(weight, seconds);
    };
    std::map<std::size_t, std::vector<std::size_t>> groups;
    for (std::size_t i = 0; i < jobCount(); ++i) {
        if (m_weights.together > 0) {
            for (std::size_t k = 0; k < std::min(linkedNeighbours, m_nearCount); ++k) {
                link(i, near(i)[k], m_weights.together);
            }
        }
        if (job(i).group) {
            groups[*job(i).group].push_back(i);
        }
    }
    for (const auto &[group, members] : groups) {
        for (std::size_t a = 0; a < members.size(); ++a) {
            for (std::size_t b = a + 1; b < members.size() && b <= a + groupLinks; ++b) {
                link(members[a], members[b], m_weights.group);
            }
        }
    }
    m_linkStart.assign(jobCount() + 1, 0);
    for (const auto &[pair, seconds] : weights) {
        ++m_linkStart[pair.first + 1];
        ++m_linkStart[pair.second + 1];
    }
    std::partial_sum(m_linkStart.begin(), m_linkStart.end(), m_linkStart.begin());
    m_links.resize(m_linkStart.back());
    std::vector<std::size_t> next(m_linkStart.begin(), m_linkStart.end() - 1);
    for (const auto &[pair, seconds] : weights) {
        m_links[next[pair.first]++] = {pair.second, seconds};
        m_links[next[pair.second]++] = {pair.first, seconds};
    }
}

void BacklogModel::countCrews()
{
    std::map<int, std::size_t> indexOf;
    for (const CrewDay &crewDay : m_task->crewDays) {
        const auto [entry, added] = indexOf.try_emplace(crewDay.crew, m_crews.size());
        if (added) {
            m_crews.push_back(crewDay.crew);
            m_crewSeconds.push_back(0.0);
        }
        m_crewOf.push_back(entry->second);
        const double length = crewDay.shift.end - crewDay.shift.begin;
        m_crewSeconds[entry->second] += std::isfinite(length) ? length : noEndSeconds;
    }
}

} // namespace keyround
