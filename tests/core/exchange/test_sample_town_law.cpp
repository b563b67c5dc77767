// SPDX-License-Identifier: GPL-3.0-or-later
// The invented town ages by the law that its README states. The simulated lives are held against
// the distributions of a second library (Boost.Math) by the Kolmogorov-Smirnov distance: for n
// draws of the stated law it exceeds 1.63 / sqrt(n) in one case of a hundred (the test's usual
// asymptotic table; from memory), and with a fixed seed the outcome here never changes.
#include "sample-project/generator/ageing_law.h"
#include "sample-project/generator/life.h"
#include "sample-project/generator/random.h"

#include <QTest>

#include <boost/math/distributions/exponential.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/weibull.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace keyround::sample;

namespace {

constexpr int draws = 4000;

template <typename Law> double distanceFrom(const Law &law, std::vector<double> values)
{
    std::sort(values.begin(), values.end());
    const auto n = static_cast<double>(values.size());
    double greatest = 0;
    for (std::size_t i = 0; i < values.size(); ++i) {
        const double told = boost::math::cdf(law, values[i]);
        greatest = std::max(
            {greatest, told - static_cast<double>(i) / n, static_cast<double>(i + 1) / n - told});
    }
    return greatest;
}

double allowed()
{
    return 1.63 / std::sqrt(static_cast<double>(draws));
}

template <typename Draw> std::vector<double> drawn(Draw draw)
{
    std::vector<double> values;
    values.reserve(draws);
    for (int i = 0; i < draws; ++i)
        values.push_back(draw());
    return values;
}

} // namespace

class TestSampleTownLaw : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void engineIsTheOnePublished();
    void diceFollowTheirLaws();
    void newValvesLiveByTheLaw_data();
    void newValvesLiveByTheLaw();
    void repairStartsLifeAgain();
    void sharesAreWhole();
};

void TestSampleTownLaw::engineIsTheOnePublished()
{
    // splitmix64 from seed 0 gives e220a8397b1dcdaf first (its authors' reference code; from
    // memory). It is the first word of xoshiro256**'s state, whose first output depends on the
    // second word alone: rotl(6e789e6aa1b965f4 * 5, 7) * 9.
    constexpr std::uint64_t second = 0x6e789e6aa1b965f4ULL;
    constexpr std::uint64_t five = second * 5;
    constexpr std::uint64_t expected = ((five << 7) | (five >> 57)) * 9;
    Random random(0);
    QCOMPARE(random.next(), expected);
}

void TestSampleTownLaw::diceFollowTheirLaws()
{
    Random random(1);
    QVERIFY(distanceFrom(boost::math::weibull(1.6, 52.0),
                         drawn([&random] { return random.weibull(1.6, 52.0); })) < allowed());
    QVERIFY(distanceFrom(boost::math::exponential(1.0 / 2.2),
                         drawn([&random] { return random.exponential(2.2); })) < allowed());
    QVERIFY(distanceFrom(boost::math::normal(3.0, 0.7),
                         drawn([&random] { return random.normal(3.0, 0.7); })) < allowed());
    // The check itself can fail: another scale is told apart.
    QVERIFY(distanceFrom(boost::math::weibull(1.6, 44.0),
                         drawn([&random] { return random.weibull(1.6, 52.0); })) > allowed());
}

void TestSampleTownLaw::newValvesLiveByTheLaw_data()
{
    QTest::addColumn<int>("kind");
    QTest::addColumn<int>("inches");
    QTest::addColumn<double>("shape");
    QTest::addColumn<double>("scale");
    // The figures of sample-project/README.md.
    QTest::newRow("gate 8 in") << static_cast<int>(Kind::Gate) << 8 << 1.6 << 52.0;
    QTest::newRow("gate 12 in") << static_cast<int>(Kind::Gate) << 12 << 1.6 << 44.0;
    QTest::newRow("geared gate") << static_cast<int>(Kind::GearedGate) << 16 << 1.4 << 38.0;
    QTest::newRow("butterfly") << static_cast<int>(Kind::Butterfly) << 16 << 1.3 << 46.0;
}

void TestSampleTownLaw::newValvesLiveByTheLaw()
{
    QFETCH(int, kind);
    QFETCH(int, inches);
    QFETCH(double, shape);
    QFETCH(double, scale);
    // Repaired on a known day, so that the age is known; then looked at every tenth of a year.
    constexpr double step = 0.1;
    Random random(2);
    ValvePoint valve;
    valve.kind = static_cast<Kind>(kind);
    valve.inches = inches;
    valve.year = 2019;
    const std::vector<double> lives = drawn([&] {
        Life life(valve, random);
        life.repair(2021.0, random);
        double age = 0;
        while (life.end() == End::None) {
            age += step;
            life.advanceTo(2021.0 + age, random);
        }
        return age - step / 2;
    });
    QVERIFY(distanceFrom(boost::math::weibull(shape, scale), lives) < allowed());
}

void TestSampleTownLaw::repairStartsLifeAgain()
{
    Random random(3);
    ValvePoint valve;
    valve.year = 1950;
    Life life(valve, random);
    for (double when = 2020.0; life.end() == End::None; when += 1.0)
        life.advanceTo(when, random);
    life.repair(2300.0, random);
    QVERIFY(life.end() == End::None);
    QVERIFY(!life.repairDue());
    QVERIFY(life.hindrance() == Hindrance::None);
}

void TestSampleTownLaw::sharesAreWhole()
{
    for (const Kind kind : {Kind::Gate, Kind::GearedGate, Kind::Butterfly}) {
        const EndShares shares = endSharesOf(kind);
        QVERIFY(std::abs(shares.seized + shares.closesShort + shares.spins - 1.0) < 1e-12);
    }
    double sum = 0;
    for (const double share : blockedShares)
        sum += share;
    QVERIFY(std::abs(sum - 1.0) < 1e-12);
}

QTEST_GUILESS_MAIN(TestSampleTownLaw)
#include "test_sample_town_law.moc"
