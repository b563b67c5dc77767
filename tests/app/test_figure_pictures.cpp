// SPDX-License-Identifier: GPL-3.0-or-later
// The pictures of the Office's figures from figures made by hand: what is drawn where, what an item
// says, what stands under the axis, what is said when there is nothing to draw. All figures are
// invented.
#include "app/charts/chart.h"
#include "app/charts/figure_pictures.h"
#include "app/shell/style.h"
#include "tests/support/on_screen.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QElapsedTimer>
#include <QTest>

#include <cmath>

using namespace keyround;

namespace {

const ChartSeries *seriesNamed(const ChartPicture &picture, const QString &start)
{
    for (const ChartSeries &series : picture.series) {
        if (series.name.startsWith(start)) {
            return &series;
        }
    }
    return nullptr;
}

bool keep(const ChartPicture &picture, const char *name)
{
    return savePng(picture, screenFile(QStringLiteral("picture_%1.png").arg(QLatin1String(name))))
        .has_value();
}

Pace paceOfTwoYears()
{
    Pace pace;
    PaceYear before;
    before.year = 2025;
    before.until = QDate(2025, 12, 31);
    before.all = {QStringLiteral("all"), 400, 200.0, 310, 180};
    before.bySize = {{QStringLiteral("up to 8 in"), 300, 150.0, 240, 150},
                     {QStringLiteral("10 to 14 in"), 100, 50.0, 70, 30}};
    PaceYear now;
    now.year = 2026;
    now.until = QDate(2026, 3, 16);
    now.isWhole = false;
    now.all = {QStringLiteral("all"), 400, 200.0, 60, 40};
    now.months = {
        {QDate(2026, 1, 31), 20, 14}, {QDate(2026, 2, 28), 45, 30}, {QDate(2026, 3, 16), 60, 40}};
    pace.years = {before, now};
    pace.cyclesADay = 0.5;
    pace.metOn = QDate(2027, 1, 30);
    pace.valves = 400;
    return pace;
}

AgeingGroup groupOf(const QString &name)
{
    AgeingGroup group;
    group.name = name;
    HoldingCurve curve;
    curve.steps = {{10, 14, 0.2, 0.8}, {20, 20.5, 0.3, 0.5}, {30, neverSeen, 0.5, 0.0}};
    curve.isOptimal = true;
    group.curve = curve;
    group.atRisk = {{0, 60}, {10, 55}, {20, 30}, {30, 8}};
    group.band = {{0, {1, 1}}, {14, {0.7, 0.9}}, {30, {0.3, 0.65}}};
    group.lastYears = 38;
    group.lives.resize(60);
    group.failed = 12;
    group.reading = QStringLiteral("Half fail after 20 years.");
    return group;
}

} // namespace

