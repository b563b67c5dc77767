// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/day_plan_units.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

/// Least seconds from (to) a place over any stops, without work: what no day can beat.
template <typename Hop, typename First>
std::vector<double> shortestWays(std::size_t count, First first, Hop hop)
{
    std::vector<double> ways(count);
    std::vector<char> isDone(count, 0);
    for (std::size_t i = 0; i < count; ++i) {
        ways[i] = first(i);
    }
    for (std::size_t n = 0; n < count; ++n) {
        std::size_t here = count;
        for (std::size_t i = 0; i < count; ++i) {
            if (isDone[i] == 0 && (here == count || ways[i] < ways[here])) {
                here = i;
            }
        }
        if (!std::isfinite(ways[here])) {
            break;
        }
        isDone[here] = 1;
        for (std::size_t i = 0; i < count; ++i) {
            ways[i] = std::min(ways[i], ways[here] + hop(here, i));
        }
    }
    return ways;
}

class UnitMaker
{
public:
    UnitMaker(const Matrix &seconds, const DayTask &task) : m_seconds(seconds), m_task(task)
    {
        m_plan.stops = task.stops;
        m_plan.shift = task.shift;
        const auto place = [&](std::size_t stop) { return task.stops[stop].place; };
        m_there = shortestWays(
            task.stops.size(),
            [&](std::size_t i) { return seconds.at(task.shift.start, place(i)); },
            [&](std::size_t i, std::size_t j) { return seconds.at(place(i), place(j)); });
        m_back = shortestWays(
            task.stops.size(),
            [&](std::size_t i) {
                return task.shift.finish ? seconds.at(place(i), *task.shift.finish) : 0.0;
            },
            [&](std::size_t i, std::size_t j) { return seconds.at(place(j), place(i)); });
    }

    PlanUnits make()
    {
        std::vector<char> isUsed(m_task.stops.size(), 0);
        for (std::size_t stop = 0; stop < m_task.stops.size(); ++stop) {
            m_plan.hasWay.push_back(std::isfinite(m_there[stop] + m_back[stop]) ? 1 : 0);
            if (!mayHold(stop)) {
                isUsed[stop] = 1;
                m_plan.aside.push_back(stop);
            }
        }
        for (const std::vector<std::size_t> &stretch : m_task.locked) {
            std::vector<std::size_t> members;
            for (const std::size_t stop : stretch) {
                if (stop >= isUsed.size() || isUsed[stop] != 0) {
                    continue;
                }
                if (!members.empty() &&
                    !std::isfinite(m_seconds.at(m_task.stops[members.back()].place,
                                                m_task.stops[stop].place))) {
                    addUnit(std::move(members)); // without a way the stretch ends here
                    members.clear();
                }
                isUsed[stop] = 1;
                members.push_back(stop);
            }
            addUnit(std::move(members));
        }
        for (std::size_t stop = 0; stop < m_task.stops.size(); ++stop) {
            if (isUsed[stop] == 0) {
                addUnit({stop});
            }
        }
        setPrizes();
        return std::move(m_plan);
    }

private:
    /// False for a stop that no day can hold. A must-go stop that can meet none of its windows is
    /// planned as if it had none.
    bool mayHold(std::size_t stop)
    {
        TimedStop &planned = m_plan.stops[stop];
        if (m_plan.hasWay[stop] == 0) {
            return false;
        }
        const double arrive = m_task.shift.begin + m_there[stop];
        const bool isLate = secondsLate(planned, arrive) > 0;
        const auto finish = [&] {
            return beginOfWork(planned, arrive) + planned.service + m_back[stop];
        };
        if (!isLate && finish() <= m_task.shift.end) {
            return true;
        }
        if (planned.mustGo) {
            planned.windows.clear();
        }
        return planned.mustGo;
    }

    void addUnit(std::vector<std::size_t> members)
    {
        if (members.empty()) {
            return;
        }
        const auto holds = [&](const std::optional<std::size_t> &stop) {
            return stop && std::find(members.begin(), members.end(), *stop) != members.end();
        };
        DayUnit unit;
        unit.isFirst = holds(m_task.pinnedFirst);
        unit.isLast = !unit.isFirst && holds(m_task.pinnedLast);
        unit.mustGo = std::any_of(members.begin(), members.end(),
                                  [&](std::size_t stop) { return m_task.stops[stop].mustGo; });
        unit.stops = std::move(members);
        m_plan.units.push_back(std::move(unit));
    }

    /// A stop without priority is worth so little that all of them together outweigh nothing else.
    void setPrizes()
    {
        double least = unreachable;
        double sum = 0;
        for (const DayUnit &unit : m_plan.units) {
            for (const std::size_t stop : unit.stops) {
                const double priority = m_task.stops[stop].priority;
                if (priority > 0) {
                    least = std::min(least, priority);
                    sum += priority;
                }
            }
        }
        const double trifle =
            sum > 0 ? 1e-3 * least / static_cast<double>(m_task.stops.size()) : 1.0;
        double all = 0;
        for (DayUnit &unit : m_plan.units) {
            for (const std::size_t stop : unit.stops) {
                const double priority = m_task.stops[stop].priority;
                unit.prize += priority > 0 ? priority : trifle;
            }
            all += unit.prize;
        }
        for (DayUnit &unit : m_plan.units) {
            unit.prize += unit.mustGo ? all + 1.0 : 0.0;
        }
    }

    const Matrix &m_seconds;
    const DayTask &m_task;
    PlanUnits m_plan;
    std::vector<double> m_there;
    std::vector<double> m_back;
};

} // namespace

PlanUnits planUnits(const Matrix &seconds, const DayTask &task)
{
    return UnitMaker(seconds, task).make();
}

} // namespace keyround
