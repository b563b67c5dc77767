// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/workzone/published_figures.h"

#include <QTest>

#include <rapidcheck.h>

#include <cmath>

using namespace keyround;

// Sources: MUTCD, 11th edition (December 2023), Part 6, tables 6B-1 to 6B-4 and 6K.01, read from a
// public copy that calls itself unverified. California MUTCD 2012, table 6H-4(CA), for
// tapers of 12 ft. A flagger's field card in the files of San Joaquin County for 10 ft.
class PublishedFiguresTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void signSpacing_data();
    void signSpacing();
    void sightDistance_data();
    void sightDistance();
    void sightDistanceBetweenSteps();
    void californiaTapers_data();
    void californiaTapers();
    void fieldCardTapers_data();
    void fieldCardTapers();
    void oneThirdAgainstPrintedShare();
    void speedsBetweenTheTwoRules();
    void refusals();
    void limitedTapers();
    void deviceSpacing();
    void lengthsNeverFall();
    void lengthTexts();
};

void PublishedFiguresTest::signSpacing_data()
{
    QTest::addColumn<int>("setting");
    QTest::addColumn<double>("a");
    QTest::addColumn<double>("b");
    QTest::addColumn<double>("c");
    // MUTCD table 6B-1
    const auto row = [](const char *name, RoadSetting setting, double a, double b, double c) {
        QTest::newRow(name) << static_cast<int>(setting) << a << b << c;
    };
    row("urban low", RoadSetting::UrbanLowSpeed, 100, 100, 100);
    row("urban high", RoadSetting::UrbanHighSpeed, 350, 350, 350);
    row("rural", RoadSetting::Rural, 500, 500, 500);
    row("freeway", RoadSetting::Freeway, 1000, 1500, 2640);
}

void PublishedFiguresTest::signSpacing()
{
    QFETCH(int, setting);
    QFETCH(double, a);
    QFETCH(double, b);
    QFETCH(double, c);
    const SignSpacing spacing = advanceSignSpacing(static_cast<RoadSetting>(setting));
    QCOMPARE(spacing.a.value, a);
    QCOMPARE(spacing.b.value, b);
    QCOMPARE(spacing.c.value, c);
}

void PublishedFiguresTest::sightDistance_data()
{
    QTest::addColumn<double>("mph");
    QTest::addColumn<double>("feet");
    // MUTCD table 6B-2
    const int rows[][2]{{20, 115}, {25, 155}, {30, 200}, {35, 250}, {40, 305}, {45, 360},
                        {50, 425}, {55, 495}, {60, 570}, {65, 645}, {70, 730}, {75, 820}};
    for (const auto &row : rows) {
        QTest::addRow("%d mph", row[0]) << double(row[0]) << double(row[1]);
    }
}

void PublishedFiguresTest::sightDistance()
{
    QFETCH(double, mph);
    QFETCH(double, feet);
    QCOMPARE(stoppingSightDistance(mph)->value, feet);
}

void PublishedFiguresTest::sightDistanceBetweenSteps()
{
    QCOMPARE(stoppingSightDistance(31)->value, 250.0);
    QCOMPARE(stoppingSightDistance(15)->value, 115.0);
    QCOMPARE(stoppingSightDistance(70.5)->value, 820.0);
}

void PublishedFiguresTest::californiaTapers_data()
{
    QTest::addColumn<double>("mph");
    QTest::addColumn<double>("full");
    QTest::addColumn<double>("half");
    QTest::addColumn<double>("third");
    // California MUTCD 2012, table 6H-4(CA), W = 12 ft
    const int rows[][4]{{20, 80, 40, 27},    {25, 125, 63, 42},   {30, 180, 90, 60},
                        {35, 245, 123, 82},  {40, 320, 160, 107}, {45, 540, 270, 180},
                        {50, 600, 300, 200}, {55, 660, 330, 220}, {60, 720, 360, 240},
                        {65, 780, 390, 260}, {70, 840, 420, 280}};
    for (const auto &row : rows) {
        QTest::addRow("%d mph", row[0])
            << double(row[0]) << double(row[1]) << double(row[2]) << double(row[3]);
    }
}

void PublishedFiguresTest::californiaTapers()
{
    QFETCH(double, mph);
    const auto length = taperLength({12}, mph);
    QVERIFY(length);
    QVERIFY(!length->isBetweenRules);
    QTEST(shortestTaper(TaperKind::Merging, length->full).value, "full");
    QTEST(shortestTaper(TaperKind::Shifting, length->full).value, "half");
    QTEST(shortestTaper(TaperKind::Shoulder, length->full).value, "third");
}