class TestFigurePictures : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
    }

    /// Beside each other decades need not repeat what all of them are.
    void groupsHaveShortNames()
    {
        AgeingGroup group;
        group.name = QStringLiteral("valves installed 1950 to 1959");
        QCOMPARE(shortName(group), QStringLiteral("1950 to 1959"));
        group.name = QStringLiteral("gate, up to 8 in");
        QCOMPARE(shortName(group), group.name);
    }

    void paceBarsStandAgainstTheirTarget()
    {
        const Pace pace = paceOfTwoYears();
        const ChartPicture picture = paceYearsPicture(pace);
        QCOMPARE(picture.items.size(), size_t(2));
        QCOMPARE(seriesNamed(picture, QStringLiteral("full cycles"))->y2,
                 (std::vector<double>{180, 40}));
        QCOMPARE(seriesNamed(picture, QStringLiteral("valves inspected"))->y2,
                 (std::vector<double>{310, 60}));
        const ChartSeries *target = seriesNamed(picture, QStringLiteral("target"));
        QCOMPARE(target->y[0], 200.0);
        // From 16 March to 31 December are 290 days, at half a cycle a day.
        const ChartSeries *more = seriesNamed(picture, QStringLiteral("by the year's end"));
        QCOMPARE(more->x.size(), size_t(1));
        QCOMPARE(more->y[0], 40.0);
        QCOMPARE(more->y2[0], 40.0 + 145.0);
        QVERIFY(picture.items[1].words.contains(QStringLiteral("185")));
        QVERIFY(keep(picture, "pace_years"));

        const ChartPicture sizes = pacePartsPicture(pace.years[0], false);
        QCOMPARE(sizes.x.names,
                 (QStringList{QStringLiteral("up to 8 in"), QStringLiteral("10 to 14 in")}));
        QVERIFY(keep(sizes, "pace_sizes"));
    }

    void theDayOfTheTargetIsWhereTheLineMeetsIt()
    {
        const Pace pace = paceOfTwoYears();
        const ChartPicture picture = paceThisYearPicture(pace);
        const ChartSeries *met = seriesNamed(picture, QStringLiteral("target met 2027-01-30"));
        QVERIFY(met != nullptr);
        QCOMPARE(dayOfKey(met->x[0]), QDate(2027, 1, 30));
        QCOMPARE(met->y[0], 200.0);
        // The projected line goes through that point: 40 + 320 days at 0.5.
        const ChartSeries *line = seriesNamed(picture, QStringLiteral("at this pace"));
        const double slope = (line->y[1] - line->y[0]) / (line->x[1] - line->x[0]);
        const double there = line->y[0] + slope * (met->x[0] - line->x[0]);
        QVERIFY2(std::abs(there - 200.0) < 0.5, qPrintable(QString::number(there)));
        QCOMPARE(picture.items.size(), size_t(3));
        QVERIFY(keep(picture, "pace_this_year"));
    }

    void sharesSayWhichTheyAre()
    {
        ConditionOverTime figure;
        figure.centre = 0.85;
        figure.length = PeriodLength::Quarter;
        for (int i = 0; i < 6; ++i) {
            BandPeriod period;
            period.counts.period = QStringLiteral("2024-Q%1").arg(i % 4 + 1);
            period.counts.end = QDate(2024, 3, 31).addMonths(3 * i);
            period.words = QStringLiteral("words of period %1").arg(i);
            period.kind = i == 2 ? ShareKind::Nothing : i == 4 ? ShareKind::All : ShareKind::Sample;
            if (period.kind != ShareKind::Nothing) {
                period.share = i == 5 ? 0.6 : 0.84 + 0.01 * i;
                period.limits = Interval{0.75, 0.95};
            }
            if (period.kind == ShareKind::Sample) {
                period.interval = Interval{*period.share - 0.05, *period.share + 0.05};
            }
            period.standsOut = i == 5;
            figure.periods.push_back(period);
        }
        const ChartPicture picture = sharePicture(figure);
        QCOMPARE(seriesNamed(picture, QStringLiteral("share of a sample"))->x,
                 (std::vector<double>{0, 1, 3}));
        QCOMPARE(seriesNamed(picture, QStringLiteral("all were visited"))->x,
                 (std::vector<double>{4}));
        QCOMPARE(seriesNamed(picture, QStringLiteral("stands out"))->x, (std::vector<double>{5}));
        // No whisker where all were visited.
        QCOMPARE(seriesNamed(picture, QStringLiteral("95 %"))->x,
                 (std::vector<double>{0, 1, 3, 5}));
        QCOMPARE(seriesNamed(picture, QStringLiteral("limits of chance"))->x.size(), size_t(5));
        QVERIFY(picture.items[5].words.contains(QStringLiteral("stands out")));
        QVERIFY(picture.y.from <= 0.55);
        QVERIFY(keep(picture, "share"));
    }

    void undefinedTimesAreBoxes()
    {
        Ageing figure;
        figure.by = AgeingBy::All;
        figure.groups = {groupOf(QStringLiteral("all valves"))};
        const AgeingPicture made = ageingPicture(figure);
        // The step that never ends is no box: nothing is known beyond the oldest valve.
        QCOMPARE(made.items.size(), size_t(2));
        QCOMPARE(made.picture.items[0].x, 10.0);
        QCOMPARE(made.picture.items[0].x2, 14.0);
        QCOMPARE(made.picture.items[0].y, 0.8);
        QCOMPARE(made.picture.items[0].y2, 1.0);
        const ChartSeries *line = seriesNamed(made.picture, QStringLiteral("all valves"));
        // Level from 14 to 20 at 0.8, broken over both boxes.
        bool level = false;
        for (size_t i = 1; i < line->x.size(); ++i) {
            level = level || (line->x[i - 1] == 14 && line->x[i] == 20 && line->y[i] == 0.8);
        }
        QVERIFY(level);
        QVERIFY(std::ranges::any_of(line->y, [](double y) { return std::isnan(y); }));
        QCOMPARE(made.picture.underAxis.size(), size_t(1));
        QCOMPARE(made.picture.underAxis[0].numbers,
                 (QStringList{QStringLiteral("60"), QStringLiteral("55"), QStringLiteral("30"),
                              QStringLiteral("8")}));
        QVERIFY(seriesNamed(made.picture, QStringLiteral("95 % band")) != nullptr);
        QVERIFY(keep(made.picture, "ageing_one"));

        // A small step reads so finely that it adds up.
        figure.groups[0].curve->steps.front() = {72.0, 72.25, 0.014, 0.986};
        QVERIFY2(ageingPicture(figure).picture.items[0].words.endsWith(QStringLiteral(
                     "Between 72.0 and 72.3 years, 1 % fail; when in between is not known.\n"
                     "Holding before: 100 %, after: 99 %")),
                 qPrintable(ageingPicture(figure).picture.items[0].words));
        CurveStep &second = figure.groups[0].curve->steps[1];
        figure.groups[0].curve->steps.front().holdsAfter = 0.146;
        second = {72.25, 72.5, 0.0124, 0.1336};
        QVERIFY2(ageingPicture(figure).picture.items[1].words.endsWith(
                     QStringLiteral("1.2 % fail; when in between is not known.\n"
                                    "Holding before: 14.6 %, after: 13.4 %")),
                 qPrintable(ageingPicture(figure).picture.items[1].words));

        figure.by = AgeingBy::TypeAndSize;
        figure.groups.clear();
        for (int i = 0; i < 7; ++i) {
            figure.groups.push_back(groupOf(QStringLiteral("%1 in gate valves").arg(4 + 2 * i)));
            for (CurveStep &step : figure.groups.back().curve->steps) {
                step.from += i;
                step.to += i;
            }
        }
        const AgeingPicture many = ageingPicture(figure);
        QCOMPARE(many.picture.underAxis.size(), size_t(5));
        QVERIFY(many.picture.note.contains(QStringLiteral("2 smaller groups")));
        QVERIFY(keep(many.picture, "ageing_groups"));
    }

    void tooFewSaysSoInsteadOfDrawing()
    {
        Ageing figure;
        AgeingGroup group;
        group.name = QStringLiteral("butterflies");
        group.isTooFew = true;
        group.reading = QStringLiteral("Butterflies: 7 valves, 1 failed: too few for a curve.");
        figure.groups = {group};
        const AgeingPicture made = ageingPicture(figure);
        QVERIFY(made.picture.isEmpty());
        QVERIFY(made.picture.emptyWords.contains(group.reading));
        QVERIFY(keep(made.picture, "ageing_too_few"));
    }

    void oneValvesCountsLieInTheirTolerance()
    {
        ValveTurns turns;
        const Baseline listed{
            BaselineSource::ListedTurns, QuarterTurns::ofTurns(26), QuarterTurns::ofTurns(26), {}};
        const std::array<std::pair<double, Verdict>, 5> counted{{{26, Verdict::Full},
                                                                 {27, Verdict::Full},
                                                                 {24.5, Verdict::Full},
                                                                 {14, Verdict::Short},
                                                                 {0, Verdict::DoesNotTurn}}};
        QDate day(2019, 5, 3);
        for (const auto &[count, verdict] : counted) {
            TurnCount one;
            one.date = day;
            one.turns = count;
            one.baseline = listed;
            one.allowed = 2.5;
            one.verdict = verdict;
            turns.counts.push_back(one);
            day = day.addMonths(14);
        }
        turns.next = listed;
        turns.nextAllowed = 2.5;
        const ChartPicture picture = valveTurnsPicture(turns, QStringLiteral("0412"));
        const ChartSeries *band = seriesNamed(picture, QStringLiteral("tolerance"));
        QCOMPARE(band->y[0], 23.5);
        QCOMPARE(band->y2[0], 28.5);
        QCOMPARE(seriesNamed(picture, wordFor(Verdict::Full))->x.size(), size_t(3));
        QCOMPARE(seriesNamed(picture, wordFor(Verdict::Short))->y, (std::vector<double>{14}));
        QCOMPARE(picture.items.size(), size_t(5));
        QVERIFY(keep(picture, "valve_turns"));
        QVERIFY(valveTurnsPicture({}, QStringLiteral("1")).isEmpty());
    }

    /// Few points are drawn each; very many by how many lie in a place, and the flagged ones still
    /// each. A picture of 200,000 counts is made and drawn in well under a second.
    void theFleetsPointsAreDrawnOrGathered()
    {
        FleetTurns figure;
        TurnsGroup group;
        group.name = QStringLiteral("gate, up to 8 in");
        group.valves = 300;
        group.chart = RobustChart{0.1, 0.7, 0.7, -2.0, 2.2};
        unsigned seed = 7;
        const auto next = [&seed] {
            seed = seed * 1664525u + 1013904223u;
            return (seed >> 16) / 65536.0;
        };
        const auto add = [&](int count) {
            for (int i = 0; i < count; ++i) {
                TurnPoint point;
                point.date = QDate(2021, 1, 1).addDays(int(1800 * next()));
                point.turns = 26;
                point.fromFirst = next() + next() + next() + next() - 2.0;
                if (i % 50 == 7) {
                    point.fromFirst += 3;
                    point.rules = {1};
                    point.drifts = true;
                } else if (i % 50 == 9) {
                    point.rules = {2}; // it came back: drawn as any other
                }
                group.points.push_back(point);
            }
            std::ranges::stable_sort(group.points, {}, &TurnPoint::date);
        };
        add(400);
        figure.groups = {group};
        FleetTurnsPicture made = fleetTurnsPicture(figure, 0);
        QCOMPARE(made.picture.items.size(), size_t(400));
        QCOMPARE(seriesNamed(made.picture, QStringLiteral("drifts now"))->x.size(), size_t(8));
        QVERIFY(keep(made.picture, "fleet_turns"));

        add(200000);
        figure.groups = {group};
        Chart chart;
        chart.resize(1060, 420);
        QElapsedTimer timer;
        timer.start();
        made = fleetTurnsPicture(figure, 0);
        chart.show(made.picture);
        const qint64 took = timer.elapsed();
        qInfo("200,400 counts: %lld ms", static_cast<long long>(took));
        QCOMPARE(made.picture.items.size(), size_t(1200));
        QVERIFY(made.picture.series.size() < 16);
        QVERIFY(keep(made.picture, "fleet_turns_many"));
        QVERIFY(fleetTurnsPicture(figure, 3).picture.isEmpty());
    }

    void riskHasBothItsNumbers()
    {
        std::vector<RiskEntry> entries;
        std::vector<Valve> valves;
        for (int i = 0; i < 40; ++i) {
            Valve valve;
            valve.id = ValveId{uuidFromContent(QByteArray::number(i))};
            valve.number = QString::number(100 + i);
            valves.push_back(valve);
            RiskEntry entry;
            entry.due.valve = valve.id;
            entry.isKnownOut = i % 9 == 0;
            entry.isGuess = i % 5 == 1;
            entry.chanceOut = entry.isKnownOut ? 1.0 : 0.02 * i;
            entry.services = (i * 37) % 60;
            entry.risk = entry.chanceOut * *entry.services;
            entry.words = QStringLiteral("words %1").arg(i);
            entries.push_back(entry);
        }
        const WhatNextPicture made = whatNextPicture(entries, valves, UnitSystem::Us);
        QVERIFY(!made.isByChance);
        QCOMPARE(made.picture.items.size(), size_t(40));
        QCOMPARE(made.picture.items[12].x, entries[12].chanceOut);
        QCOMPARE(made.picture.items[12].y, double(*entries[12].services));
        QVERIFY(made.picture.items[12].words.contains(QStringLiteral("Valve 112")));
        // All along a line the product is the same.
        const ChartSeries *line = seriesNamed(made.picture, QStringLiteral("risk "));
        for (size_t i = 0; i < line->x.size(); ++i) {
            QVERIFY(std::abs(line->x[i] * line->y[i] - line->x[0] * line->y[0]) < 1e-9);
        }
        QVERIFY(keep(made.picture, "what_next"));

        for (RiskEntry &entry : entries) {
            entry.services = 0;
            entry.risk = 0;
        }
        const WhatNextPicture chances = whatNextPicture(entries, valves, UnitSystem::Us);
        QVERIFY(chances.isByChance);
        QCOMPARE(chances.picture.items.size(), size_t(10));
        QVERIFY(keep(chances.picture, "what_next_chances"));
        QVERIFY(whatNextPicture({}, valves, UnitSystem::Us).picture.isEmpty());
    }

    void plansStandSideBySide()
    {
        Outlook figure;
        for (const char *name : {"as now", "intervals a half longer", "intervals a third shorter",
                                 "2 crew-days more a month"}) {
            OutlookResult result;
            result.plan.name = QString::fromLatin1(name);
            const double turn = 0.006 * double(figure.plans.size());
            for (int year = 0; year <= 5; ++year) {
                OutlookYear one;
                one.end = QDate(2026, 3, 16).addYears(year);
                one.out = 0.12 + (0.01 - turn) * year;
                one.spread = {one.out - 0.008 * year, one.out + 0.009 * year};
                result.years.push_back(one);
            }
            figure.plans.push_back(result);
        }
        const ChartPicture picture = outlookPicture(figure);
        QCOMPARE(picture.items.size(), size_t(6));
        const ChartSeries *now = seriesNamed(picture, QStringLiteral("as now"));
        QCOMPARE(now->y[5], figure.plans[0].years[5].out);
        QVERIFY(picture.items[3].words.contains(QStringLiteral("2 crew-days more")));
        QVERIFY(keep(picture, "outlook"));
        QVERIFY(outlookPicture({}).isEmpty());
    }
};

QTEST_MAIN(TestFigurePictures)
#include "test_figure_pictures.moc"
