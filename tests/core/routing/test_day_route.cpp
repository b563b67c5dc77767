// SPDX-License-Identifier: GPL-3.0-or-later
// A crew's day against exact answers (dynamic programming over sets of stops) and against its own
// rules in thousands of random tasks.
#include "core/routing/day_route.h"

#include <QtTest>

#include <algorithm>
#include <random>
#include <set>

using namespace keyround;

namespace {

class Random
{
public:
    explicit Random(unsigned seed) : m_engine(seed) {}
    std::size_t upTo(std::size_t below) { return m_engine() % below; }
    double seconds(std::size_t most) { return static_cast<double>(upTo(most)); }

private:
    std::mt19937 m_engine;
};

/// There and back differ, and a way over a third place may be shorter.
Matrix randomTable(std::size_t size, std::size_t longest, Random &random)
{
    Matrix seconds(size);
    for (std::size_t i = 0; i < size; ++i) {
        for (std::size_t j = 0; j < size; ++j) {
            seconds.set(i, j, i == j ? 0.0 : 1.0 + random.seconds(longest));
        }
    }
    return seconds;
}

/// Places on a square of so many seconds, every leg somewhat longer than the straight line.
Matrix randomTown(std::size_t size, std::size_t across, Random &random)
{
    std::vector<std::pair<double, double>> places(size);
    for (auto &place : places) {
        place = {random.seconds(across), random.seconds(across)};
    }
    Matrix seconds(size);
    for (std::size_t i = 0; i < size; ++i) {
        for (std::size_t j = 0; j < size; ++j) {
            const double straight =
                std::hypot(places[i].first - places[j].first, places[i].second - places[j].second);
            seconds.set(i, j, i == j ? 0.0 : std::round(1.3 * straight) + random.seconds(20));
        }
    }
    return seconds;
}

struct ExactDay
{
    double priority = -1;
    double drive = unreachable;  ///< least with that priority
    double finish = unreachable; ///< earliest with that priority
};

/// One label a set of stops and a last stop would lose days that drive less but end later, so all
/// pairs are kept of which no other is as good in both.
ExactDay exactDay(const Matrix &seconds, const DayTask &task, bool all)
{
    struct Label
    {
        double time;
        double drive;
    };
    const std::size_t n = task.stops.size();
    const std::size_t sets = std::size_t{1} << n;
    std::vector<std::vector<Label>> labels(sets * n);
    const auto add = [&](std::vector<Label> &cell, std::size_t stop, double arrive, double drive) {
        if (secondsLate(task.stops[stop], arrive) > 0) {
            return;
        }
        const Label label{beginOfWork(task.stops[stop], arrive) + task.stops[stop].service, drive};
        for (const Label &other : cell) {
            if (other.time <= label.time && other.drive <= label.drive) {
                return;
            }
        }
        cell.push_back(label);
    };
    ExactDay best;
    const auto finish = [&](double priority, double time, double drive) {
        if (time > task.shift.end || priority < best.priority - 1e-9) {
            return;
        }
        if (priority > best.priority + 1e-9) {
            best = {priority, drive, time};
        }
        best.drive = std::min(best.drive, drive);
        best.finish = std::min(best.finish, time);
    };
    const std::size_t home = *task.shift.finish;
    if (!all) {
        const double back = seconds.at(task.shift.start, home);
        finish(0, task.shift.begin + back, back);
    }
    for (std::size_t i = 0; i < n; ++i) {
        const double hop = seconds.at(task.shift.start, task.stops[i].place);
        add(labels[(std::size_t{1} << i) * n + i], i, task.shift.begin + hop, hop);
    }
    for (std::size_t set = 1; set < sets; ++set) {
        double priority = 0;
        for (std::size_t i = 0; i < n; ++i) {
            priority += (set >> i & 1U) != 0 ? task.stops[i].priority : 0.0;
        }
        for (std::size_t last = 0; last < n; ++last) {
            for (const Label &label : std::vector<Label>(labels[set * n + last])) {
                const std::size_t here = task.stops[last].place;
                if (!all || set == sets - 1) {
                    const double hop = seconds.at(here, home);
                    finish(priority, label.time + hop, label.drive + hop);
                }
                for (std::size_t next = 0; next < n; ++next) {
                    if ((set >> next & 1U) == 0) {
                        const double hop = seconds.at(here, task.stops[next].place);
                        add(labels[(set | std::size_t{1} << next) * n + next], next,
                            label.time + hop, label.drive + hop);
                    }
                }
            }
        }
    }
    return best;
}

std::vector<TimeWindow> randomWindows(Random &random, double within)
{
    std::vector<TimeWindow> windows;
    double from = random.seconds(static_cast<std::size_t>(within));
    for (std::size_t n = 1 + random.upTo(2); n > 0; --n) {
        const double to = from + 20 + random.seconds(static_cast<std::size_t>(within / 3));
        windows.push_back({from, to});
        from = to + 10 + random.seconds(static_cast<std::size_t>(within / 4));
    }
    return windows;
}

/// Random windows, breaks, locks, pins and must-go stops; places 0 and 1 are start and finish.
DayTask randomTask(std::size_t count, Random &random)
{
    DayTask task;
    task.shift.begin = random.seconds(100);
    task.shift.end = task.shift.begin + 200 + random.seconds(600);
    if (random.upTo(4) != 0) {
        task.shift.finish = random.upTo(2);
    }
    const double length = task.shift.end - task.shift.begin;
    if (random.upTo(3) == 0) {
        task.shift.breaks.push_back({task.shift.begin + 0.3 * length,
                                     task.shift.begin + 0.6 * length, 15 + random.seconds(20)});
        if (random.upTo(3) == 0) {
            task.shift.breaks.push_back(
                {task.shift.begin + 0.7 * length, task.shift.begin + 0.9 * length, 10});
        }
    }
    std::vector<std::size_t> free;
    for (std::size_t i = 0; i < count; ++i) {
        TimedStop stop;
        stop.place = i + 2;
        stop.service = random.seconds(40);
        stop.priority = random.seconds(10);
        stop.mustGo = random.upTo(8) == 0;
        if (random.upTo(3) == 0) {
            stop.windows = randomWindows(random, task.shift.end);
        }
        task.stops.push_back(stop);
        free.push_back(i);
    }
    if (count > 5 && random.upTo(3) == 0) {
        task.locked.push_back({3, 1});
        if (random.upTo(2) == 0) {
            task.locked.push_back({0, 4, 5});
        }
    }
    if (count > 2 && random.upTo(4) == 0) {
        task.pinnedFirst = 2;
    }
    if (count > 7 && random.upTo(4) == 0) {
        task.pinnedLast = 7;
    }
    return task;
}

/// Empty when the day keeps every rule.
QString broken(const Matrix &seconds, const DayTask &task, const DayRoute &day)
{
    std::set<std::size_t> seen(day.order.begin(), day.order.end());
    if (seen.size() != day.order.size()) {
        return QStringLiteral("a stop twice");
    }
    for (const LeftOutStop &out : day.leftOut) {
        if (!seen.insert(out.stop).second) {
            return QStringLiteral("a stop in the day and left out");
        }
    }
    if (seen.size() != task.stops.size()) {
        return QStringLiteral("a stop is lost");
    }
    const RouteTimes times = timesAlong(seconds, task.shift, task.stops, day.order);
    if (times.finish != day.times.finish || times.drive != day.times.drive) {
        return QStringLiteral("its times are not those of its order");
    }
    const bool hasMustGo = std::any_of(task.stops.begin(), task.stops.end(),
                                       [](const TimedStop &stop) { return stop.mustGo; });
    // Where even the way home misses something there is nothing to be kept.
    const bool homeIsKept = timesAlong(seconds, task.shift, task.stops, {}).isKept();
    if (!times.isKept() && !hasMustGo && (homeIsKept || !day.order.empty())) {
        return QStringLiteral("windows, breaks or the end are missed");
    }
    if (day.keepsMustGo && !times.isKept()) {
        return QStringLiteral("misses something and says that it does not");
    }
    for (const RouteStop &at : times.stops) {
        if (at.late > 0 && !task.stops[at.stop].mustGo) {
            const bool isLocked =
                std::any_of(task.locked.begin(), task.locked.end(), [&](const auto &stretch) {
                    return std::find(stretch.begin(), stretch.end(), at.stop) != stretch.end();
                });
            if (!isLocked) {
                return QStringLiteral("an optional stop misses its window");
            }
        }
    }
    const auto indexOf = [&](std::size_t stop) {
        return std::find(day.order.begin(), day.order.end(), stop) - day.order.begin();
    };
    const auto count = static_cast<std::ptrdiff_t>(day.order.size());
    for (const auto &stretch : task.locked) {
        std::ptrdiff_t before = -1;
        for (const std::size_t stop : stretch) {
            const std::ptrdiff_t here = indexOf(stop);
            if (here < count && before >= 0 && here != before + 1) {
                return QStringLiteral("a locked stretch is torn");
            }
            before = here < count ? here : before;
        }
    }
    const auto leads = [&](std::size_t stop) { // its stretch comes along
        return std::any_of(task.locked.begin(), task.locked.end(), [&](const auto &stretch) {
            return std::find(stretch.begin(), stretch.end(), stop) != stretch.end();
        });
    };
    if (task.pinnedFirst && !leads(*task.pinnedFirst) && indexOf(*task.pinnedFirst) < count &&
        indexOf(*task.pinnedFirst) != 0) {
        return QStringLiteral("the first stop is not first");
    }
    if (task.pinnedLast && indexOf(*task.pinnedLast) < count - 1) {
        return QStringLiteral("the last stop is not last");
    }
    return {};
}

DayRouteOptions quick(std::size_t rounds)
{
    DayRouteOptions options;
    options.rounds = rounds;
    return options;
}

} // namespace

class DayRouteTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    // All stops must be visited in their windows (after a random order that keeps them): least
    // driving and earliest finish, 120 tasks of 3 to 9 stops each, equal to the optimum.
    void allStopsInWindowsExactly()
    {
        Random random(20240811U);
        for (int round = 0; round < 240; ++round) {
            const std::size_t count = 3 + random.upTo(7);
            const Matrix seconds = randomTable(count + 1, 60, random);
            DayTask task;
            task.shift.finish = 0;
            double now = 0;
            for (std::size_t i = 0; i < count; ++i) {
                now += seconds.at(i, i + 1);
                TimedStop stop;
                stop.place = i + 1;
                stop.mustGo = true;
                stop.service = random.seconds(10);
                const double from = std::max(0.0, now - random.seconds(80));
                stop.windows = {{from, now + random.seconds(80)}};
                now = std::max(now, from) + stop.service;
                task.stops.push_back(stop);
            }
            task.shift.end = now + 100;
            DayRouteOptions options = quick(150);
            options.objective =
                round % 2 == 0 ? DayObjective::LeastDriving : DayObjective::EarliestFinish;
            const DayRoute day = bestDay(seconds, task, options);
            const ExactDay exact = exactDay(seconds, task, true);
            QVERIFY(day.keepsMustGo);
            QCOMPARE(day.order.size(), count);
            if (round % 2 == 0) {
                QCOMPARE(day.times.drive, exact.drive);
            } else {
                QCOMPARE(day.times.finish, exact.finish);
            }
        }
    }

    void mostPriority_data()
    {
        QTest::addColumn<std::size_t>("least");
        QTest::addColumn<std::size_t>("most");
        QTest::newRow("few stops, looked through") << std::size_t{1} << std::size_t{8};
        QTest::newRow("more stops, searched") << std::size_t{9} << std::size_t{11};
    }
    // Orienteering with windows and service against the exact answer: the most priority there is,
    // and of such days the one that drives least. 210 tasks of up to 8 stops, all equal to it; 60
    // of 9 to 11, where the search is on its own, may miss it by little and seldom.
    void mostPriority()
    {
        QFETCH(const std::size_t, least);
        QFETCH(const std::size_t, most);
        Random random(77U);
        const int rounds = least == 1 ? 210 : 60;
        int tried = 0;
        int optimal = 0;
        for (int round = 0; round < rounds; ++round) {
            const std::size_t count = least + random.upTo(most - least + 1);
            const Matrix seconds = least == 1 && round % 2 == 0 ? randomTable(count + 1, 80, random)
                                                                : randomTown(count + 1, 60, random);
            DayTask task;
            task.shift.finish = 0;
            task.shift.end = 100 + random.seconds(300);
            for (std::size_t i = 0; i < count; ++i) {
                TimedStop stop;
                stop.place = i + 1;
                stop.priority = 1 + random.seconds(9);
                stop.service = random.seconds(30);
                if (random.upTo(3) == 0) {
                    stop.windows = randomWindows(random, task.shift.end);
                }
                task.stops.push_back(stop);
            }
            const DayRoute day = bestDay(seconds, task, quick(400));
            const ExactDay exact = exactDay(seconds, task, false);
            if (exact.priority < 0) {
                continue; // not even home again in time
            }
            QCOMPARE(broken(seconds, task, day), QString());
            QVERIFY(day.priority <= exact.priority + 1e-9);
            QVERIFY(day.priority >= 0.9 * exact.priority);
            ++tried;
            optimal +=
                day.priority >= exact.priority - 1e-9 && day.times.drive <= exact.drive + 1e-9 ? 1
                                                                                               : 0;
        }
        QVERIFY2(optimal == tried || (least > 1 && optimal >= tried - 2),
                 qPrintable(QStringLiteral("%1 of %2").arg(optimal).arg(tried)));
    }

    // Windows, breaks, the end, locks and pins in 10,000 random rounds.
    void neverBreaksARule()
    {
        Random random(4711U);
        int kept = 0;
        for (int round = 0; round < 10000; ++round) {
            const std::size_t count = 1 + random.upTo(round % 50 == 0 ? 30 : 9);
            const Matrix seconds = random.upTo(2) == 0 ? randomTable(count + 2, 100, random)
                                                       : randomTown(count + 2, 100, random);
            const DayTask task = randomTask(count, random);
            DayRouteOptions options = quick(2);
            options.objective =
                round % 2 == 0 ? DayObjective::LeastDriving : DayObjective::EarliestFinish;
            const DayRoute day = bestDay(seconds, task, options);
            const QString what = broken(seconds, task, day);
            QVERIFY2(what.isEmpty(),
                     qPrintable(QStringLiteral("round %1: %2").arg(round).arg(what)));
            kept += day.keepsMustGo ? 1 : 0;
        }
        QVERIFY2(kept > 5000, qPrintable(QString::number(kept))); // else little was tried
    }

    // A far must-go stop without priority against many near ones that earn much.
    void mustGoIsNeverGivenUp()
    {
        Matrix seconds(7, 10.0);
        for (std::size_t i = 0; i < 6; ++i) {
            seconds.set(i, 6, 45);
            seconds.set(6, i, 45);
        }
        DayTask task;
        task.shift.finish = 0;
        task.shift.end = 100;
        for (std::size_t i = 1; i < 7; ++i) {
            TimedStop stop;
            stop.place = i;
            stop.priority = i < 6 ? 1e6 : 0.0;
            stop.mustGo = i == 6;
            task.stops.push_back(stop);
        }
        DayRoute day = bestDay(seconds, task);
        QVERIFY(std::find(day.order.begin(), day.order.end(), std::size_t{5}) != day.order.end());
        QVERIFY(day.keepsMustGo);
        QCOMPARE(day.order.size(), std::size_t{2}); // one of the others on the way
        task.shift.end = 80;                        // 10 too few: said, and nothing else is put in
        day = bestDay(seconds, task);
        QCOMPARE(day.order, (std::vector<std::size_t>{5}));
        QVERIFY(!day.keepsMustGo);
        QCOMPARE(day.times.overrun, 10.0);
        QCOMPARE(day.leftOut.size(), std::size_t{5});
        QCOMPARE(day.leftOut[0].cause, LeftOutCause::DoesNotFit);
        QCOMPARE(day.leftOut[0].missingSeconds, 20.0);
    }

    // A must-go stop whose window is long over does not keep the others from being planned.
    void impossibleWindowOfAMustGoStop()
    {
        const Matrix seconds(4, 10.0);
        DayTask task;
        task.shift.finish = 0;
        task.shift.begin = 100;
        task.shift.end = 200;
        for (std::size_t i = 1; i < 4; ++i) {
            TimedStop stop;
            stop.place = i;
            stop.priority = 1;
            stop.service = 5;
            task.stops.push_back(stop);
        }
        task.stops[0].mustGo = true;
        task.stops[0].windows = {{0, 50}};
        const DayRoute day = bestDay(seconds, task);
        QCOMPARE(day.order.size(), std::size_t{3});
        QVERIFY(!day.keepsMustGo);
        QCOMPARE(day.times.misses(), std::size_t{1});
    }

    void causes()
    {
        Matrix seconds(6, 10.0);
        for (std::size_t i = 0; i < 6; ++i) {
            seconds.set(i, 2, i == 2 ? 0.0 : unreachable);
        }
        DayTask task;
        task.shift.finish = 0;
        task.shift.begin = 0;
        task.shift.end = 100;
        for (std::size_t i = 1; i < 6; ++i) {
            TimedStop stop;
            stop.place = i;
            stop.priority = 1;
            stop.service = 20;
            task.stops.push_back(stop);
        }
        task.stops[0].priority = 100;
        task.stops[0].service = 30;
        task.stops[2].windows = {{70, 75}}; // then back at 105 at the earliest
        task.stops[3].windows = {{300, 310}, {500, 600}};
        task.stops[4].service = 60;
        DayRoute day = bestDay(seconds, task);
        QCOMPARE(day.order, (std::vector<std::size_t>{0, 2}));
        QCOMPARE(day.leftOut.size(), std::size_t{3});
        QCOMPARE(day.leftOut[0].stop, std::size_t{1});
        QCOMPARE(day.leftOut[0].cause, LeftOutCause::NoWay);
        QCOMPARE(day.leftOut[1].cause, LeftOutCause::WindowNeverMet);
        QCOMPARE(day.leftOut[1].nearestWindow->from, 300.0);
        QCOMPARE(day.leftOut[2].cause, LeftOutCause::DoesNotFit);
        QCOMPARE(day.leftOut[2].missingSeconds, 70.0); // home at 100, and 10 + 60 more
        // The window lies where the other stop is being worked; without it there would be room.
        task.stops[2].windows = {{15, 25}};
        task.stops[0].windows = {{5, 15}};
        task.stops[0].mustGo = true;
        task.stops[4].priority = 0;
        task.stops[4].service = 500;
        day = bestDay(seconds, task);
        QCOMPARE(day.order, (std::vector<std::size_t>{0}));
        QCOMPARE(day.leftOut[1].stop, std::size_t{2});
        QCOMPARE(day.leftOut[1].cause, LeftOutCause::WindowNotOffered);
        QCOMPARE(day.leftOut[1].couldBegin, 10.0 + 30.0 + 10.0);
        QCOMPARE(*day.leftOut[1].nearestWindow, (TimeWindow{15, 25}));
    }

    void sameInputSameAnswer()
    {
        Random random(5U);
        const Matrix seconds = randomTown(42, 200, random);
        const DayTask task = randomTask(40, random);
        const DayRoute first = bestDay(seconds, task, quick(200));
        const DayRoute second = bestDay(seconds, task, quick(200));
        QCOMPARE(first.order, second.order);
        QCOMPARE(first.times.finish, second.times.finish);
    }

    void cancelKeepsTheBest()
    {
        Random random(6U);
        const Matrix seconds = randomTown(42, 200, random);
        DayTask task = randomTask(40, random);
        for (TimedStop &stop : task.stops) {
            stop.mustGo = false;
        }
        int asked = 0;
        const Progress stopAtOnce = [&](double, const QString &) { return ++asked < 2; };
        const DayRoute day = bestDay(seconds, task, quick(100000), stopAtOnce);
        QVERIFY(day.wasCancelled);
        QCOMPARE(broken(seconds, task, day), QString());
        QVERIFY(!day.order.empty());
    }

    void warmStartIsNeverWorse()
    {
        Random random(8U);
        for (int round = 0; round < 60; ++round) {
            const std::size_t count = 10 + random.upTo(20);
            const Matrix seconds = randomTown(count + 2, 150, random);
            DayTask task = randomTask(count, random);
            DayRouteOptions options = quick(200);
            const DayRoute known = bestDay(seconds, task, options);
            options.rounds = 0;
            options.startOrder = known.order;
            const DayRoute again = bestDay(seconds, task, options);
            if (known.keepsMustGo) {
                QVERIFY(again.keepsMustGo);
                QVERIFY(again.priority >= known.priority - 1e-9);
                if (again.priority <= known.priority + 1e-9) {
                    QVERIFY(again.times.drive <= known.times.drive + 0.05);
                }
            }
        }
    }

    void nothingToDo()
    {
        DayTask task;
        task.shift.finish = 0;
        const DayRoute day = bestDay(Matrix(1), task);
        QVERIFY(day.order.empty());
        QVERIFY(day.keepsMustGo);
    }
};

QTEST_GUILESS_MAIN(DayRouteTest)
#include "test_day_route.moc"