void PublishedFiguresTest::fieldCardTapers_data()
{
    QTest::addColumn<double>("mph");
    QTest::addColumn<double>("feet");
    // Flagger's field card, W = 10 ft. It rounds to the nearest foot.
    const int rows[][2]{{30, 150}, {35, 204}, {40, 267}, {45, 450}, {55, 550}};
    for (const auto &row : rows) {
        QTest::addRow("%d mph", row[0]) << double(row[0]) << double(row[1]);
    }
}

void PublishedFiguresTest::fieldCardTapers()
{
    QFETCH(double, mph);
    QFETCH(double, feet);
    QVERIFY(std::abs(taperLength({10}, mph)->full.value - feet) <= 0.5);
}

void PublishedFiguresTest::oneThirdAgainstPrintedShare()
{
    // 12 ft at 40 mph: 0.33 L is 105.6 ft, a third of L 106.67; rounded up both hold with 107.
    const Feet full = taperLength({12}, 40)->full;
    QCOMPARE(full.value, 320.0);
    QVERIFY(std::abs(0.33 * full.value - 105.6) < 1e-9);
    QCOMPARE(shortestTaper(TaperKind::Shoulder, full).value, 107.0);
}

void PublishedFiguresTest::speedsBetweenTheTwoRules()
{
    const auto length = taperLength({12}, 42);
    QVERIFY(length && length->isBetweenRules);
    QCOMPARE(length->full.value, 504.0); // W S, the longer; W S^2 / 60 would be 352.8
    QVERIFY(!taperLength({12}, 40)->isBetweenRules);
    QVERIFY(!taperLength({12}, 45)->isBetweenRules);
}

void PublishedFiguresTest::refusals()
{
    QVERIFY(!taperLength({12}, 76));
    QVERIFY(!taperLength({12}, 0));
    QVERIFY(!taperLength({12}, std::nan("")));
    QVERIFY(!taperLength({0}, 30));
    QVERIFY(!stoppingSightDistance(75.5));
    QVERIFY(taperLength({12}, 76).error().message.contains(QStringLiteral("75 mph")));
}

void PublishedFiguresTest::limitedTapers()
{
    // MUTCD table 6B-3: 50 ft at least, 100 at most
    for (const TaperKind kind : {TaperKind::OneLaneTwoWay, TaperKind::Downstream}) {
        QCOMPARE(shortestTaper(kind, {840}).value, 50.0);
        QCOMPARE(longestTaper(kind).value, 100.0);
    }
    QVERIFY(std::isinf(longestTaper(TaperKind::Merging).value));
}

void PublishedFiguresTest::deviceSpacing()
{
    QCOMPARE(taperSpacing(TaperKind::Merging, 35).value, 35.0);
    QCOMPARE(taperSpacing(TaperKind::OneLaneTwoWay, 35).value, 20.0);
    QCOMPARE(tangentSpacing(35).value, 70.0);
}

void PublishedFiguresTest::lengthsNeverFall()
{
    QVERIFY(rc::check("a wider or faster road never has shorter lengths", [] {
        const double width = *rc::gen::inRange(10, 300) / 10.0;
        const double wider = width + *rc::gen::inRange(0, 100) / 10.0;
        const double mph = *rc::gen::inRange(5, 751) / 10.0;
        const double faster = std::min(75.0, mph + *rc::gen::inRange(0, 400) / 10.0);
        const Feet before = taperLength({width}, mph)->full;
        const Feet after = taperLength({wider}, faster)->full;
        RC_ASSERT(after >= before);
        for (const TaperKind kind : {TaperKind::Merging, TaperKind::Shifting, TaperKind::Shoulder,
                                     TaperKind::OneLaneTwoWay, TaperKind::Downstream}) {
            RC_ASSERT(shortestTaper(kind, after) >= shortestTaper(kind, before));
        }
        RC_ASSERT(*stoppingSightDistance(faster) >= *stoppingSightDistance(mph));
    }));
}

void PublishedFiguresTest::lengthTexts()
{
    QCOMPARE(lengthAtLeastText({106.67}, UnitSystem::Us), QStringLiteral("107 ft"));
    QCOMPARE(lengthAtLeastText({320}, UnitSystem::Us), QStringLiteral("320 ft"));
    QCOMPARE(lengthAtLeastText({100}, UnitSystem::Metric), QStringLiteral("31 m")); // 30.48
    QCOMPARE(lengthAtLeastText(Feet::of({30}), UnitSystem::Metric), QStringLiteral("30 m"));
    QCOMPARE(roundedUp(Feet::of(Feet{107}.metres())).value, 107.0);
}

QTEST_GUILESS_MAIN(PublishedFiguresTest)
#include "test_published_figures.moc"
