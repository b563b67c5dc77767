// SPDX-License-Identifier: GPL-3.0-or-later
// Ruin and recreate over crew-days: strings of neighbouring jobs are taken out of a few crew-days
// that touch each other, then they and the jobs left out nearby are put back one by one where they
// cost least. The result is kept when it is no worse than the state before by more than what the
// falling temperature allows. Everything is exact bookkeeping; the dice are the search's own.
#pragma once

#include "core/routing/crew_days_route.h"

namespace keyround {

class CrewDaySearch
{
public:
    CrewDaySearch(const BacklogModel &model, std::uint64_t seed);

    /// A first plan: a seed for each crew-day that will be needed, then all others where they cost
    /// least. False when the watcher cancelled; the plan is valid then too.
    bool construct(const Progress &progress);
    /// One ruin, and what comes of it.
    void step(double temperature);
    /// Back to the best plan found; then everything is put in that still fits.
    void finish();

    [[nodiscard]] const std::vector<CrewRoute> &routes() const { return m_routes; }
    [[nodiscard]] bool isDone(std::size_t job) const { return m_routeOf[job] >= 0; }
    /// Temperatures, in seconds, between which to search.
    [[nodiscard]] double hottest() const { return m_hottest; }
    [[nodiscard]] double coldest() const { return m_hottest / 100.0; }

private:
    /// All that decides whether a plan is better, kept up to date.
    struct Score
    {
        Lost lost{};
        double penalty = 0; ///< of the jobs left out
        double drive = 0;
        double placed = 0;         ///< delays and moves
        double apart = 0;          ///< neighbours and groups on different crew-days
        std::vector<double> loads; ///< by crew, seconds
    };
    [[nodiscard]] double softCost(const Score &score) const;
    [[nodiscard]] bool isBetter(const Score &left, const Score &right) const;

    // Ruin.
    void ruin();
    void ruinString(std::uint32_t job, std::size_t longest);
    void release(std::size_t route);
    void gatherLeftOut(std::uint32_t seed);
    // Recreate.
    void sortPool();
    void recreate(bool blink);
    bool place(std::uint32_t job, bool blink, bool everywhere);
    void tryRoute(std::uint32_t job, std::size_t route, double linked, bool blink);
    [[nodiscard]] bool worthTrying(std::uint32_t job, std::size_t route) const;
    [[nodiscard]] double linkedSeconds(std::uint32_t job, int route) const;

    // Bookkeeping.
    void touch(std::size_t route);
    void refresh(std::size_t route);
    void countRoute(std::size_t route, double sign);
    void take(std::uint32_t job);
    void put(std::uint32_t job, std::size_t route);
    void undo();
    void keepBest();

    // First plan.
    [[nodiscard]] std::size_t daysNeeded() const;
    [[nodiscard]] std::vector<std::uint32_t> spreadSeeds(std::size_t count);
    void placeSeeds();

    [[nodiscard]] std::uint64_t dice();
    [[nodiscard]] std::size_t below(std::size_t limit);
    [[nodiscard]] double share();

    const BacklogModel *m_model;
    std::uint64_t m_state;
    double m_hottest = 150.0;
    std::vector<CrewRoute> m_routes;
    std::vector<int> m_routeOf; ///< by job; -1: left out
    std::vector<std::uint32_t> m_leftOut;
    std::vector<std::size_t> m_leftOutAt; ///< by job: where it stands in m_leftOut
    Score m_score;

    std::vector<std::vector<std::uint32_t>> m_best;
    Score m_bestScore;
    std::vector<char> m_differs; ///< by route: not as in the best plan

    // Of the step under way.
    Score m_before;
    std::vector<std::size_t> m_touched;
    std::vector<char> m_isTouched;
    std::vector<std::vector<std::uint32_t>> m_saved; ///< orders of the touched, before
    std::vector<std::uint32_t> m_pool;
    std::vector<std::pair<double, std::uint32_t>> m_keys;
    std::vector<std::size_t> m_tried; ///< by route: number of the placing that tried it last
    std::size_t m_placing = 0;
    bool m_wild = false; ///< this step passes over much more than others
    struct Found
    {
        double cost = unreachable;
        std::size_t route = 0;
        std::size_t position = 0;
    };
    Found m_found;
};

} // namespace keyround
