// SPDX-License-Identifier: GPL-3.0-or-later
// Curves of valves that came under watch late: by hand, against Turnbull's where nobody did, and at
// the optimum.
#include "core/condition/survival.h"

#include <QtTest>

#include <cmath>
#include <random>

using namespace keyround;

namespace {

bool isNear(double a, double b, double tolerance)
{
    return std::abs(a - b) <= tolerance;
}

std::vector<FailureInterval> randomTimes(std::mt19937_64 &random, bool late)
{
    std::vector<FailureInterval> times;
    const auto count = 5 + random() % 40U;
    for (std::size_t i = 0; i < count; ++i) {
        FailureInterval time;
        time.after = static_cast<double>(random() % 20U);
        if (random() % 3U != 0) {
            time.by = time.after + 1 + static_cast<double>(random() % 8U);
        }
        if (late) {
            time.watchedFrom =
                std::floor(time.after * static_cast<double>(random() % 100U) / 100.0);
        }
        times.push_back(time);
    }
    return times;
}

double likelihoodOf(const std::vector<FailureInterval> &times, const HoldingCurve &curve)
{
    double sum = 0;
    for (const FailureInterval &time : times) {
        const double entered = curve.holdsAt(time.watchedFrom).from;
        const double after = curve.holdsAt(time.after).from;
        const double by = std::isinf(time.by) ? 0 : curve.holdsAt(time.by).from;
        sum += time.count * std::log((after - by) / entered);
    }
    return sum;
}

} // namespace

class TestWatchedCurve : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    /// On whole years the curve is a product of what was held of those under watch in each year
    /// (the product-limit estimator for late entry). Ten are watched from 0 and two of them fail in
    /// the first year; twenty come at 1 and seven of the 28 fail in the second; of the 21 left, all
    /// hold to 3.
    static void productByHand()
    {
        const std::vector<FailureInterval> times{
            {0, 1, 2, 0}, {1, 2, 2, 0}, {1, 2, 5, 1}, {3, neverSeen, 6, 0}, {3, neverSeen, 15, 1}};
        const auto curve = turnbullCurve(times);
        QVERIFY(curve && curve->isOptimal);
        QVERIFY(isNear(curve->holdsAt(1).from, 0.8, 1e-6));
        QVERIFY(isNear(curve->holdsAt(2).from, 0.8 * 0.75, 1e-6));
        QVERIFY(isNear(curve->holdsAt(3).to, 0.6, 1e-6));
        QCOMPARE(atRisk(times, 1), 8); // the twenty come just then
        QCOMPARE(atRisk(times, 3), 21);
    }

    static void isTurnbullsWhereNobodyCameLate()
    {
        std::mt19937_64 random(3);
        for (int i = 0; i < 200; ++i) {
            const std::vector<FailureInterval> times = randomTimes(random, false);
            const auto turnbull = turnbullCurve(times);
            const auto watched = curveOfWatched(times);
            QVERIFY(turnbull && watched);
            QVERIFY2(isNear(turnbull->logLikelihood, watched->logLikelihood, 1e-4),
                     qPrintable(QStringLiteral("%1 and %2")
                                    .arg(turnbull->logLikelihood)
                                    .arg(watched->logLikelihood)));
        }
    }

    /// No other curve that falls in the same places is more likely: it is tried to move each step's
    /// share a little either way.
    static void isOptimalOnRandomSets()
    {
        std::mt19937_64 random(4);
        for (int i = 0; i < 300; ++i) {
            const std::vector<FailureInterval> times = randomTimes(random, true);
            const auto curve = turnbullCurve(times);
            QVERIFY(curve.has_value());
            QVERIFY2(curve->isOptimal, qPrintable(QString::number(curve->optimalityGap)));
            const double best = likelihoodOf(times, *curve);
            if (!std::isfinite(best)) {
                continue; // all who were watched failed before others came: there the curve ends
            }
            QVERIFY(isNear(best, curve->logLikelihood, 1e-3));
            for (std::size_t k = 0; k < curve->steps.size(); ++k) {
                for (const double factor : {0.9, 1.1}) {
                    HoldingCurve other = *curve;
                    double holds = 1;
                    for (std::size_t j = 0; j < other.steps.size(); ++j) {
                        const double before = j == 0 ? 1.0 : curve->steps[j - 1].holdsAfter;
                        const double kept = curve->steps[j].holdsAfter / before;
                        holds *= j == k ? std::pow(kept, factor) : kept;
                        other.steps[j].holdsAfter = holds;
                    }
                    const double tried = likelihoodOf(times, other);
                    QVERIFY(!(tried > best + 1e-4));
                }
            }
        }
    }
};

QTEST_GUILESS_MAIN(TestWatchedCurve)
#include "test_watched_curve.moc"
