// SPDX-License-Identifier: GPL-3.0-or-later
// The smooth law: against shares that it must meet exactly, and against valves made by a law.
#include "core/schedule/life_law.h"

#include <QtTest>

#include <cmath>
#include <random>

using namespace keyround;

namespace {

bool isNear(double a, double b, double tolerance)
{
    return std::abs(a - b) <= tolerance;
}

} // namespace

class TestLifeLaw : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    /// Two ages, two parameters: the most likely law meets the shares that held, 80 of 100 at ten
    /// years and 40 of 100 at forty.
    static void meetsTwoShares()
    {
        const auto law =
            fitLifeLaw({{0, 10, 20}, {10, neverSeen, 80}, {0, 40, 60}, {40, neverSeen, 40}});
        QVERIFY(law.has_value());
        QVERIFY(isNear(law->holdsAt(10), 0.8, 1e-4));
        QVERIFY(isNear(law->holdsAt(40), 0.4, 1e-4));
        // exp(-(t / scale)^shape): shape = ln(ln .4 / ln .8) / ln 4.
        QVERIFY(isNear(law->shape, std::log(std::log(0.4) / std::log(0.8)) / std::log(4.0), 1e-3));
        QCOMPARE(law->lives, 200);
        QCOMPARE(law->failed, 80);
        // The variance of log(-log(share)) at each age is (1 - S) / (n S ln(S)^2).
        const auto variance = [](double holds) {
            return (1 - holds) / (100 * holds * std::log(holds) * std::log(holds));
        };
        const double ofLogShape =
            (variance(0.8) + variance(0.4)) / std::pow(law->shape * std::log(4.0), 2);
        QVERIFY(isNear(law->shapeVariance, ofLogShape, 0.02 * ofLogShape));
    }

    static void chances()
    {
        LifeLaw law;
        law.shape = 1;
        law.scale = 20;
        QVERIFY(isNear(law.failsBetween(5, 9), 1 - std::exp(-0.2), 1e-12)); // no memory
        law.shape = 2;
        QVERIFY(isNear(law.failsBetween(10, 20), 1 - std::exp(-0.75), 1e-12));
        QCOMPARE(law.failsBetween(10, 10), 0.0);
        QCOMPARE(law.holdsAt(0), 1.0);
        QCOMPARE(LifeLaw().failsBetween(0, 1000), 0.0); // nothing ever failed
    }

    static void nothingToFit()
    {
        QVERIFY(!fitLifeLaw({}));
        QVERIFY(!fitLifeLaw({{10, neverSeen, 50}}));
        QVERIFY(!fitLifeLaw({{0, 10, 50}})); // failed before anybody saw one hold
    }

    /// Over simulations the error of each parameter is as large as its variance says.
    static void recoversTheLaw()
    {
        constexpr int simulations = 120;
        constexpr int valves = 200;
        constexpr double shape = 1.6;
        constexpr double scale = 52;
        std::mt19937_64 random(11);
        std::weibull_distribution<double> life(shape, scale);
        std::uniform_real_distribution<double> age(0, 70);
        double squares = 0;
        double logScales = 0;
        for (int i = 0; i < simulations; ++i) {
            std::vector<FailureInterval> times;
            for (int valve = 0; valve < valves; ++valve) {
                const double seen = age(random);
                const double failsAt = life(random);
                times.push_back(failsAt > seen + 5 ? FailureInterval{seen + 5}
                                : failsAt > seen   ? FailureInterval{seen, seen + 5}
                                                   : FailureInterval{0, seen + 0.01});
            }
            const auto law = fitLifeLaw(onGrid(times, 2));
            QVERIFY(law && law->scaleVariance > 0);
            const double error = std::log(law->scale / scale);
            squares += error * error / law->scaleVariance;
            logScales += error;
        }
        qInfo("log(scale): mean error %.4f, mean square of error over variance %.2f",
              logScales / simulations, squares / simulations);
        QVERIFY(isNear(logScales / simulations, 0, 0.02));
        QVERIFY(isNear(squares / simulations, 1, 0.35));
    }
};

QTEST_GUILESS_MAIN(TestLifeLaw)
#include "test_life_law.moc"
