// SPDX-License-Identifier: GPL-3.0-or-later
// Orders of stops against published optima and against the exact answer.
#include "core/routing/stop_order.h"

#include "core/routing/order_task.h"
#include "core/routing/tour_search.h"
#include "tests/support/tsplib.h"

#include <QtTest>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>
#include <set>

using namespace keyround;

namespace {

double nearestNeighbourSeconds(const Matrix &seconds, const OrderRequest &request)
{
    std::vector<std::size_t> open = request.stops;
    std::vector<std::size_t> order;
    std::size_t here = request.start;
    while (!open.empty()) {
        const auto next = std::min_element(open.begin(), open.end(), [&](auto a, auto b) {
            return seconds.at(here, a) < seconds.at(here, b);
        });
        here = *next;
        order.push_back(here);
        open.erase(next);
    }
    return secondsOf(seconds, request, order);
}

/// The exact shortest order by Held and Karp's recursion (1962) over sets of stops.
double exactSeconds(const Matrix &seconds, const OrderRequest &request)
{
    const std::size_t n = request.stops.size();
    const std::size_t sets = std::size_t{1} << n;
    std::vector<double> best(sets * n, unreachable);
    for (std::size_t i = 0; i < n; ++i) {
        best[(std::size_t{1} << i) * n + i] = seconds.at(request.start, request.stops[i]);
    }
    for (std::size_t set = 1; set < sets; ++set) {
        for (std::size_t last = 0; last < n; ++last) {
            for (std::size_t next = 0; next < n; ++next) {
                if ((set >> last & 1U) != 0 && (set >> next & 1U) == 0) {
                    double &cell = best[(set | std::size_t{1} << next) * n + next];
                    cell = std::min(cell, best[set * n + last] +
                                              seconds.at(request.stops[last], request.stops[next]));
                }
            }
        }
    }
    double total = unreachable;
    for (std::size_t last = 0; last < n; ++last) {
        const double back = request.finish ? seconds.at(request.stops[last], *request.finish) : 0.0;
        total = std::min(total, best[(sets - 1) * n + last] + back);
    }
    return total;
}

/// A table in which there and back differ and no rule holds between legs: the hardest kind.
Matrix randomTable(std::size_t size, std::mt19937 &random)
{
    std::uniform_int_distribution<int> hop(1, 1000);
    Matrix seconds(size);
    for (std::size_t i = 0; i < size; ++i) {
        for (std::size_t j = 0; j < size; ++j) {
            seconds.set(i, j, i == j ? 0.0 : hop(random));
        }
    }
    return seconds;
}

OrderRequest requestFor(std::size_t size, int kind)
{
    OrderRequest request;
    std::size_t first = 1;
    if (kind == 0) {
        request.finish = 0; // closed
    } else if (kind == 1) {
        request.finish = 1; // ends elsewhere
        first = 2;
    }
    for (std::size_t i = first; i < size; ++i) {
        request.stops.push_back(i);
    }
    return request;
}

void mirror(Matrix &seconds)
{
    for (std::size_t i = 0; i < seconds.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            seconds.set(i, j, seconds.at(j, i));
        }
    }
}

Matrix straightTable(const std::vector<std::pair<double, double>> &places)
{
    Matrix seconds(places.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        for (std::size_t j = 0; j < places.size(); ++j) {
            seconds.set(
                i, j,
                std::hypot(places[i].first - places[j].first, places[i].second - places[j].second));
        }
    }
    return seconds;
}

bool keepsLocks(const OrderRequest &request, const std::vector<std::size_t> &order)
{
    for (const std::vector<std::size_t> &stretch : request.locked) {
        const auto at = std::find(order.begin(), order.end(), stretch.front());
        if (static_cast<std::size_t>(order.end() - at) < stretch.size() ||
            !std::equal(stretch.begin(), stretch.end(), at)) {
            return false;
        }
    }
    return std::equal(request.pinnedFirst.begin(), request.pinnedFirst.end(), order.begin()) &&
           std::equal(request.pinnedLast.rbegin(), request.pinnedLast.rend(), order.rbegin());
}

