// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/timed_route.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace keyround {

namespace {

/// One way to have come this far: with so many breaks taken, so many misses, at this second.
struct State
{
    std::size_t misses = 0;
    double time = 0;
    std::size_t taken = 0;  ///< breaks
    std::size_t parent = 0; ///< the state before
    bool byBreak = false;   ///< came about by a break (else by a stop)
};

/// Follows an order with every sensible choice of where to take the breaks. Whoever is earlier
/// with as few misses is never worse off later (work and breaks begin no later), so that of the
/// states with the same breaks taken only those are kept that are earlier or miss less.
class BreakChoice
{
public:
    BreakChoice(const Matrix &seconds, const TimedShift &shift, const std::vector<TimedStop> &stops,
                const std::vector<std::size_t> &order)
        : m_shift(shift), m_open(shift.breaks.size() + 1)
    {
        m_states.push_back({0, shift.begin, 0, 0, false});
        m_open[0].push_back(0);
        std::size_t here = shift.start;
        for (const std::size_t index : order) {
            takeBreaks();
            const TimedStop &stop = stops[index];
            workAt(stop, seconds.at(here, stop.place));
            here = stop.place;
        }
        takeBreaks();
        m_toFinish = shift.finish ? seconds.at(here, *shift.finish) : 0.0;
    }

    /// For each break taken, how many stops are worked before it.
    [[nodiscard]] std::vector<std::size_t> positions() const
    {
        std::vector<std::size_t> after;
        std::size_t worked = 0;
        for (std::size_t at = bestEnd(); at != 0; at = m_states[at].parent) {
            if (m_states[at].byBreak) {
                after.push_back(worked); // from the end; turned round below
            } else {
                ++worked;
            }
        }
        std::reverse(after.begin(), after.end());
        for (std::size_t &count : after) {
            count = worked - count;
        }
        return after;
    }

private:
    void add(std::vector<std::size_t> &open, const State &state)
    {
        const auto covers = [&](const State &a, const State &b) {
            return a.misses <= b.misses && a.time <= b.time;
        };
        for (const std::size_t other : open) {
            if (covers(m_states[other], state)) {
                return;
            }
        }
        open.erase(
            std::remove_if(open.begin(), open.end(),
                           [&](std::size_t other) { return covers(state, m_states[other]); }),
            open.end());
        open.push_back(m_states.size());
        m_states.push_back(state);
    }

    void takeBreaks()
    {
        for (std::size_t next = 0; next < m_shift.breaks.size(); ++next) {
            const TimedBreak &pause = m_shift.breaks[next];
            for (const std::size_t from : std::vector<std::size_t>(m_open[next])) {
                const State &state = m_states[from];
                const std::size_t late = state.time > pause.latest ? 1 : 0;
                add(m_open[next + 1],
                    {state.misses + late, std::max(state.time, pause.earliest) + pause.seconds,
                     next + 1, from, true});
            }
        }
    }

    void workAt(const TimedStop &stop, double drive)
    {
        for (std::vector<std::size_t> &open : m_open) {
            std::vector<std::size_t> next;
            for (const std::size_t from : open) {
                const State &state = m_states[from];
                const double arrive = state.time + drive;
                const std::size_t late = secondsLate(stop, arrive) > 0 ? 1 : 0;
                add(next, {state.misses + late, beginOfWork(stop, arrive) + stop.service,
                           state.taken, from, false});
            }
            open = std::move(next);
        }
    }

    [[nodiscard]] std::size_t bestEnd() const
    {
        std::size_t best = 0;
        // Above all others: no end has as many misses.
        std::tuple<std::size_t, double> least{~std::size_t{0}, unreachable};
        for (std::size_t taken = 0; taken < m_open.size(); ++taken) {
            for (const std::size_t at : m_open[taken]) {
                const State &state = m_states[at];
                const double finish = state.time + m_toFinish;
                if (taken < m_shift.breaks.size() && finish > m_shift.breaks[taken].earliest) {
                    continue; // still under way when that break begins
                }
                const std::size_t over = finish > m_shift.end ? 1 : 0;
                const std::tuple<std::size_t, double> score{state.misses + over, finish};
                if (score < least) {
                    least = score;
                    best = at;
                }
            }
        }
        return best;
    }

    const TimedShift &m_shift;
    std::vector<State> m_states;
    std::vector<std::vector<std::size_t>> m_open; ///< by breaks taken
    double m_toFinish = 0;
};

double waitBetween(double from, double to)
{
    return std::isfinite(from) && to > from ? to - from : 0.0;
}

} // namespace

bool RouteTimes::isKept() const
{
    return hasWay && misses() == 0;
}

std::size_t RouteTimes::misses() const
{
    const auto isLate = [](const auto &what) { return what.late > 0; };
    return static_cast<std::size_t>(std::count_if(stops.begin(), stops.end(), isLate) +
                                    std::count_if(breaks.begin(), breaks.end(), isLate)) +
           (overrun > 0 ? 1 : 0);
}

double beginOfWork(const TimedStop &stop, double arrive)
{
    for (const TimeWindow &window : stop.windows) {
        if (arrive <= window.to) {
            return std::max(arrive, window.from);
        }
    }
    return arrive;
}

double secondsLate(const TimedStop &stop, double arrive)
{
    return stop.windows.empty() ? 0.0 : std::max(0.0, arrive - stop.windows.back().to);
}

RouteTimes timesAlong(const Matrix &seconds, const TimedShift &shift,
                      const std::vector<TimedStop> &stops, const std::vector<std::size_t> &order)
{
    const std::vector<std::size_t> positions =
        BreakChoice(seconds, shift, stops, order).positions();
    RouteTimes times;
    double now = shift.begin;
    std::size_t here = shift.start;
    const auto takeBreaks = [&](std::size_t worked) {
        while (times.breaks.size() < positions.size() && positions[times.breaks.size()] == worked) {
            const std::size_t index = times.breaks.size();
            const TimedBreak &pause = shift.breaks[index];
            const double begin = std::max(now, pause.earliest);
            times.waited += waitBetween(now, begin);
            times.breaks.push_back(
                {index, worked, begin, begin + pause.seconds, std::max(0.0, begin - pause.latest)});
            now = times.breaks.back().end;
        }
    };
    takeBreaks(0);
    for (const std::size_t index : order) {
        const TimedStop &stop = stops[index];
        RouteStop at;
        at.stop = index;
        at.drive = seconds.at(here, stop.place);
        at.arrive = now + at.drive;
        at.begin = beginOfWork(stop, at.arrive);
        at.end = at.begin + stop.service;
        at.late = secondsLate(stop, at.arrive);
        times.drive += at.drive;
        times.waited += waitBetween(at.arrive, at.begin);
        now = at.end;
        here = stop.place;
        takeBreaks(times.stops.size() + 1);
        at.leave = now;
        times.stops.push_back(at);
    }
    times.driveToFinish = shift.finish ? seconds.at(here, *shift.finish) : 0.0;
    times.drive += times.driveToFinish;
    times.finish = now + times.driveToFinish;
    times.overrun = std::max(0.0, times.finish - shift.end);
    times.hasWay = std::isfinite(times.drive);
    return times;
}

} // namespace keyround
