// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/share.h"

#include <QTest>

#include <cmath>

using namespace keyround;

class ShareTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void wilson_data();
    void wilson();
    void sharesByYear();
    void nothingLookedAt();
};

void ShareTest::wilson_data()
{
    QTest::addColumn<int>("hits");
    QTest::addColumn<int>("of");
    QTest::addColumn<double>("from");
    QTest::addColumn<double>("to");
    // Newcombe, Statistics in Medicine 17 (1998), table I gives four of these to four digits
    // (81/263, 15/148, 0/20, 1/29); all digits by R's prop.test without correction.
    const auto row = [](int hits, int of, double from, double to) {
        QTest::addRow("%d of %d", hits, of) << hits << of << from << to;
    };
    row(81, 263, 0.255288519878274, 0.3662095769828);
    row(15, 148, 0.0623863995307363, 0.160487241723308);
    row(0, 20, 0, 0.161125158052819);
    row(1, 29, 0.00611321429276266, 0.171755218793203);
    row(20, 20, 0.838874841947181, 1);
    row(5, 10, 0.236593090512564, 0.763406909487436);
    row(412, 447, 0.89305040430847, 0.943163729560568);
    row(33, 36, 0.781733087507274, 0.971251388664007);
}

void ShareTest::wilson()
{
    QFETCH(int, hits);
    QFETCH(int, of);
    QFETCH(double, from);
    QFETCH(double, to);
    const Interval interval = wilsonInterval(hits, of);
    QVERIFY(std::abs(interval.from - from) < 1e-12);
    QVERIFY(std::abs(interval.to - to) < 1e-12);
}

void ShareTest::sharesByYear()
{
    // A p-chart of varying n worked out in R (an invented series): limits p +- 3 sqrt(p(1-p)/n),
    // p = 781/847 pooled.
    const std::vector<ShareSample> samples{{109, 118}, {120, 131}, {90, 97}, {135, 143},
                                           {129, 140}, {146, 152}, {52, 66}};
    const double limits[][2]{{0.848050210291838, 0.996105633864006},
                             {0.851819291397341, 0.992336552758503},
                             {0.840429186805146, 1},
                             {0.854831789828969, 0.989324054326875},
                             {0.85411511453641, 0.990040729619434},
                             {0.856853005077639, 0.987302839078205},
                             {0.82309429554322, 1}};
    const ShareChart chart = shareChart(samples);
    for (std::size_t i = 0; i < samples.size(); ++i) {
        QVERIFY(std::abs(chart.points[i].limits.from - limits[i][0]) < 1e-12);
        QVERIFY(std::abs(chart.points[i].limits.to - limits[i][1]) < 1e-12);
        QCOMPARE(chart.points[i].standsOut, i == 6); // 0.788 is below 0.823
    }
}

void ShareTest::nothingLookedAt()
{
    const ShareChart chart = shareChart({{0, 0}, {3, 4}});
    QVERIFY(chart.points[0].isEmpty);
    QVERIFY(!chart.points[0].standsOut);
    QCOMPARE(chart.centre, 0.75);
    QVERIFY(shareChart({{0, 0}}).points[0].isEmpty);
}

QTEST_APPLESS_MAIN(ShareTest)
#include "test_share.moc"
