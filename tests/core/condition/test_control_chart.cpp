// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/control_chart.h"

#include <QTest>

#include <cmath>

using namespace keyround;

namespace {

bool near(double value, double published, double within)
{
    return std::abs(value - published) <= within;
}

} // namespace

class ControlChartTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void individuals();
    void rangesAreNotTakenAcrossSeries();
    void robust();
    void ewma();
    void runRules_data();
    void runRules();
};

void ControlChartTest::individuals()
{
    // NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2
    const std::vector<double> values{49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1};
    const auto chart = individualsChart(values);
    QVERIFY(chart);
    QVERIFY(near(chart->centre, 50.81, 1e-9));
    QVERIFY(near(chart->meanRange, 1.8778, 5e-5));
    QVERIFY(near(chart->lower, 45.8159, 5e-4)); // the book rounds the mean range first
    QVERIFY(near(chart->upper, 55.8041, 5e-4));
    QVERIFY(near(chart->rangeLimit, 6.1347, 5e-4));
    QVERIFY(!individualsChart(std::vector<double>{50.0}));
}

void ControlChartTest::rangesAreNotTakenAcrossSeries()
{
    // By hand: ranges 1 and 3, mean 2; centre (0 + 1 + 10 + 13) / 4 = 6.
    const auto chart = pooledChart({{0, 1}, {10, 13}, {}});
    QVERIFY(chart);
    QCOMPARE(chart->meanRange, 2.0);
    QCOMPARE(chart->centre, 6.0);
    QVERIFY(!pooledChart({{1}, {2}, {3}}));
}

void ControlChartTest::robust()
{
    // By hand: ranges 1, 1, 249 and 1, median 1; values 0, 0, 0, 0, 1, 1, 1, 250, median 1/2.
    const std::vector<std::vector<double>> series{{0, 1, 0}, {1, 250}, {1, 0}, {0}};
    const auto chart = robustChart(series, 0, 0.25);
    QVERIFY(chart);
    QCOMPARE(chart->medianRange, 1.0);
    QVERIFY(near(chart->centre, 0.5, 1e-12));
    QVERIFY(near(chart->sigma, 1 / 0.954, 1e-12));
    QVERIFY(near(chart->upper, 0.5 + 3.145, 5e-4)); // 3 / 0.954, as printed by Wheeler
    QVERIFY(near(movingRangeD4Median, std::sqrt(2.0) * 0.67449, 2e-4));
    QVERIFY(!robustChart({{1}, {2}}, 0, 0.25));
    QCOMPARE(robustChart({{3, 3, 3}}, 0, 0.25)->sigma, 0.25);
    // Grouped: of ranges 0, 0, 1/4, 1/4, 1/4 half lie below 1/8 + (2.5 - 2) / 3 of a quarter.
    const auto grouped = robustChart({{0, 0, 0, 0.25, 0, 0.25}}, 0.25, 0.01);
    QVERIFY(near(grouped->medianRange, 0.125 + 0.25 / 6, 1e-12));
}

void ControlChartTest::ewma()
{
    // NIST/SEMATECH e-Handbook, 6.3.2.4: target 50, s = 2.0539, lambda 0.3. The limits
    // as printed (it rounds the root to 0.4201); the twenty values and averages from memory of it.
    const std::vector<double> values{52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5,
                                     49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1};
    const std::vector<double> published{50.00, 50.60, 49.52, 50.56, 50.18, 50.16, 49.21,
                                        49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52,
                                        50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99};
    const EwmaChart chart = ewmaChart(values, 50, 2.0539, 0.3);
    QVERIFY(near(chart.lower, 47.4115, 2e-4));
    QVERIFY(near(chart.upper, 52.5884, 2e-4));
    for (std::size_t i = 0; i < values.size(); ++i) {
        QVERIFY(near(chart.averages[i], published[i + 1], 0.0051));
    }
}

void ControlChartTest::runRules_data()
{
    QTest::addColumn<QList<double>>("z");
    QTest::addColumn<int>("rule");
    QTest::addColumn<int>("at");
    // Nelson, Journal of Quality Technology 16(4), 1984, in the strict reading that the header
    // gives; each rule with a near miss.
    const QList<double> eight{-0.1, 0.4, 0.2, 0.9, 0.3, 0.6, 0.1, 0.5, 0.8};
    QList<double> turns;
    for (int i = 0; i < 13; ++i) {
        turns << (i % 2 == 0 ? 0.3 : -0.3);
    }
    QTest::newRow("1") << QList<double>{0.2, -0.5, 3.01, -0.3, 0.1} << 1 << 2;
    QTest::newRow("1, just 3") << QList<double>{0.2, -0.5, 3.0, -0.3, 0.1} << 0 << 0;
    QTest::newRow("2") << (QList<double>(eight) << 0.2) << 2 << 9;
    QTest::newRow("2, eight only") << (QList<double>(eight) << -0.2) << 0 << 0;
    QTest::newRow("2, centre ends a run")
        << QList<double>{0.4, 0.2, 0.9, 0.3, 0.0, 0.1, 0.5, 0.8, 0.2, 0.3} << 0 << 0;
    QTest::newRow("3") << QList<double>{0.5, -1.2, -0.8, -0.3, 0.1, 0.6, 1.1} << 3 << 6;
    QTest::newRow("3, five only") << QList<double>{0.5, -0.8, -0.3, 0.1, 0.6, 0.2} << 0 << 0;
    QTest::newRow("3, a tie") << QList<double>{-1.2, -0.8, -0.3, -0.3, 0.6, 0.9} << 0 << 0;
    QTest::newRow("4") << (QList<double>(turns) << -0.3) << 4 << 13;
    QTest::newRow("4, thirteen only") << turns << 0 << 0;
    QTest::newRow("5") << QList<double>{0.1, 2.1, 0.3, 2.2, 0.0} << 5 << 3;
    QTest::newRow("5, two sides") << QList<double>{0.1, 2.1, 0.3, -2.2, 0.0} << 0 << 0;
    QTest::newRow("6") << QList<double>{0.2, 1.1, 1.2, 0.3, 1.4, 1.3, -0.2} << 6 << 5;
    QTest::newRow("7") << QList<double>{0.5,  -0.4, 0.3,  -0.9, 0.8, 0.1,  -0.2, 0.6,
                                        -0.7, 0.4,  -0.5, 0.2,  0.9, -0.1, 0.3}
                       << 7 << 14;
    QTest::newRow("8") << QList<double>{1.2, -1.4, 1.1, -1.6, 1.3, 1.5, -1.2, -1.8} << 8 << 7;
}

void ControlChartTest::runRules()
{
    QFETCH(QList<double>, z);
    QFETCH(int, rule);
    QFETCH(int, at);
    const std::vector<RuleHit> hits = nelsonHits(std::vector<double>(z.begin(), z.end()));
    if (rule == 0) {
        QVERIFY(hits.empty());
        return;
    }
    QCOMPARE(hits.size(), std::size_t{1});
    QCOMPARE(hits[0].rule, rule);
    QCOMPARE(hits[0].at, static_cast<std::size_t>(at));
}

QTEST_APPLESS_MAIN(ControlChartTest)
#include "test_control_chart.moc"
