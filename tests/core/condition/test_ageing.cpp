// SPDX-License-Identifier: GPL-3.0-or-later
// Lives read by hand, and Turnbull's curve against valves whose law is known because they were made
// by it.
#include "core/condition/ageing.h"
#include "tests/support/band_at.h"
#include "tests/support/small_fleet.h"

#include <QtTest>

#include <cmath>
#include <cstdio>
#include <random>

using namespace keyround;
using test::day;

namespace {

bool isNear(double a, double b, double tolerance = 1e-9)
{
    return std::abs(a - b) <= tolerance;
}

struct WeibullAges
{
    double shape;
    double scale;
    [[nodiscard]] double holds(double years) const
    {
        return std::exp(-std::pow(years / scale, shape));
    }
};

/// Valves of mixed age that held when the record began, looked at every two to four years over
/// twelve, on a grid of whole years.
std::vector<FailureInterval> simulated(const WeibullAges &law, int valves, std::mt19937_64 &random)
{
    std::weibull_distribution<double> life(law.shape, law.scale);
    std::uniform_real_distribution<double> firstSeen(0, 60);
    std::uniform_real_distribution<double> gap(2, 4);
    std::vector<FailureInterval> times;
    for (int i = 0; i < valves; ++i) {
        const double failsAt = life(random);
        FailureInterval time;
        const double first = firstSeen(random);
        if (failsAt <= first) {
            --i; // it failed before the record began: not among them
            continue;
        }
        time.watchedFrom = first;
        time.after = first;
        for (double seen = first + gap(random); seen < first + 12; seen += gap(random)) {
            if (failsAt <= seen) {
                time.by = seen;
                break;
            }
            time.after = seen;
        }
        times.push_back(time);
    }
    return onGrid(times, 1);
}

struct Coverage
{
    int covered = 0;
    int asked = 0;
    double width = 0;
    double bias = 0; ///< of the middle of the curve's box, mean
    [[nodiscard]] double share() const { return static_cast<double>(covered) / asked; }
};

/// How often the band holds what each law says of some ages, over simulations of the first.
std::vector<Coverage> coverageOf(const std::vector<WeibullAges> &laws, int simulations, int valves)
{
    std::mt19937_64 random(20250101);
    std::vector<Coverage> coverages(laws.size());
    for (int i = 0; i < simulations; ++i) {
        const EnoughWatched watched =
            fromEnoughWatched(simulated(laws.front(), valves, random), fewestLives);
        const auto curve = turnbullCurve(watched.times);
        const std::vector<BandPoint> band = holdingBand(watched.times, *curve);
        for (const double years : {15.0, 30.0, 45.0}) {
            const Interval at = test::bandAt(band, years);
            const Interval box = curve->holdsAt(years);
            for (std::size_t k = 0; k < laws.size(); ++k) {
                // Of those that hold when enough come under watch.
                const double holds = laws[k].holds(years) / laws[k].holds(watched.from);
                coverages[k].covered += at.from <= holds && holds <= at.to ? 1 : 0;
                coverages[k].width += at.to - at.from;
                coverages[k].bias += (box.from + box.to) / 2.0 - holds;
                ++coverages[k].asked;
            }
        }
    }
    for (Coverage &coverage : coverages) {
        coverage.width /= coverage.asked;
        coverage.bias /= coverage.asked;
    }
    return coverages;
}

} // namespace

