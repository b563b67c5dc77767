// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/choose_stops.h"

#include "core/dayplan/day_clock.h"
#include "core/routing/stop_order.h"

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

constexpr std::size_t firstStop = DayPlaces::firstStop;

struct Insertion
{
    std::size_t at = 0;
    double driveSeconds = 0;
};

Insertion cheapestInsertion(const Matrix &seconds, const std::vector<std::size_t> &order,
                            std::size_t candidate)
{
    Insertion best{0, unreachable};
    const std::size_t place = firstStop + candidate;
    for (std::size_t at = 0; at <= order.size(); ++at) {
        const std::size_t before = at == 0 ? DayPlaces::start : firstStop + order[at - 1];
        const std::size_t after = at == order.size() ? DayPlaces::finish : firstStop + order[at];
        const double added =
            seconds.at(before, place) + seconds.at(place, after) - seconds.at(before, after);
        if (added < best.driveSeconds) {
            best = {at, added};
        }
    }
    return best;
}

class Chooser
{
public:
    Chooser(const TravelTable &table, const std::vector<StopCandidate> &pool, std::size_t kept,
            double shiftSeconds)
        : m_table(table), m_pool(pool), m_shift(shiftSeconds), m_taken(pool.size(), 0)
    {
        std::size_t here = DayPlaces::start;
        for (std::size_t i = 0; i < kept; ++i) {
            m_taken[i] = 1;
            m_choice.order.push_back(i);
            m_choice.seconds += m_table.seconds.at(here, firstStop + i) + pool[i].minutes * 60.0;
            here = firstStop + i;
        }
        m_choice.seconds += m_table.seconds.at(here, DayPlaces::finish);
    }

    /// Offers every candidate not yet taken, by priority. False when cancelled.
    bool offerAll(const Progress &progress, double doneFrom, double doneTo)
    {
        for (std::size_t i = 0; i < m_pool.size(); ++i) {
            const double share = static_cast<double>(i) / static_cast<double>(m_pool.size());
            if (!report(progress, doneFrom + (doneTo - doneFrom) * share,
                        QStringLiteral("Choosing stops"))) {
                return false;
            }
            if (m_taken[i] == 0 && (insert(i) || insertWithNewOrder(i))) {
                m_taken[i] = 1;
                m_isNew = true;
            }
        }
        return true;
    }

    /// Finds the best order of what is chosen; true when the day became shorter.
    bool reorder(std::size_t kicksPerStop) { return take(ordered(m_choice.order, kicksPerStop)); }

    [[nodiscard]] const Choice &choice() const { return m_choice; }

private:
    bool insert(std::size_t candidate)
    {
        const Insertion found = cheapestInsertion(m_table.seconds, m_choice.order, candidate);
        const double added = found.driveSeconds + m_pool[candidate].minutes * 60.0;
        if (m_choice.seconds + added > m_shift) {
            return false;
        }
        m_choice.order.insert(m_choice.order.begin() + static_cast<std::ptrdiff_t>(found.at),
                              candidate);
        m_choice.seconds += added;
        return true;
    }

    /// A stop that does not fit the order as it stands may fit a better order of all.
    bool insertWithNewOrder(std::size_t candidate)
    {
        std::vector<std::size_t> order = m_choice.order;
        order.push_back(candidate);
        if (stopSeconds(order) > m_shift) {
            return false; // would not fit if no driving were needed
        }
        Choice found = ordered(order, 0);
        if (found.seconds > m_shift) {
            return false;
        }
        m_choice = std::move(found);
        return true;
    }

    bool take(Choice other)
    {
        if (other.seconds >= m_choice.seconds - 1e-6) {
            return false;
        }
        m_choice = std::move(other);
        return true;
    }

    [[nodiscard]] double stopSeconds(const std::vector<std::size_t> &order) const
    {
        double total = 0;
        for (const std::size_t stop : order) {
            total += m_pool[stop].minutes * 60.0;
        }
        return total;
    }

    [[nodiscard]] Choice ordered(const std::vector<std::size_t> &stops,
                                 std::size_t kicksPerStop) const
    {
        OrderRequest request;
        request.start = DayPlaces::start;
        request.finish = DayPlaces::finish;
        request.kicksPerStop = kicksPerStop;
        for (const std::size_t stop : stops) {
            request.stops.push_back(firstStop + stop);
        }
        const StopOrder found = bestOrder(m_table.seconds, request);
        Choice choice;
        choice.seconds = found.seconds + stopSeconds(stops);
        for (const std::size_t place : found.stops) {
            choice.order.push_back(place - firstStop);
        }
        return choice;
    }

    const TravelTable &m_table;
    const std::vector<StopCandidate> &m_pool;
    double m_shift;
    std::vector<char> m_taken;
    Choice m_choice;
    bool m_isNew = true; ///< stops were taken since the best order was found
};

} // namespace

double insertionSeconds(const TravelTable &table, const std::vector<StopCandidate> &pool,
                        const std::vector<std::size_t> &order, std::size_t candidate)
{
    return cheapestInsertion(table.seconds, order, candidate).driveSeconds +
           pool[candidate].minutes * 60.0;
}

std::optional<Choice> chooseStops(const TravelTable &table, const std::vector<StopCandidate> &pool,
                                  std::size_t kept, double shiftSeconds, const Progress &progress)
{
    constexpr int refills = 4;
    const OrderRequest usual;
    Chooser chooser(table, pool, kept, shiftSeconds);
    for (int round = 0; round < refills; ++round) {
        const double done = static_cast<double>(round) / refills;
        if (!chooser.offerAll(progress, done, done + 0.5 / refills)) {
            return {};
        }
        // A shorter order leaves time in which another stop may fit.
        if (!chooser.reorder(usual.kicksPerStop)) {
            break;
        }
    }
    return chooser.choice();
}

} // namespace keyround
