// SPDX-License-Identifier: GPL-3.0-or-later
// The clock of a given order: worked by hand, and against trying every place for the breaks.
#include "core/routing/timed_route.h"

#include <QtTest>

#include <random>

using namespace keyround;

namespace {

/// Every hop takes ten seconds.
Matrix evenTable(std::size_t size)
{
    Matrix seconds(size, 10.0);
    for (std::size_t i = 0; i < size; ++i) {
        seconds.set(i, i, 0.0);
    }
    return seconds;
}

TimedStop stopAt(std::size_t place, double service, std::vector<TimeWindow> windows = {})
{
    TimedStop stop;
    stop.place = place;
    stop.service = service;
    stop.windows = std::move(windows);
    return stop;
}

/// Misses and finish with each break put after so many stops.
std::pair<std::size_t, double> withBreaksAt(const Matrix &seconds, const TimedShift &shift,
                                            const std::vector<TimedStop> &stops,
                                            const std::vector<std::size_t> &after)
{
    double now = shift.begin;
    std::size_t misses = 0;
    std::size_t here = shift.start;
    for (std::size_t worked = 0; worked <= stops.size(); ++worked) {
        for (std::size_t b = 0; b < after.size(); ++b) {
            if (after[b] == worked) {
                misses += now > shift.breaks[b].latest ? 1 : 0;
                now = std::max(now, shift.breaks[b].earliest) + shift.breaks[b].seconds;
            }
        }
        if (worked < stops.size()) {
            now += seconds.at(here, stops[worked].place);
            here = stops[worked].place;
            misses += secondsLate(stops[worked], now) > 0 ? 1 : 0;
            now = beginOfWork(stops[worked], now) + stops[worked].service;
        }
    }
    now += seconds.at(here, *shift.finish);
    return {misses + (now > shift.end ? 1 : 0), now};
}

} // namespace

class TimedRouteTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void byHand()
    {
        const Matrix seconds = evenTable(4);
        TimedShift shift;
        shift.finish = 0;
        shift.begin = 100;
        shift.end = 300;
        const std::vector<TimedStop> stops{stopAt(1, 20), stopAt(2, 30, {{0, 50}, {160, 170}}),
                                           stopAt(3, 5, {{0, 150}})};
        const RouteTimes times = timesAlong(seconds, shift, stops, {0, 1, 2});
        QCOMPARE(times.stops[0].arrive, 110.0);
        QCOMPARE(times.stops[0].leave, 130.0);
        QCOMPARE(times.stops[1].arrive, 140.0);
        QCOMPARE(times.stops[1].begin, 160.0);
        QCOMPARE(times.stops[1].late, 0.0);
        QCOMPARE(times.stops[2].arrive, 200.0);
        QCOMPARE(times.stops[2].begin, 200.0); // worked at once, and said
        QCOMPARE(times.stops[2].late, 50.0);
        QCOMPARE(times.finish, 215.0);
        QCOMPARE(times.drive, 40.0);
        QCOMPARE(times.waited, 20.0);
        QCOMPARE(times.misses(), std::size_t{1});
        QVERIFY(!times.isKept());
        QVERIFY(timesAlong(seconds, shift, stops, {2, 0, 1}).isKept());
        shift.end = 195;
        QCOMPARE(timesAlong(seconds, shift, stops, {2, 0, 1}).overrun, 5.0);
    }

    // The break goes into the wait for a window, although it could be taken at once.
    void breaksFillWaiting()
    {
        const Matrix seconds = evenTable(4);
        TimedShift shift;
        shift.finish = 0;
        shift.breaks = {{15, 200, 60}};
        const std::vector<TimedStop> stops{stopAt(1, 20, {{0, 15}}), stopAt(2, 20, {{0, 45}}),
                                           stopAt(3, 20, {{140, 150}})};
        const RouteTimes times = timesAlong(seconds, shift, stops, {0, 1, 2});
        QCOMPARE(times.breaks.size(), std::size_t{1});
        QCOMPARE(times.breaks[0].after, std::size_t{2});
        QCOMPARE(times.breaks[0].begin, 60.0);
        QCOMPARE(times.stops[1].end, 60.0);
        QCOMPARE(times.stops[1].leave, 120.0);
        QCOMPARE(times.waited, 10.0);
        QCOMPARE(times.finish, 170.0);
        QVERIFY(times.isKept());
    }

    void breaksLateOrFallenAway()
    {
        const Matrix seconds = evenTable(2);
        TimedShift shift;
        shift.finish = 0;
        shift.breaks = {{50, 60, 30}};
        // One long stop from 10 to 110: the break comes before it, at the start.
        RouteTimes times = timesAlong(seconds, shift, {stopAt(1, 100)}, {0});
        QCOMPARE(times.breaks[0].after, std::size_t{0});
        QCOMPARE(times.waited, 50.0);
        // A window that forbids this: the break is late, and said.
        times = timesAlong(seconds, shift, {stopAt(1, 100, {{0, 20}})}, {0});
        QCOMPARE(times.breaks[0].after, std::size_t{1});
        QCOMPARE(times.breaks[0].late, 50.0);
        QVERIFY(!times.isKept());
        // Home before it begins.
        times = timesAlong(seconds, shift, {stopAt(1, 30)}, {0});
        QVERIFY(times.breaks.empty());
        QCOMPARE(times.finish, 50.0);
        QVERIFY(timesAlong(seconds, shift, {}, {}).isKept());
    }

    void noWay()
    {
        Matrix seconds = evenTable(3);
        seconds.set(1, 2, unreachable);
        TimedShift shift;
        shift.finish = 0;
        shift.breaks = {{0, 1000, 5}, {0, 1000, 5}};
        const RouteTimes times =
            timesAlong(seconds, shift, {stopAt(1, 1), stopAt(2, 1, {{0, 90}})}, {0, 1});
        QVERIFY(!times.hasWay);
        QVERIFY(!times.isKept());
        QCOMPARE(times.finish, unreachable);
        QVERIFY(!std::isnan(times.waited));
        QCOMPARE(times.stops[0].begin, 20.0); // both breaks at the start: first of the equal ones
    }

    // All places for two breaks in 500 random days of up to five stops.
    void breaksAgainstEveryChoice()
    {
        std::mt19937 random(42U);
        const auto upTo = [&](int most) { return static_cast<double>(random() % unsigned(most)); };
        for (int round = 0; round < 500; ++round) {
            const std::size_t count = random() % 6;
            Matrix seconds(count + 1);
            for (std::size_t i = 0; i <= count; ++i) {
                for (std::size_t j = 0; j <= count; ++j) {
                    seconds.set(i, j, i == j ? 0.0 : 1.0 + upTo(40));
                }
            }
            std::vector<TimedStop> stops;
            std::vector<std::size_t> order;
            for (std::size_t i = 0; i < count; ++i) {
                std::vector<TimeWindow> windows;
                if (random() % 2 == 0) {
                    const double from = upTo(200);
                    windows = {{from, from + 30}, {from + 60, from + 60 + upTo(100)}};
                }
                stops.push_back(stopAt(i + 1, upTo(60), windows));
                order.push_back(i);
            }
            TimedShift shift;
            shift.finish = 0;
            shift.end = 150 + upTo(400);
            shift.breaks = {{upTo(100), 120, 20}, {100 + upTo(100), 250, 30}};
            const RouteTimes times = timesAlong(seconds, shift, stops, order);
            std::pair<std::size_t, double> best{1000, unreachable};
            const auto consider = [&](const std::vector<std::size_t> &after) {
                const auto found = withBreaksAt(seconds, shift, stops, after);
                if (after.size() == 2 || found.second <= shift.breaks[after.size()].earliest) {
                    best = std::min(best, found);
                }
            };
            consider({});
            for (std::size_t first = 0; first <= count; ++first) {
                consider({first});
                for (std::size_t second = first; second <= count; ++second) {
                    consider({first, second});
                }
            }
            QCOMPARE(times.misses(), best.first);
            QCOMPARE(times.finish, best.second);
        }
    }
};

QTEST_GUILESS_MAIN(TimedRouteTest)
#include "test_timed_route.moc"