bool sameStops(const OrderRequest &request, const StopOrder &order)
{
    return std::multiset<std::size_t>(request.stops.begin(), request.stops.end()) ==
           std::multiset<std::size_t>(order.stops.begin(), order.stops.end());
}

} // namespace

class StopOrderTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    // Optimal lengths: TSPLIB's own list of best known solutions (G. Reinelt, Heidelberg);
    // instances from the Debian packages glpk-utils and r-cran-tsp (d493). "sample" there is an
    // example of 8 places without a published optimum, compared with the exact answer further down.
    void publishedInstances_data()
    {
        QTest::addColumn<double>("optimum");
        QTest::addColumn<double>("percent");
        QTest::addColumn<int>("kicks");
        QTest::newRow("dantzig42") << 699.0 << 0.0 << 40;
        QTest::newRow("gr120") << 6942.0 << 0.5 << 15;
        QTest::newRow("ulysses16") << 6859.0 << 0.0 << 40;
        QTest::newRow("d493") << 35002.0 << 2.0 << 1;
    }
    void publishedInstances()
    {
        QFETCH(const double, optimum);
        QFETCH(const double, percent);
        QFETCH(const int, kicks);
        const std::string name = QTest::currentDataTag();
        const auto instance = tests::readTsplib(
            name == "d493" ? tests::d493File() : tests::debianTspFile(name.c_str()));
        QVERIFY2(instance, "test data are missing: run packaging/fetch-test-data BUILD/test-data, "
                           "or set KEYROUND_TEST_DATA to its folder");
        OrderRequest request = tests::closedTour(*instance);
        request.kicksPerStop = 0;
        const StopOrder plain = bestOrder(instance->lengths, request);
        QVERIFY(sameStops(request, plain));
        QVERIFY(plain.seconds >= optimum);
        QVERIFY2(plain.seconds <= 1.06 * optimum, qPrintable(QString::number(plain.seconds)));

        request.kicksPerStop = static_cast<std::size_t>(kicks);
        const StopOrder kicked = bestOrder(instance->lengths, request);
        QVERIFY(sameStops(request, kicked));
        QVERIFY(kicked.seconds >= optimum);
        QVERIFY2(kicked.seconds <= (1.0 + percent / 100.0) * optimum,
                 qPrintable(QString::number(kicked.seconds)));
        QCOMPARE(secondsOf(instance->lengths, request, kicked.stops), kicked.seconds);
        qInfo("without kicks %.2f %%, with kicks %.2f %% above the optimum",
              100.0 * (plain.seconds / optimum - 1.0), 100.0 * (kicked.seconds / optimum - 1.0));
    }

    void sampleOfEightPlaces()
    {
        const auto instance = tests::readTsplib(tests::debianTspFile("sample"));
        QVERIFY2(instance, "test data are missing: run packaging/fetch-test-data");
        const OrderRequest request = tests::closedTour(*instance);
        QCOMPARE(bestOrder(instance->lengths, request).seconds,
                 exactSeconds(instance->lengths, request));
    }

    void againstTheExactAnswer_data()
    {
        QTest::addColumn<int>("kind");
        QTest::addColumn<bool>("symmetric");
        for (const bool symmetric : {false, true}) {
            const char *table = symmetric ? "same both ways" : "there and back differ";
            QTest::addRow("closed, %s", table) << 0 << symmetric;
            QTest::addRow("finish elsewhere, %s", table) << 1 << symmetric;
            QTest::addRow("open end, %s", table) << 2 << symmetric;
        }
    }
    // Held and Karp's recursion on 6 x 84 random tables of up to 12 stops: the optimum on all of
    // them, both as asked for and by the search that longer rounds are left to.
    void againstTheExactAnswer()
    {
        QFETCH(const int, kind);
        QFETCH(const bool, symmetric);
        std::mt19937 random(20240229U + static_cast<unsigned>(kind));
        for (int n = 0; n < 84; ++n) {
            // Sizes with many orders cost the recursion most, and come less often.
            const std::size_t size = n % 21 == 0 ? 13 : 4 + static_cast<std::size_t>(n) % 7;
            Matrix seconds = randomTable(size, random);
            if (symmetric) {
                mirror(seconds);
            }
            const OrderRequest request = requestFor(size, kind);
            const StopOrder found = bestOrder(seconds, request);
            const double exact = exactSeconds(seconds, request);
            QVERIFY(sameStops(request, found));
            QCOMPARE(found.seconds, exact);
            const OrderTask task = orderTask(seconds, request);
            if (task.seconds.size() >= leastSearched) {
                const auto searched =
                    stopsInOrder(task, searchedOrder(task.seconds, {8 * size, 0, 1}));
                QCOMPARE(secondsOf(seconds, request, searched), exact);
            }
        }
    }

    // Every order of seven stops tried, those that keep locks and pins taken.
    void locksAndPins()
    {
        std::mt19937 random(31U);
        for (int n = 0; n < 120; ++n) {
            const std::size_t size = n % 3 == 1 ? 9 : 8; // seven stops
            const Matrix seconds = randomTable(size, random);
            OrderRequest request = requestFor(size, n % 3);
            std::vector<std::size_t> shuffled = request.stops;
            std::shuffle(shuffled.begin(), shuffled.end(), random);
            if (n % 2 == 0) {
                request.locked.push_back({shuffled[0], shuffled[1], shuffled[2]});
            }
            if (n % 5 < 2) {
                request.locked.push_back({shuffled[3], shuffled[4]});
            }
            if (n % 3 != 1) {
                request.pinnedFirst = {shuffled[5]};
            }
            if (n % 4 != 3) {
                request.pinnedLast = {shuffled[6]};
            }
            if (n % 7 == 0) { // the stretch begins with a stop that is pinned first
                request.pinnedFirst = {shuffled[0]};
            }
            const StopOrder found = bestOrder(seconds, request);
            QVERIFY(sameStops(request, found));
            QVERIFY(keepsLocks(request, found.stops));
            double least = unreachable;
            std::vector<std::size_t> order = request.stops;
            std::sort(order.begin(), order.end());
            do {
                if (keepsLocks(request, order)) {
                    least = std::min(least, secondsOf(seconds, request, order));
                }
            } while (std::next_permutation(order.begin(), order.end()));
            QCOMPARE(found.seconds, least);
        }
    }

    // Where locks contradict each other, the earlier one holds, pins first; nothing gets lost.
    void contradictingLocks()
    {
        std::mt19937 random(37U);
        const Matrix seconds = randomTable(9, random);
        OrderRequest request = requestFor(9, 0);
        request.pinnedFirst = {3, 4};
        request.pinnedLast = {5};
        request.locked = {{4, 5}, {6, 7}, {7, 6}, {6, 8}, {1, 3}, {2, 99}};
        const StopOrder found = bestOrder(seconds, request);
        QVERIFY(sameStops(request, found));
        QCOMPARE(found.stops[0], std::size_t{3});
        QCOMPARE(found.stops[1], std::size_t{4});
        QCOMPARE(found.stops[7], std::size_t{5});
        const auto six = std::find(found.stops.begin(), found.stops.end(), std::size_t{6});
        QCOMPARE(*(six + 1), std::size_t{7});
        // Everything pinned: nothing is left to decide.
        request.locked.clear();
        request.pinnedFirst = {1, 2, 3, 4};
        request.pinnedLast = {8, 7, 6, 5};
        const StopOrder pinned = bestOrder(seconds, request);
        QCOMPARE(pinned.stops, (std::vector<std::size_t>{1, 2, 3, 4, 8, 7, 6, 5}));
        QCOMPARE(pinned.seconds, secondsOf(seconds, request, pinned.stops));
    }

    // m x n places on a grid with one even side: a tour of m * n unit hops exists, none is shorter.
    void grids_data()
    {
        QTest::addColumn<int>("wide");
        QTest::addColumn<int>("high");
        QTest::newRow("4 x 5") << 4 << 5;
        QTest::newRow("6 x 7") << 6 << 7;
        QTest::newRow("8 x 9") << 8 << 9;
        QTest::newRow("2 x 40") << 2 << 40;
    }
    void grids()
    {
        QFETCH(const int, wide);
        QFETCH(const int, high);
        std::vector<std::pair<double, double>> places;
        for (int x = 0; x < wide; ++x) {
            for (int y = 0; y < high; ++y) {
                places.emplace_back(x, y);
            }
        }
        const Matrix seconds = straightTable(places);
        OrderRequest request = requestFor(places.size(), 0);
        QCOMPARE(bestOrder(seconds, request).seconds, static_cast<double>(wide * high));
        // From the corner and ending anywhere, one hop less (up and down the columns).
        request.finish.reset();
        QCOMPARE(bestOrder(seconds, request).seconds, static_cast<double>(wide * high - 1));
    }

    // Points on a circle: the shortest tour runs along it.
    void circles()
    {
        std::mt19937 random(3U);
        std::uniform_real_distribution<double> angle(0.0, 6.283185307179586);
        for (int n = 0; n < 3; ++n) {
            std::vector<double> angles(50);
            std::generate(angles.begin(), angles.end(), [&] { return angle(random); });
            std::vector<std::pair<double, double>> places;
            for (const double at : angles) {
                places.emplace_back(1000.0 * std::cos(at), 1000.0 * std::sin(at));
            }
            const Matrix seconds = straightTable(places);
            std::vector<std::size_t> along(angles.size());
            std::iota(along.begin(), along.end(), std::size_t{0});
            std::sort(along.begin(), along.end(),
                      [&](std::size_t a, std::size_t b) { return angles[a] < angles[b]; });
            double round = 0;
            for (std::size_t i = 0; i < along.size(); ++i) {
                round += seconds.at(along[i], along[(i + 1) % along.size()]);
            }
            const double found = bestOrder(seconds, requestFor(50, 0)).seconds;
            QVERIFY2(std::abs(found - round) < 1e-6, qPrintable(QString::number(found - round)));
        }
    }

    // Stopped before the first kick, and after a few.
    void cancelledSearchStillAnswers()
    {
        std::mt19937 random(13U);
        const Matrix seconds = randomTable(60, random);
        for (const int kind : {0, 1, 2}) {
            OrderRequest request = requestFor(60, kind);
            request.kicksPerStop = 2;
            const StopOrder full = bestOrder(seconds, request);
            for (const int looks : {0, 3}) {
                int seen = 0;
                const StopOrder found =
                    bestOrder(seconds, request, [&](double done, const QString &what) {
                        return done >= 0 && done <= 1 && !what.isEmpty() && seen++ < looks;
                    });
                QCOMPARE(seen, looks + 1);
                QVERIFY(sameStops(request, found));
                QVERIFY(found.seconds <= nearestNeighbourSeconds(seconds, request));
                QVERIFY(found.seconds >= full.seconds);
            }
        }
    }

    // By the clock: no answer to compare with, but the time asked for is kept.
    void budgetOfMilliseconds()
    {
        std::mt19937 random(17U);
        const Matrix seconds = randomTable(60, random);
        OrderRequest request = requestFor(60, 0);
        request.budgetMilliseconds = 60;
        QElapsedTimer timer;
        timer.start();
        const StopOrder found = bestOrder(seconds, request);
        QVERIFY(timer.elapsed() >= 60);
        QVERIFY(timer.elapsed() < 1500);
        QVERIFY(sameStops(request, found));
        QVERIFY(found.seconds <= nearestNeighbourSeconds(seconds, request));
    }

    void neverWorseThanNearestNeighbour()
    {
        std::mt19937 random(7U);
        for (int n = 0; n < 30; ++n) {
            const std::size_t size = 3 + static_cast<std::size_t>(n) * 2;
            const Matrix seconds = randomTable(size, random);
            OrderRequest request = requestFor(size, n % 3);
            request.kicksPerStop = n % 2 == 0 ? 0 : 1;
            const StopOrder found = bestOrder(seconds, request);
            QVERIFY(sameStops(request, found));
            QVERIFY(found.seconds <= nearestNeighbourSeconds(seconds, request) + 1e-9);
            QCOMPARE(found.seconds, secondsOf(seconds, request, found.stops));
        }
    }

    void sameInputSameAnswer()
    {
        std::mt19937 random(11U);
        const Matrix seconds = randomTable(40, random);
        const OrderRequest request = requestFor(40, 0);
        QCOMPARE(bestOrder(seconds, request).stops, bestOrder(seconds, request).stops);
        OrderRequest other = request;
        other.kicksPerStop = 0;
        other.seed = 5; // without kicks no dice are thrown
        QCOMPARE(bestOrder(seconds, other).stops, bestOrder(seconds,
                                                            [&] {
                                                                OrderRequest plain = request;
                                                                plain.kicksPerStop = 0;
                                                                return plain;
                                                            }())
                                                      .stops);
    }

    void noStopsOrOne()
    {
        Matrix seconds(2);
        seconds.set(0, 1, 30);
        seconds.set(1, 0, 50);
        OrderRequest request;
        request.finish = 0;
        QCOMPARE(bestOrder(seconds, request).seconds, 0.0);
        request.finish = 1;
        QCOMPARE(bestOrder(seconds, request).seconds, 30.0);
        request.finish = 0;
        request.stops = {1};
        QCOMPARE(bestOrder(seconds, request).seconds, 80.0);
        request.finish.reset();
        QCOMPARE(bestOrder(seconds, request).seconds, 30.0);
    }

    // A ring of one-way hops: only one order has a way, and every other table cell has none.
    void findsTheOnlyWay()
    {
        const std::size_t size = 8;
        Matrix seconds(size, unreachable);
        for (std::size_t i = 0; i < size; ++i) {
            seconds.set(i, (i + 3) % size, 10);
        }
        OrderRequest request = requestFor(size, 0);
        const StopOrder found = bestOrder(seconds, request);
        QCOMPARE(found.seconds, 80.0);
        QCOMPARE(found.stops, (std::vector<std::size_t>{3, 6, 1, 4, 7, 2, 5}));
    }

    void stopsWithoutAWayComeLast()
    {
        std::mt19937 random(5U);
        Matrix seconds = randomTable(9, random);
        for (std::size_t i = 0; i < 9; ++i) {
            seconds.set(i, 4, unreachable); // 4 cannot be driven to
            seconds.set(6, i, unreachable); // from 6 nothing can be driven to
        }
        OrderRequest request = requestFor(9, 0);
        const StopOrder found = bestOrder(seconds, request);
        QVERIFY(sameStops(request, found));
        QCOMPARE(found.seconds, unreachable);
        QCOMPARE(found.stops[6], std::size_t{4});
        QCOMPARE(found.stops[7], std::size_t{6});
        // What is left is ordered as if those two were not there.
        request.stops = {1, 2, 3, 5, 7, 8};
        const double rest =
            secondsOf(seconds, request, {found.stops.begin(), found.stops.begin() + 6});
        QCOMPARE(rest, exactSeconds(seconds, request));
        // With an open end, 6 may be the last stop; 4 still cannot be reached.
        OrderRequest open = requestFor(9, 2);
        open.stops.erase(std::find(open.stops.begin(), open.stops.end(), std::size_t{4}));
        const StopOrder last = bestOrder(seconds, open);
        QCOMPARE(last.stops.back(), std::size_t{6});
        QVERIFY(std::isfinite(last.seconds));
    }
};

QTEST_GUILESS_MAIN(StopOrderTest)
#include "test_stop_order.moc"