class TestAgeing : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void livesByHand()
    {
        test::SmallFleet fleet;
        const ValveId a = fleet.add(QStringLiteral("A"), 8, "low", 2000);
        const VisitId first = fleet.visit(a, day("2019-07-01"), 20);
        const VisitId held = fleet.visit(a, day("2020-07-01"), 20);
        fleet.visit(a, day("2021-07-01"), 0, {Problem::BoxFull}); // says nothing of its age
        fleet.visit(a, day("2022-07-01"), 0);                     // neither turned nor a problem
        const VisitId failed = fleet.visit(a, day("2023-07-01"), 9);
        fleet.visit(a, day("2024-07-01"), 20); // repaired: not a life of its own
        fleet.replace(a, day("2025-01-01"));
        const VisitId anew = fleet.visit(a, day("2026-01-01"), 20);
        const Histories histories = fleet.read();
        QCOMPARE(recordBegan(histories), day("2019-07-01"));

        // The old valve of A: its install year is not on record with the replacement.
        std::vector<LifeSeen> lives =
            livesSeen(fleet.valves[0], histories[a], recordBegan(histories));
        QCOMPARE(lives.size(), std::size_t{1});
        QCOMPARE(lives[0].held, anew);
        QVERIFY(lives[0].failed.isNull() && std::isinf(lives[0].years.by));
        QVERIFY(isNear(lives[0].years.after, 365 / 365.25));
        QCOMPARE(lives[0].years.watchedFrom, 0.0); // it was put in before our eyes

        fleet.replacements[0].oldInstallYear = 2000;
        lives = livesSeen(fleet.valves[0], fleet.read()[a], recordBegan(histories));
        QCOMPARE(lives.size(), std::size_t{2});
        QVERIFY(!lives[0].isCurrent && lives[1].isCurrent);
        QCOMPARE(lives[0].held, held);
        QVERIFY(lives[0].held != first);
        QCOMPARE(lives[0].failed, failed);
        // From 2000-07-01, the middle of the year: 6939, 7305 and 8400 days.
        QVERIFY(isNear(lives[0].years.watchedFrom, 6939 / 365.25));
        QVERIFY(isNear(lives[0].years.after, 7305 / 365.25));
        QVERIFY(isNear(lives[0].years.by, 8400 / 365.25));
    }

    static void whatTellsNothing()
    {
        test::SmallFleet fleet;
        const auto livesOf = [&fleet](std::size_t i) {
            const Histories histories = fleet.read();
            return livesSeen(fleet.valves[i], histories[fleet.valves[i].id], day("2020-01-01"));
        };
        fleet.add(QStringLiteral("year not known"), 8);
        fleet.visit(fleet.valves[0].id, day("2024-01-01"), 20);
        fleet.visit(fleet.valves[0].id, day("2025-01-01"), 20);
        QVERIFY(livesOf(0).empty());
        fleet.add(QStringLiteral("never turned"), 8, "low", 1990);
        fleet.visit(fleet.valves[1].id, day("2024-01-01"), 0, {Problem::NotFound});
        QVERIFY(livesOf(1).empty());
        fleet.add(QStringLiteral("seen once"), 8, "low", 1990);
        fleet.visit(fleet.valves[2].id, day("2024-01-01"), 20);
        QVERIFY(livesOf(2).empty());
        // An old valve that is bad at its first look: nobody knows since when, nor how often.
        fleet.add(QStringLiteral("bad at first"), 8, "low", 1990);
        fleet.visit(fleet.valves[3].id, day("2024-07-01"), 0, {Problem::CouldNotOperate});
        QVERIFY(livesOf(3).empty());
        // One that was put in since the record began failed between then and now: (0, by].
        fleet.add(QStringLiteral("new and bad"), 8, "low", 2021);
        fleet.visit(fleet.valves[4].id, day("2024-07-02"), 0, {Problem::CouldNotOperate});
        const std::vector<LifeSeen> lives = livesOf(4);
        QCOMPARE(lives.size(), std::size_t{1});
        QCOMPARE(lives[0].years.after, 0.0);
        QCOMPARE(lives[0].years.watchedFrom, 0.0);
        QVERIFY(isNear(lives[0].years.by, 1096 / 365.25));
    }

    static void gridRounds()
    {
        const auto gathered = onGrid({{0.3, 1.2}, {0.4, 1.1}, {1.0, 1.01}, {2.0, neverSeen}}, 1);
        QCOMPARE(gathered.size(), std::size_t{3});
        QCOMPARE(gathered[0].after, 0.0);
        QCOMPARE(gathered[0].by, 1.0);
        QCOMPARE(gathered[0].count, 2);
        QCOMPARE(gathered[1].after, 1.0);
        QCOMPARE(gathered[1].by, 2.0); // never empty
        QVERIFY(std::isinf(gathered[2].by));
        const auto months = onGrid({{1.0 / 12, 2.0 / 12}}, 12); // on the grid it stays as it is
        QVERIFY(isNear(months[0].after, 1.0 / 12) && isNear(months[0].by, 2.0 / 12));
    }

    /// With exact-like intervals the curve is that of shares of a whole, and the variance of the
    /// share that holds is S (1 - S) / n: the information must give just that.
    static void bandByHand()
    {
        const std::vector<FailureInterval> times{{0, 1, 20}, {1, 2, 30}, {2, 3, 50}};
        const auto curve = turnbullCurve(times);
        const std::vector<BandPoint> band = holdingBand(times, *curve);
        QCOMPARE(band.size(), std::size_t{2});
        const double holds = 0.8;
        const double error = std::sqrt(holds * (1 - holds) / 100);
        const double reach = normal975 * error / std::abs(holds * std::log(holds));
        QVERIFY(isNear(band[0].holds.from, std::pow(holds, std::exp(reach)), 1e-6));
        QVERIFY(isNear(band[0].holds.to, std::pow(holds, std::exp(-reach)), 1e-6));
        QCOMPARE(band[0].years, 1.0);
    }

    static void groupsAndWords()
    {
        // 40 gate valves of 8 in from 1990, failing one by one between visits 5 years apart; three
        // of 12 in: too few.
        test::SmallFleet fleet;
        for (int i = 0; i < 40; ++i) {
            const ValveId valve = fleet.add(QString::number(i), 8, "low", 1990);
            for (int year = 2000; year <= 2020; year += 5) {
                const bool failed = i < 32 && year >= 2005 + 5 * (i / 8);
                fleet.visit(valve, QDate(year, 7, 2), failed ? 9 : 20);
            }
        }
        for (int i = 0; i < 3; ++i) {
            const ValveId valve = fleet.add(QStringLiteral("L%1").arg(i), 12, "low", 1990);
            fleet.visit(valve, day("2015-07-02"), 20);
            fleet.visit(valve, day("2020-07-02"), 20);
        }
        fleet.add(QStringLiteral("N"), 8, "low", 1990); // never visited: left out
        const Ageing figure =
            ageingOf(fleet.valves, fleet.read(), AgeingBy::TypeAndSize, UnitSystem::Us);
        QCOMPARE(figure.groups.size(), std::size_t{2});
        const AgeingGroup &eight = figure.groups[0];
        QCOMPARE(eight.name, QStringLiteral("8 in gate valves"));
        QCOMPARE(eight.lives.size(), std::size_t{40});
        QCOMPARE(eight.failed, 32);
        QCOMPARE(eight.leftOut, 1);
        QVERIFY(eight.curve && eight.curve->isOptimal);
        // Eight of forty fail in each of four gaps: a fifth each.
        QVERIFY(isNear(eight.curve->holdsAt(10.05).to, 1.0));
        QVERIFY(isNear(eight.curve->holdsAt(15.2).to, 0.8, 1e-5));
        QVERIFY(isNear(eight.curve->holdsAt(20.2).from, 0.4, 1e-5));
        QVERIFY2(eight.reading.startsWith(QStringLiteral(
                     "Of 8 in gate valves that still worked at 10 years, half are out by about ")),
                 qPrintable(eight.reading));
        QVERIFY(eight.reading.contains(QStringLiteral(" 40 valves, 32 failed")));
        // A fifth fails in each gap: half are out between 20 and 25 years, the best estimate is
        // its middle, and the words tell of the very numbers of the figure.
        QVERIFY(eight.half.has_value());
        QVERIFY(isNear(eight.half->years, 22.5, 1e-9));
        QVERIFY(eight.half->couldBe.from <= 20.0 && eight.half->couldBe.to >= 25.0);
        QVERIFY(eight.reading.contains(QStringLiteral("by about 23 years (could be %1 to %2).")
                                           .arg(std::llround(eight.half->couldBe.from))
                                           .arg(std::llround(eight.half->couldBe.to))));
        QCOMPARE(eight.counted, 40);
        QCOMPARE(eight.countedFailed, 32);
        QVERIFY(eight.exact.empty());         // gaps of five years are no exact times
        QCOMPARE(eight.atRisk[0].atRisk, 0);  // nobody was watched as young as that
        QCOMPARE(eight.atRisk[2].atRisk, 24); // before 20 years
        const AgeingGroup &twelve = figure.groups[1];
        QVERIFY(twelve.isTooFew && !twelve.curve);
        QVERIFY(twelve.reading.contains(QStringLiteral("too few to say: 3 valves, 0 failed")));
        QCOMPARE(figure.leftOut, 1);
        QVERIFY(
            figure.caution.contains(QStringLiteral("Left out: 1 valve seen holding only once")));
    }

    /// The band's limit falls where something fails: never in the level before the first step, and
    /// never before the age that the curve is of.
    static void halfIsNotOutWhereNothingFails()
    {
        // Watched from 1 year on, all hold to 25; some fail between 25 and 30, most by 35.
        test::SmallFleet fleet;
        for (int i = 0; i < 24; ++i) {
            const ValveId valve = fleet.add(QString::number(i), 8, "low", 1990);
            for (const int year : {1991, 2015, 2020, 2025}) {
                const bool failed = (i < 11 && year >= 2020) || (i < 20 && year >= 2025);
                fleet.visit(valve, QDate(year, 7, 2), failed ? 9 : 20);
            }
        }
        const Ageing figure = ageingOf(fleet.valves, fleet.read(), AgeingBy::All, UnitSystem::Us);
        const AgeingGroup &all = figure.groups[0];
        QVERIFY(isNear(all.fromYears, 1));
        QVERIFY(!all.band.empty() && all.band[0].holds.from < 0.5);
        QVERIFY(isNear(all.curve->holdsAt(25).to, 1));
        QVERIFY(all.half.has_value());
        QVERIFY2(isNear(all.half->couldBe.from, 25, 0.3),
                 qPrintable(QString::number(all.half->couldBe.from)));
        QVERIFY2(all.reading.startsWith(QStringLiteral(
                     "Of all valves that still worked at 1 year, half are out by about ")),
                 qPrintable(all.reading));
    }

    /// The same visits on another day of the year: valves come under watch between whole years, and
    /// those that failed next must not fall out.
    static void entriesBetweenWholeYears()
    {
        test::SmallFleet fleet;
        for (int i = 0; i < 40; ++i) {
            const ValveId valve = fleet.add(QString::number(i), 8, "low", 1990);
            for (int year = 2000; year <= 2020; year += 5) {
                const bool failed = i < 32 && year >= 2005 + 5 * (i / 8);
                fleet.visit(valve, QDate(year, 2, 1), failed ? 9 : 20);
            }
        }
        const AgeingGroup group =
            ageingOf(fleet.valves, fleet.read(), AgeingBy::All, UnitSystem::Us).groups[0];
        QCOMPARE(group.fromYears, 9.5);
        QVERIFY(group.curve.has_value());
        QVERIFY2(group.reading.contains(QStringLiteral("40 valves, 32 failed")),
                 qPrintable(group.reading));
        QVERIFY(isNear(group.curve->holdsAt(14.6).to, 0.8, 1e-5));
        QVERIFY(isNear(group.curve->holdsAt(19.6).from, 0.4, 1e-5));
        const EnoughWatched watched = fromEnoughWatched(timesOf(group), fewestLives);
        QCOMPARE(watchedAt(watched.times, 9.5), 40);
    }

    /// Watched from their first day, six are bad at their first look: no failure may be dropped.
    static void badAtTheFirstLook()
    {
        const std::vector<FailureInterval> times{{0, 2, 6}, {2, neverSeen, 18}};
        const EnoughWatched watched = fromEnoughWatched(times, 20);
        QCOMPARE(watched.from, 0.0);
        QCOMPARE(watchedAt(watched.times, 0), 24);
        const auto curve = turnbullCurve(watched.times);
        QVERIFY(curve && isNear(curve->holdsAt(2).from, 0.75, 1e-6));

        test::SmallFleet fleet;
        fleet.visit(fleet.add(QStringLiteral("before"), 8), day("1999-01-01"), 20);
        for (int i = 0; i < 24; ++i) {
            fleet.visit(fleet.add(QString::number(i), 8, "low", 2000), day("2002-07-02"),
                        i < 6 ? 9 : 20);
        }
        const AgeingGroup group =
            ageingOf(fleet.valves, fleet.read(), AgeingBy::All, UnitSystem::Us).groups[0];
        QCOMPARE(group.fromYears, 0.0);
        QVERIFY2(group.reading.contains(QStringLiteral("24 valves, 6 failed")),
                 qPrintable(group.reading));
    }

    /// What a reading counts is what its curve is made of: those seen last before it begins are
    /// not.
    static void readingCountsItsCurve()
    {
        test::SmallFleet fleet;
        for (int i = 0; i < 30; ++i) {
            // Five come under watch, and leave it, before the others enter.
            const bool isEarly = i < 5;
            const ValveId valve = fleet.add(QString::number(i), 8, "low", isEarly ? 1998 : 1990);
            fleet.visit(valve, QDate(2000, 7, 2), 20);
            fleet.visit(valve, QDate(2004, 7, 2), i == 0 || i > 22 ? 9 : 20);
        }
        const AgeingGroup group =
            ageingOf(fleet.valves, fleet.read(), AgeingBy::All, UnitSystem::Us).groups[0];
        QCOMPARE(group.lives.size(), std::size_t{30});
        QCOMPARE(group.failed, 8);
        QCOMPARE(group.fromYears, 10.0);
        QVERIFY2(group.reading.contains(QStringLiteral("25 valves, 7 failed")),
                 qPrintable(group.reading));
        QVERIFY(fromEnoughWatched(timesOf(group), 26).times.empty()); // so many never are
    }

    static void exactTimesHaveKaplanMeierBeside()
    {
        // Looked at every week about its failure: exact to a month.
        test::SmallFleet fleet;
        fleet.visit(fleet.add(QStringLiteral("before"), 8), day("1999-01-01"), 20);
        for (int i = 0; i < 24; ++i) {
            const ValveId valve = fleet.add(QString::number(i), 8, "low", 2000);
            const QDate failed = QDate(2010, 1, 1).addDays(i * 100);
            fleet.visit(valve, failed.addDays(-7), 20);
            if (i < 12) {
                fleet.visit(valve, failed, 9);
            }
        }
        const Ageing figure = ageingOf(fleet.valves, fleet.read(), AgeingBy::All, UnitSystem::Us);
        QCOMPARE(figure.groups[0].exact.size(), std::size_t{12});
        QCOMPARE(figure.groups[0].exact.front().atRisk, 24);
    }

    /// Turnbull recovers the law of simulated valves: the band holds it about as often as it says.
    /// The counter-check puts another law to the same bands, which must hold it far less often.
    static void coversTheLaw()
    {
        constexpr int simulations = 200;
        constexpr int valves = 400;
        const std::vector<Coverage> told = coverageOf({{1.6, 52}, {1.6, 34}}, simulations, valves);
        const Coverage &right = told[0];
        const Coverage &wrong = told[1];
        std::printf("band of 95 %% over %d simulations of %d valves at 15, 30 and 45 years: holds "
                    "the law %d of %d times (%.1f %%), mean width %.3f, mean error %.4f; a law of "
                    "another scale %.1f %%\n",
                    simulations, valves, right.covered, right.asked, 100 * right.share(),
                    right.width, right.bias, 100 * wrong.share());
        QVERIFY(right.share() >= 0.90);
        QVERIFY(right.width < 0.35);
        QVERIFY(std::abs(right.bias) < 0.02);
        QVERIFY(wrong.share() < 0.6);
    }
};

QTEST_GUILESS_MAIN(TestAgeing)
#include "test_ageing.moc"
