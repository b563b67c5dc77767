// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/assignment.h"

namespace keyround {

namespace {

constexpr std::size_t none = static_cast<std::size_t>(-1);

class Assignment
{
public:
    explicit Assignment(const Matrix &costs)
        : prices{std::vector<double>(costs.size(), 0.0), std::vector<double>(costs.size(), 0.0)},
          m_costs(&costs), m_leader(costs.size(), none), m_follower(costs.size(), none),
          m_way(costs.size(), none), m_distance(costs.size()), m_settled(costs.size())
    {
    }

    /// Gives `place` a follower; others may get other ones.
    void assign(std::size_t place)
    {
        const std::size_t size = m_costs->size();
        m_distance.assign(size, unreachable);
        m_settled.assign(size, 0);
        std::size_t row = place;
        double reached = 0;
        std::size_t column = none;
        do {
            const double *cost = m_costs->row(row);
            std::size_t nearest = none;
            for (std::size_t j = 0; j < size; ++j) {
                if (m_settled[j] != 0) {
                    continue;
                }
                const double distance =
                    j == row ? unreachable
                             : reached + cost[j] - prices.leaving[row] - prices.reaching[j];
                if (distance < m_distance[j]) {
                    m_distance[j] = distance;
                    m_way[j] = row;
                }
                if (nearest == none || m_distance[j] < m_distance[nearest]) {
                    nearest = j;
                }
            }
            column = nearest;
            reached = m_distance[column];
            m_settled[column] = 1;
            row = m_leader[column];
        } while (row != none);
        reprice(place, column, reached);
        augment(place, column);
    }

    AssignmentPrices prices;

private:
    void reprice(std::size_t place, std::size_t last, double reached)
    {
        prices.leaving[place] += reached;
        for (std::size_t j = 0; j < m_settled.size(); ++j) {
            if (m_settled[j] != 0 && j != last) {
                prices.reaching[j] -= reached - m_distance[j];
                prices.leaving[m_leader[j]] += reached - m_distance[j];
            }
        }
    }
    void augment(std::size_t place, std::size_t column)
    {
        for (;;) {
            const std::size_t row = m_way[column];
            const std::size_t next = m_follower[row];
            m_leader[column] = row;
            m_follower[row] = column;
            if (row == place) {
                return;
            }
            column = next;
        }
    }

    const Matrix *m_costs;
    std::vector<std::size_t> m_leader;
    std::vector<std::size_t> m_follower;
    std::vector<std::size_t> m_way; ///< by which place each column was reached
    std::vector<double> m_distance;
    std::vector<char> m_settled;
};

} // namespace

AssignmentPrices assignmentPrices(const Matrix &costs)
{
    Assignment assignment(costs);
    for (std::size_t place = 0; place < costs.size(); ++place) {
        assignment.assign(place);
    }
    return assignment.prices;
}

} // namespace keyround
