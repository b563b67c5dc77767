// SPDX-License-Identifier: GPL-3.0-or-later
// Bounds against exact answers and published optima: never above them, and near.
#include "core/routing/lower_bound.h"

#include "core/routing/assignment.h"
#include "core/routing/exact_order.h"
#include "core/routing/order_task.h"
#include "tests/support/tsplib.h"

#include <QtTest>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

using namespace keyround;

namespace {

enum Kind { Closed, FinishElsewhere, OpenEnd };

/// Places in a square, seconds by straight lines; each direction takes up to `skew` longer.
Matrix townTable(std::size_t size, double skew, std::mt19937 &random)
{
    std::uniform_real_distribution<double> side(0.0, 1000.0);
    std::uniform_real_distribution<double> longer(1.0, 1.0 + skew);
    std::vector<std::pair<double, double>> places(size);
    for (auto &place : places) {
        place = {side(random), side(random)};
    }
    Matrix seconds(size);
    for (std::size_t i = 0; i < size; ++i) {
        for (std::size_t j = 0; j < size; ++j) {
            const double straight =
                std::hypot(places[i].first - places[j].first, places[i].second - places[j].second);
            seconds.set(i, j, i == j ? 0.0 : straight * (skew > 0 ? longer(random) : 1.0));
        }
    }
    return seconds;
}

Matrix randomTable(std::size_t size, bool symmetric, std::mt19937 &random)
{
    std::uniform_int_distribution<int> hop(1, 1000);
    Matrix seconds(size);
    for (std::size_t i = 0; i < size; ++i) {
        for (std::size_t j = 0; j < size; ++j) {
            seconds.set(i, j, i == j ? 0.0 : (symmetric && j < i ? seconds.at(j, i) : hop(random)));
        }
    }
    return seconds;
}

OrderRequest requestFor(std::size_t size, int kind)
{
    OrderRequest request;
    if (kind == Closed) {
        request.finish = 0;
    } else if (kind == FinishElsewhere) {
        request.finish = 1;
    }
    for (std::size_t i = kind == FinishElsewhere ? 2 : 1; i < size; ++i) {
        request.stops.push_back(i);
    }
    return request;
}

double secondsAround(const Matrix &seconds, const std::vector<std::uint32_t> &order)
{
    double total = seconds.at(0, order.front()) + seconds.at(order.back(), 0);
    for (std::size_t i = 1; i < order.size(); ++i) {
        total += seconds.at(order[i - 1], order[i]);
    }
    return total;
}

} // namespace

class LowerBoundTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void neverAboveTheOptimum_data()
    {
        QTest::addColumn<int>("kind");
        QTest::newRow("closed") << int(Closed);
        QTest::newRow("finish elsewhere") << int(FinishElsewhere);
        QTest::newRow("open end") << int(OpenEnd);
    }
    // 3 x 168 tables, half of them the same both ways: random numbers, and places in a square.
    // Prices alone, without the exact answer that lowerBound itself gives for so few stops.
    void neverAboveTheOptimum()
    {
        QFETCH(const int, kind);
        std::mt19937 random(90U + static_cast<unsigned>(kind));
        double gaps = 0;
        for (int n = 0; n < 168; ++n) {
            const std::size_t size = n % 28 == 0 ? 13 : 5 + static_cast<std::size_t>(n) % 6;
            const bool symmetric = n % 2 == 0;
            const Matrix seconds = n % 4 < 2 ? randomTable(size, symmetric, random)
                                             : townTable(size, symmetric ? 0.0 : 0.5, random);
            const OrderRequest request = requestFor(size, kind);
            const OrderTask task = orderTask(seconds, request);
            const double exact = secondsAround(task.seconds, exactOrder(task.seconds));
            const double bound = roundBound(task.seconds);
            QVERIFY2(bound <= exact, qPrintable(QStringLiteral("%1 for %2").arg(bound).arg(exact)));
            QVERIFY2(bound >= 0.7 * exact,
                     qPrintable(QStringLiteral("%1 for %2").arg(bound).arg(exact)));
            gaps += 1.0 - bound / exact;
            QVERIFY(std::abs(lowerBound(seconds, request) - exact) <= 1e-9 * exact);
        }
        qInfo("%.2f %% below the optimum on average", 100.0 * gaps / 168);
        QVERIFY(gaps / 168 < 0.02);
    }

    void publishedInstances_data()
    {
        QTest::addColumn<double>("optimum");
        QTest::newRow("dantzig42") << 699.0;
        QTest::newRow("gr120") << 6942.0;
        QTest::newRow("ulysses16") << 6859.0;
        QTest::newRow("ulysses22") << 7013.0;
    }
    // Optima: TSPLIB's list of best known solutions (G. Reinelt, Heidelberg).
    void publishedInstances()
    {
        QFETCH(const double, optimum);
        const auto instance = tests::readTsplib(tests::debianTspFile(QTest::currentDataTag()));
        QVERIFY2(instance, "test data are missing: run packaging/fetch-test-data BUILD/test-data, "
                           "or set KEYROUND_TEST_DATA to its folder");
        const double bound = lowerBound(instance->lengths, tests::closedTour(*instance));
        qInfo("%.2f %% below the optimum", 100.0 * (1.0 - bound / optimum));
        QVERIFY(bound <= optimum);
        QVERIFY(bound >= 0.99 * optimum);
        QCOMPARE(lowerBound(instance->lengths, tests::closedTour(*instance)), bound);
        // Ending anywhere can only be shorter.
        QVERIFY(lowerBound(instance->lengths, tests::openTour(*instance)) <= optimum);
    }

    // Each way round a circle is the shortest order; its bound meets it.
    void circle()
    {
        const std::size_t size = 30;
        Matrix seconds(size);
        for (std::size_t i = 0; i < size; ++i) {
            for (std::size_t j = 0; j < size; ++j) {
                const double turn = 3.141592653589793 * static_cast<double>(i > j ? i - j : j - i) /
                                    static_cast<double>(size);
                seconds.set(i, j, 2000.0 * std::sin(turn));
            }
        }
        const OrderRequest request = requestFor(size, Closed);
        const double found = bestOrder(seconds, request).seconds;
        const double bound = lowerBound(seconds, request);
        QVERIFY(bound <= found);
        QVERIFY2(bound >= found * (1.0 - 1e-4), qPrintable(QString::number(bound / found)));
    }

    // With locks and pins the bound may rise above the free optimum, but not above theirs.
    void keepsLocksAndPins()
    {
        std::mt19937 random(71U);
        for (int n = 0; n < 10; ++n) {
            const Matrix seconds = townTable(24, n % 2 == 0 ? 0.0 : 0.3, random);
            OrderRequest request = requestFor(24, n % 3);
            const double freeBound = lowerBound(seconds, request);
            request.locked = {{20, 4, 9}, {12, 13}};
            request.pinnedFirst = {7};
            request.pinnedLast = {15, 3};
            const double bound = lowerBound(seconds, request);
            const double found = bestOrder(seconds, request).seconds;
            QVERIFY(bound <= found);
            QVERIFY(bound >= 0.9 * found);
            QVERIFY(bound >= freeBound * 0.999);
        }
    }

    void nothingToOrderAndNoWay()
    {
        Matrix seconds(16, 10.0);
        OrderRequest request;
        request.finish = 1;
        QCOMPARE(lowerBound(seconds, request), 10.0);
        request.stops = {2};
        QCOMPARE(lowerBound(seconds, request), 20.0);
        request = requestFor(16, Closed);
        QVERIFY(std::abs(lowerBound(seconds, request) - 160.0) < 1e-6);
        for (std::size_t i = 0; i < 16; ++i) {
            seconds.set(i, 5, unreachable);
        }
        QCOMPARE(lowerBound(seconds, request), unreachable);
    }

    // One hop only leads to place 5: the bound stays below the order that takes it.
    void hopsThatDoNotExist()
    {
        std::mt19937 random(73U);
        Matrix seconds = townTable(20, 0.4, random);
        for (std::size_t i = 0; i < 20; ++i) {
            if (i != 9) {
                seconds.set(i, 5, unreachable);
            }
        }
        const OrderRequest request = requestFor(20, OpenEnd);
        const double found = bestOrder(seconds, request).seconds;
        const double bound = lowerBound(seconds, request);
        QVERIFY(std::isfinite(found));
        QVERIFY(bound <= found);
        QVERIFY2(bound >= 0.9 * found, qPrintable(QString::number(bound / found)));
    }

    // Against every assignment of six places.
    void assignments()
    {
        std::mt19937 random(79U);
        for (int n = 0; n < 50; ++n) {
            const std::size_t size = 6;
            const Matrix costs = randomTable(size, false, random);
            const AssignmentPrices prices = assignmentPrices(costs);
            double sum = 0;
            for (std::size_t i = 0; i < size; ++i) {
                sum += prices.leaving[i] + prices.reaching[i];
                for (std::size_t j = 0; j < size; ++j) {
                    QVERIFY(i == j ||
                            prices.leaving[i] + prices.reaching[j] <= costs.at(i, j) + 1e-9);
                }
            }
            std::vector<std::size_t> follower(size);
            std::iota(follower.begin(), follower.end(), std::size_t{0});
            double least = unreachable;
            do {
                double total = 0;
                for (std::size_t i = 0; i < size; ++i) {
                    total += follower[i] == i ? unreachable : costs.at(i, follower[i]);
                }
                least = std::min(least, total);
            } while (std::next_permutation(follower.begin(), follower.end()));
            QVERIFY(std::abs(sum - least) < 1e-9);
        }
    }
};

QTEST_GUILESS_MAIN(LowerBoundTest)
#include "test_lower_bound.moc"
