// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/crew_days_search.h"

#include <cmath>

namespace keyround {

namespace {

// Christiaens and Vanden Berghe: a gap is passed over this often.
constexpr double blinkShare = 0.01;
/// Once in so many ruins far more gaps and whole crew-days are passed over, and longer strings
/// taken out: what costs least for each job by itself often leaves no room for the others.
constexpr std::size_t wildEvery = 8;
constexpr double wildShare = 0.2;
/// With more crew-days than this that have room, only those are tried where neighbours are.
constexpr std::size_t manyRoutes = 10;
constexpr std::size_t neighboursAsked = 25;

} // namespace

CrewDaySearch::CrewDaySearch(const BacklogModel &model, std::uint64_t seed)
    : m_model(&model), m_state(seed * 0x9E3779B97F4A7C15ULL + 0xD1B54A32D192ED03ULL)
{
    const std::size_t days = model.dayCount();
    m_routes.reserve(days);
    for (std::size_t d = 0; d < days; ++d) {
        m_routes.emplace_back(model, d);
    }
    m_routeOf.assign(model.jobCount(), -1);
    m_leftOutAt.resize(model.jobCount());
    m_score.loads.assign(model.crewCount(), 0.0);
    for (std::uint32_t job = 0; job < model.jobCount(); ++job) {
        m_leftOutAt[job] = m_leftOut.size();
        m_leftOut.push_back(job);
        m_score.penalty += model.penaltyOf(job);
        m_score.lost[model.stepOf(job)] += model.worthOf(job);
    }
    m_best.resize(days);
    m_bestScore = m_score;
    m_differs.assign(days, 0);
    m_isTouched.assign(days, 0);
    m_tried.assign(days, 0);
}

// --- dice (xorshift64*, Vigna 2016) ---

std::uint64_t CrewDaySearch::dice()
{
    m_state ^= m_state >> 12;
    m_state ^= m_state << 25;
    m_state ^= m_state >> 27;
    return m_state * 0x2545F4914F6CDD1DULL;
}

std::size_t CrewDaySearch::below(std::size_t limit)
{
    return static_cast<std::size_t>(((dice() >> 32) * limit) >> 32);
}

double CrewDaySearch::share()
{
    return static_cast<double>(dice() >> 11) * 0x1.0p-53;
}

// --- score ---

double CrewDaySearch::softCost(const Score &score) const
{
    double cost = score.drive + score.placed + score.apart;
    for (std::size_t crew = 0; crew < score.loads.size(); ++crew) {
        // Half the square of the share worked: its slope is the share itself.
        cost += m_model->weights().fair * 0.5 * score.loads[crew] * score.loads[crew] /
                m_model->crewSeconds(crew);
    }
    return cost;
}

bool CrewDaySearch::isBetter(const Score &left, const Score &right) const
{
    const int order = compareLost(left.lost, right.lost);
    return order < 0 || (order == 0 && softCost(left) < softCost(right) - 1e-6);
}

double CrewDaySearch::linkedSeconds(std::uint32_t job, int route) const
{
    double apart = 0;
    for (const auto *link = m_model->linksBegin(job); link != m_model->linksEnd(job); ++link) {
        const int other = m_routeOf[link->other];
        if (other >= 0 && other != route) {
            apart += link->seconds;
        }
    }
    return apart;
}

void CrewDaySearch::take(std::uint32_t job)
{
    const int route = m_routeOf[job];
    m_score.apart -= linkedSeconds(job, route);
    m_score.placed -= m_model->placeCost(job, static_cast<std::size_t>(route));
    m_score.penalty += m_model->penaltyOf(job);
    m_score.lost[m_model->stepOf(job)] += m_model->worthOf(job);
    m_routeOf[job] = -1;
    m_leftOutAt[job] = m_leftOut.size();
    m_leftOut.push_back(job);
}

void CrewDaySearch::put(std::uint32_t job, std::size_t route)
{
    m_routeOf[job] = static_cast<int>(route);
    m_score.apart += linkedSeconds(job, static_cast<int>(route));
    m_score.placed += m_model->placeCost(job, route);
    m_score.penalty -= m_model->penaltyOf(job);
    m_score.lost[m_model->stepOf(job)] -= m_model->worthOf(job);
    const std::size_t gap = m_leftOutAt[job];
    m_leftOut[gap] = m_leftOut.back();
    m_leftOutAt[m_leftOut[gap]] = gap;
    m_leftOut.pop_back();
}

void CrewDaySearch::countRoute(std::size_t route, double sign)
{
    const CrewRoute &counted = m_routes[route];
    m_score.drive += sign * counted.driveSeconds();
    m_score.loads[m_model->crewOf(route)] +=
        sign * (counted.driveSeconds() + counted.workSeconds());
}

void CrewDaySearch::touch(std::size_t route)
{
    if (m_isTouched[route] != 0) {
        return;
    }
    m_isTouched[route] = 1;
    m_touched.push_back(route);
    if (m_saved.size() < m_touched.size()) {
        m_saved.emplace_back();
    }
    m_saved[m_touched.size() - 1] = m_routes[route].jobs();
}

void CrewDaySearch::undo()
{
    for (std::size_t i = 0; i < m_touched.size(); ++i) {
        for (const std::uint32_t job : m_routes[m_touched[i]].jobs()) {
            take(job);
        }
    }
    for (std::size_t i = 0; i < m_touched.size(); ++i) {
        m_routes[m_touched[i]].assign(m_saved[i]);
        for (const std::uint32_t job : m_saved[i]) {
            put(job, m_touched[i]);
        }
    }
    m_score = m_before; // free of the errors of adding and taking away
}

void CrewDaySearch::keepBest()
{
    for (std::size_t route = 0; route < m_routes.size(); ++route) {
        if (m_differs[route] != 0) {
            m_best[route] = m_routes[route].jobs();
            m_differs[route] = 0;
        }
    }
    m_bestScore = m_score;
}

// --- recreate ---

void CrewDaySearch::sortPool()
{
    const std::size_t kind = below(10);
    m_keys.clear();
    for (const std::uint32_t job : m_pool) {
        const BacklogJob &what = m_model->job(job);
        double key = share();
        if (kind < 2) {
            key = -what.service * (0.8 + 0.4 * key); // long work first
        } else if (kind < 4) {
            key = -m_model->worthOf(job) / (what.service + 60.0) * (0.8 + 0.4 * key);
        } else if (kind < 6) {
            const std::size_t start = m_model->task().crewDays[0].shift.start;
            const double far = static_cast<double>(m_model->from(start)[what.place]);
            key = kind == 4 ? far : -far;
        }
        m_keys.emplace_back(key, job);
    }
    std::sort(m_keys.begin(), m_keys.end(), [this](const auto &left, const auto &right) {
        const std::size_t leftStep = m_model->stepOf(left.second);
        const std::size_t rightStep = m_model->stepOf(right.second);
        return leftStep != rightStep ? leftStep < rightStep : left < right;
    });
    for (std::size_t i = 0; i < m_pool.size(); ++i) {
        m_pool[i] = m_keys[i].second;
    }
}

void CrewDaySearch::recreate(bool blink)
{
    for (const std::uint32_t job : m_pool) {
        place(job, blink, false);
    }
    m_pool.clear();
}

bool CrewDaySearch::worthTrying(std::uint32_t job, std::size_t route) const
{
    return m_routes[route].slack() >= m_model->job(job).service &&
           m_model->placeCost(job, route) < BacklogModel::unplaceable;
}

void CrewDaySearch::tryRoute(std::uint32_t job, std::size_t route, double linked, bool blink)
{
    m_tried[route] = m_placing;
    if (blink && m_wild && share() < wildShare) {
        return;
    }
    const double blinks = m_wild ? wildShare : blinkShare;
    const std::size_t crew = m_model->crewOf(route);
    const double busy = m_model->weights().fair * m_score.loads[crew] / m_model->crewSeconds(crew);
    double fixed = m_model->placeCost(job, route) + busy * m_model->job(job).service;
    if (linked > 0) {
        fixed += linkedSeconds(job, static_cast<int>(route));
    }
    const double each = 1.0 + busy;
    const double limit = (m_found.cost - fixed) / each;
    const auto skip = [this, blink, blinks](std::size_t) { return blink && share() < blinks; };
    const CrewRoute::Gap gap = m_routes[route].bestGap(job, limit, skip);
    if (gap.detour < limit) {
        m_found = {fixed + each * gap.detour, route, gap.position};
    }
}

bool CrewDaySearch::place(std::uint32_t job, bool blink, bool everywhere)
{
    m_found = Found();
    ++m_placing;
    const double linked = linkedSeconds(job, -1);
    std::size_t open = 0;
    for (std::size_t route = 0; route < m_routes.size(); ++route) {
        open += worthTrying(job, route) ? 1 : 0;
    }
    if (open > manyRoutes && !everywhere) {
        const std::size_t asked = std::min(neighboursAsked, m_model->nearCount());
        for (std::size_t k = 0; k < asked; ++k) {
            const int other = m_routeOf[m_model->near(job)[k]];
            const auto route = static_cast<std::size_t>(other);
            if (other >= 0 && m_tried[route] != m_placing && worthTrying(job, route)) {
                tryRoute(job, route, linked, blink);
            }
        }
        for (const std::size_t route : m_touched) {
            if (m_tried[route] != m_placing && worthTrying(job, route)) {
                tryRoute(job, route, linked, blink);
            }
        }
    }
    const bool found = m_found.cost < unreachable;
    for (std::size_t route = 0; route < m_routes.size(); ++route) {
        if (m_tried[route] != m_placing && worthTrying(job, route) &&
            (open <= manyRoutes || everywhere || !found || m_routes[route].jobs().empty())) {
            tryRoute(job, route, linked, blink);
        }
    }
    if (m_found.cost == unreachable) {
        return false;
    }
    touch(m_found.route);
    countRoute(m_found.route, -1.0);
    const bool fits = m_routes[m_found.route].insert(m_found.position, job);
    countRoute(m_found.route, 1.0);
    if (fits) {
        put(job, m_found.route);
    }
    return fits;
}

// --- the search ---

void CrewDaySearch::step(double temperature)
{
    m_before = m_score;
    m_touched.clear();
    m_pool.clear();
    m_wild = below(wildEvery) == 0;
    ruin();
    sortPool();
    recreate(true);
    const double before = m_before.penalty + softCost(m_before);
    const double now = m_score.penalty + softCost(m_score);
    const double threshold = before - temperature * std::log(1.0 - share());
    const bool best = isBetter(m_score, m_bestScore);
    if (best || now < threshold) {
        for (const std::size_t route : m_touched) {
            m_differs[route] = 1;
        }
        if (best) {
            keepBest();
        }
    } else {
        undo();
    }
    for (const std::size_t route : m_touched) {
        m_isTouched[route] = 0;
    }
}

void CrewDaySearch::finish()
{
    for (std::size_t route = 0; route < m_routes.size(); ++route) {
        for (const std::uint32_t job : m_routes[route].jobs()) {
            take(job);
        }
    }
    m_score.drive = 0;
    std::fill(m_score.loads.begin(), m_score.loads.end(), 0.0);
    for (std::size_t route = 0; route < m_routes.size(); ++route) {
        m_routes[route].assign(m_best[route]);
        countRoute(route, 1.0);
        for (const std::uint32_t job : m_best[route]) {
            put(job, route);
        }
    }
    m_pool = m_leftOut;
    std::sort(m_pool.begin(), m_pool.end(), [this](std::uint32_t left, std::uint32_t right) {
        const double leftWorth = m_model->penaltyOf(left);
        const double rightWorth = m_model->penaltyOf(right);
        return leftWorth != rightWorth ? leftWorth > rightWorth : left < right;
    });
    m_touched.clear();
    for (const std::uint32_t job : m_pool) {
        place(job, false, true);
    }
    m_pool.clear();
    for (const std::size_t route : m_touched) {
        m_isTouched[route] = 0;
    }
}

} // namespace keyround
