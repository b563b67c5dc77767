// SPDX-License-Identifier: GPL-3.0-or-later
// The outlook against closed forms, where there are any.
#include "core/schedule/outlook.h"
#include "tests/support/small_fleet.h"

#include <QtTest>

#include <cmath>
#include <limits>

using namespace keyround;
using test::day;

namespace {

constexpr double endless = std::numeric_limits<double>::infinity();
const QDate today(2025, 1, 1);

Policy every(int months)
{
    Policy policy;
    PolicyRule rule;
    rule.name = QStringLiteral("all");
    rule.intervalMonths = months;
    policy.rules = {rule};
    return policy;
}

LifeLaws lawOf(double shape, double scale)
{
    LifeLaws laws;
    laws.all.shape = shape;
    laws.all.scale = scale;
    laws.all.lives = 100;
    return laws;
}

/// Last turned in full so many months ago, each month in turn.
test::SmallFleet staggered(int valves, int months)
{
    test::SmallFleet fleet;
    for (int i = 0; i < valves; ++i) {
        const ValveId valve = fleet.add(QString::number(i), 8, "low", 1990);
        fleet.visit(valve, today.addMonths(-(i % months)), 20);
    }
    return fleet;
}

/// Repaired on the spot.
OutlookSettings atOnce(int years, int runs)
{
    OutlookSettings settings;
    settings.years = years;
    settings.runs = runs;
    settings.shareRepaired = 1;
    settings.monthsToRepair = 0;
    return settings;
}

} // namespace

class TestOutlook : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    /// Under a law without memory, turned every T months and mended on the spot, a valve is out of
    /// condition k months after a visit with the chance 1 - exp(-k / scale); at any month's end k
    /// is spread evenly over 0 to T - 1. The wider-known limit is 1 - (1 - exp(-T / scale)) scale /
    /// T.
    static void steadyState()
    {
        constexpr int months = 24;
        constexpr double scale = 5;
        const test::SmallFleet fleet = staggered(2400, months);
        const Outlook figure =
            outlook(fleet.valves, fleet.read(), every(months), lawOf(1, scale),
                    {{QStringLiteral("as now"), 1, {}, endless}}, today, atOnce(6, 20));
        double expected = 0;
        for (int k = 0; k < months; ++k) {
            expected += (1 - std::exp(-k / 12.0 / scale)) / months;
        }
        const std::vector<OutlookYear> &years = figure.plans[0].years;
        QCOMPARE(years.size(), std::size_t{7});
        for (std::size_t i = 3; i < years.size(); ++i) {
            QVERIFY2(std::abs(years[i].out - expected) < 0.008,
                     qPrintable(QStringLiteral("%1 for %2").arg(years[i].out).arg(expected)));
            QVERIFY(years[i].spread.from < expected && expected < years[i].spread.to);
            QCOMPARE(years[i].unseen, years[i].out); // mended as soon as found
            QCOMPARE(years[i].visits, 1200.0);
        }
    }

    /// Nobody comes: the share that held at the last visit and does not any more, by the law.
    static void withoutVisits()
    {
        test::SmallFleet fleet;
        for (int i = 0; i < 600; ++i) {
            fleet.visit(fleet.add(QString::number(i), 8, "low", 1990), day("2015-07-02"), 20);
        }
        const LifeLaws laws = lawOf(1.6, 52);
        const Outlook figure =
            outlook(fleet.valves, fleet.read(), every(36), laws,
                    {{QStringLiteral("nobody"), 1, {}, 0}}, today, atOnce(5, 30));
        const auto years = [](const QDate &to) {
            return static_cast<double>(QDate(1990, 7, 2).daysTo(to)) / 365.25;
        };
        const double held = years(day("2015-07-02"));
        const double now = years(today);
        for (int year = 0; year <= 5; ++year) {
            const OutlookYear &at = figure.plans[0].years[static_cast<std::size_t>(year)];
            QVERIFY(std::abs(at.out - laws.all.failsBetween(held, now + year)) < 0.01);
            QCOMPARE(at.visits, 0.0);
        }
    }

    static void crewDaysLimitVisits()
    {
        const test::SmallFleet fleet = staggered(240, 48);
        const std::vector<OutlookPlan> plans{{QStringLiteral("few"), 1, {}, 2.5},
                                             {QStringLiteral("more"), 1, {}, 5},
                                             {QStringLiteral("yearly"), 1, 12, endless}};
        const Histories histories = fleet.read();
        const Outlook figure = outlook(fleet.valves, histories, every(24), lawOf(1.5, 12), plans,
                                       today, atOnce(5, 20));
        QCOMPARE(figure.plans[0].years[3].visits, 30.0);
        QCOMPARE(figure.plans[1].years[3].visits, 60.0);
        QCOMPARE(figure.plans[2].years[3].visits, 240.0);
        QVERIFY(figure.plans[0].outTime > figure.plans[1].outTime);
        QVERIFY(figure.plans[1].outTime > figure.plans[2].outTime);
        // Today is the same for all plans: they differ by what they do, not by luck.
        QCOMPARE(figure.plans[0].years[0].out, figure.plans[2].years[0].out);
        const Outlook again = outlook(fleet.valves, histories, every(24), lawOf(1.5, 12), plans,
                                      today, atOnce(5, 20));
        QCOMPARE(again.plans[1].years[5].out, figure.plans[1].years[5].out);
        OutlookSettings other = atOnce(5, 20);
        other.seed = 2;
        QVERIFY(outlook(fleet.valves, histories, every(24), lawOf(1.5, 12), plans, today, other)
                    .plans[1]
                    .years[5]
                    .out != figure.plans[1].years[5].out);
    }

    static void whatIsKnownTodayCounts()
    {
        test::SmallFleet fleet;
        for (int i = 0; i < 10; ++i) {
            fleet.visit(fleet.add(QString::number(i), 8, "low", 1990), day("2024-12-01"),
                        i < 3 ? 9 : 20);
        }
        OutlookSettings none = atOnce(5, 10);
        none.shareRepaired = 0;
        const Outlook stays = outlook(fleet.valves, fleet.read(), every(24), LifeLaws(),
                                      {{QStringLiteral("as now"), 1, {}, endless}}, today, none);
        QCOMPARE(stays.plans[0].years[0].out, 0.3);
        QCOMPARE(stays.plans[0].years[5].out, 0.3);
        QCOMPARE(stays.plans[0].years[0].unseen, 0.0);
        const Outlook mended =
            outlook(fleet.valves, fleet.read(), every(24), LifeLaws(),
                    {{QStringLiteral("as now"), 1, {}, endless}}, today, atOnce(5, 10));
        QCOMPARE(mended.plans[0].years[1].out, 0.0);
        QVERIFY(outlook({}, {}, every(24), LifeLaws(), {}, today).plans.empty());
    }

    /// More crew-days than the due valves need change nothing, and the sentence says why; too few
    /// leave valves waiting.
    static void saysWhyMoreChangesNothing()
    {
        const test::SmallFleet fleet = staggered(240, 24);
        const Histories histories = fleet.read();
        const auto with = [&](double aMonth, const QString &name) {
            return outlook(fleet.valves, histories, every(24), lawOf(1.5, 12),
                           {{name, 1, {}, aMonth},
                            {QStringLiteral("2 crew-days more a month"), 1, {}, aMonth + 30}},
                           today, atOnce(5, 10));
        };
        const Outlook enough = with(20, QStringLiteral("as now"));
        QCOMPARE(enough.plans[0].years[5].waiting, 0.0);
        QVERIFY2(enough.sentence.contains(QStringLiteral(
                     "Every due valve is visited anyway (120 visits in the last year, none left "
                     "waiting): more crew-days change nothing; repairs decide.")),
                 qPrintable(enough.sentence));
        const Outlook few = with(5, QStringLiteral("as now"));
        QVERIFY(few.plans[0].years[5].waiting > 20);
        QVERIFY(!few.sentence.contains(QStringLiteral("Every due valve")));
        QVERIFY(!few.sentence.contains(QStringLiteral("no visits at all")));
        const Outlook none = with(0, QStringLiteral("as now"));
        QVERIFY(
            none.sentence.contains(QStringLiteral("\u201cAs now\u201d means no visits at all")));
        QVERIFY(!with(0, QStringLiteral("nobody")).sentence.contains(QStringLiteral("As now")));
        // 240 all are due within the 24 months; the few visits leave the rest waiting.
        QCOMPARE(none.plans[0].years[5].waiting, 240.0);
    }

    /// What the repairs are reckoned with stands in the caution, and who cannot be reached.
    static void cautionTellsOfRepairs()
    {
        test::SmallFleet fleet = staggered(120, 24);
        for (int i = 0; i < 3; ++i) {
            fleet.visit(fleet.add(QStringLiteral("buried %1").arg(i), 8), day("2024-06-01"), 0,
                        {Problem::NotFound});
        }
        OutlookSettings settings = atOnce(5, 10);
        settings.shareRepaired = 0.42;
        settings.monthsToRepair = 7.2;
        const auto of = [&] {
            return outlook(fleet.valves, fleet.read(), every(24), lawOf(1, 5),
                           {{QStringLiteral("as now"), 1, {}, endless}}, today, settings);
        };
        const Outlook figure = of();
        QCOMPARE(figure.cannotReach, 3);
        double repairs = 0;
        for (std::size_t i = 1; i <= 5; ++i) {
            repairs += figure.plans[0].years[i].repairs / 5;
        }
        QVERIFY2(figure.caution.contains(
                     QStringLiteral("42 % of the failures found are repaired, on average 7 months "
                                    "after they are found (taken for want of ten failures on "
                                    "record); as now, that makes %1 repairs a year")
                         .arg(repairs, 0, 'f', 0)),
                 qPrintable(figure.caution));
        QVERIFY(figure.caution.contains(
            QStringLiteral("3 valves that cannot be reached today count as out")));
        settings.repairsFromRecord = true;
        QVERIFY(of().caution.contains(QStringLiteral("as the visits on record show")));
    }

    /// How well the laws are known is part of the spread.
    static void spreadHoldsTheLawsOwn()
    {
        const test::SmallFleet fleet = staggered(480, 24);
        const std::vector<OutlookPlan> plans{{QStringLiteral("as now"), 1, {}, endless}};
        LifeLaws laws = lawOf(1.2, 20);
        const auto width = [&] {
            const Outlook figure =
                outlook(fleet.valves, fleet.read(), every(24), laws, plans, today, atOnce(3, 30));
            const Interval &spread = figure.plans[0].years[3].spread;
            return spread.to - spread.from;
        };
        const double known = width();
        laws.all.shapeVariance = 0.02;
        laws.all.scaleVariance = 0.09;
        QVERIFY(width() > 1.5 * known);
    }

    /// A box that was full and is not any more says nothing of how valves are repaired.
    static void boxesAreNoFailures()
    {
        test::SmallFleet fleet;
        for (int i = 0; i < 20; ++i) {
            const ValveId valve = fleet.add(QString::number(i), 8);
            fleet.visit(valve, day("2019-01-01"), 0, {Problem::BoxFull});
            fleet.visit(valve, day("2019-07-01"), 20);
            if (i < 12) {
                fleet.visit(valve, day("2020-01-01"), 9);
                fleet.visit(valve, day("2020-04-01"), 0, {Problem::NoAccess});
            }
            if (i < 3) {
                fleet.visit(valve, day("2020-07-01"), 20);
            }
        }
        const OutlookSettings settings = settingsFrom(fleet.valves, fleet.read(), today);
        QCOMPARE(settings.shareRepaired, 0.25); // 3 of 12
        QVERIFY(std::abs(settings.monthsToRepair - 182 / (365.25 / 12)) < 1e-9);
    }

    static void settingsFromVisits()
    {
        test::SmallFleet fleet;
        for (int i = 0; i < 20; ++i) {
            const ValveId valve = fleet.add(QString::number(i), 8);
            fleet.visit(valve, day("2020-01-01"), 9);
            if (i < 15) {
                fleet.visit(valve, day("2020-07-01"), 20);
            }
        }
        const OutlookSettings settings = settingsFrom(fleet.valves, fleet.read(), today);
        QCOMPARE(settings.shareRepaired, 0.75);
        QVERIFY(settings.repairsFromRecord);
        QVERIFY(!settingsFrom({}, {}, today).repairsFromRecord);
        QVERIFY(std::abs(settings.monthsToRepair - 182 / (365.25 / 12)) < 1e-9);
        QCOMPARE(settingsFrom({}, {}, today).shareRepaired, OutlookSettings().shareRepaired);
        const auto plans = usualPlans(fleet.valves, fleet.read(), day("2020-12-31"));
        QCOMPARE(plans[0].visitsAMonth, 35 / 12.0);
        // Two days of one crew in the year: 17.5 valves a day.
        QCOMPARE(plans.back().visitsAMonth, 35 / 12.0 + 2 * 17.5);
    }
};

QTEST_GUILESS_MAIN(TestOutlook)
#include "test_outlook.moc"
