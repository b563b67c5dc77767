// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/survival.h"

#include <QTest>

#include <algorithm>
#include <cmath>
#include <random>

using namespace keyround;

namespace {

bool near(double value, double published, double within)
{
    return std::abs(value - published) <= within;
}

double massOn(const HoldingCurve &curve, double from, double to)
{
    for (const CurveStep &step : curve.steps) {
        if (step.from == from && step.to == to) {
            return step.mass;
        }
    }
    return 0;
}

} // namespace

class SurvivalTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void exactTimes();
    void turnbullByHand();
    void turnbullWhereMaximisingCrawls();
    void turnbullPublished();
    void optimalOnRandomIntervals();
    void likelierThanNeighbours();
    void exactIntervalsGiveKaplanMeier();
    void readings();
    void nothingKnown();
};

void SurvivalTest::exactTimes()
{
    // The aml data of R's package survival (Miller, Survival Analysis, 1981), maintained arm:
    // estimate, standard error and log-log limits by R's survfit.
    const std::vector<ExactStep> steps = kaplanMeier({{161, false},
                                                      {9, true},
                                                      {13, true},
                                                      {13, false},
                                                      {18, true},
                                                      {23, true},
                                                      {28, false},
                                                      {31, true},
                                                      {34, true},
                                                      {45, false},
                                                      {48, true}});
    const double published[][6]{
        {9, 11, 0.909090909090909, 0.0866784172041448, 0.50808020576993, 0.986673822667823},
        {13, 10, 0.818181818181818, 0.116291299830333, 0.447428614682181, 0.951162228582492},
        {18, 8, 0.715909090909091, 0.139664970557228, 0.350190385907938, 0.899023974191053},
        {23, 7, 0.613636363636364, 0.152632331027312, 0.265752040001286, 0.835299243250221},
        {31, 5, 0.490909090909091, 0.164193267221136, 0.167330909776851, 0.753399790370811},
        {34, 4, 0.368181818181818, 0.162668885827095, 0.0928295749369852, 0.657040832398164},
        {48, 2, 0.184090909090909, 0.153492745786294, 0.0117384801231896, 0.525014842726641}};
    QCOMPARE(steps.size(), std::size(published));
    for (std::size_t i = 0; i < steps.size(); ++i) {
        QCOMPARE(steps[i].time, published[i][0]);
        QCOMPARE(steps[i].atRisk, static_cast<int>(published[i][1]));
        QVERIFY(near(steps[i].holds, published[i][2], 1e-12));
        QVERIFY(near(steps[i].standardError, published[i][3], 1e-12));
        QVERIFY(near(steps[i].limits->from, published[i][4], 1e-9));
        QVERIFY(near(steps[i].limits->to, published[i][5], 1e-9));
    }
    const std::vector<ExactStep> all = kaplanMeier({{1, true}, {2, true}});
    QCOMPARE(all.back().holds, 0.0);
    QVERIFY(!all.back().limits);
}

void SurvivalTest::turnbullByHand()
{
    const auto first = turnbullCurve({{0, 1}, {1, 3}, {1, neverSeen}, {2, 4}, {3, neverSeen}});
    QVERIFY(first && first->isOptimal);
    QVERIFY(near(massOn(*first, 0, 1), 0.2, 1e-5));
    QVERIFY(near(massOn(*first, 2, 3), 0.4, 1e-5));
    QVERIFY(near(massOn(*first, 3, 4), 0.4, 1e-5));
    const auto second = turnbullCurve({{0, 5}, {5, 10, 2}, {10, 15}, {10, neverSeen, 2}});
    QVERIFY(second && second->isOptimal);
    QVERIFY(near(massOn(*second, 0, 5), 1.0 / 6, 1e-5));
    QVERIFY(near(massOn(*second, 5, 10), 1.0 / 3, 1e-5));
    QVERIFY(near(massOn(*second, 10, 15), 1.0 / 2, 1e-5));
}

void SurvivalTest::turnbullWhereMaximisingCrawls()
{
    const auto curve = turnbullCurve({{0, 2}, {0, 4}, {2, 6}, {4, neverSeen}});
    QVERIFY(curve && curve->isOptimal);
    QCOMPARE(curve->steps.size(), std::size_t{2});
    QVERIFY(near(massOn(*curve, 0, 2), 0.5, 1e-4));
    QVERIFY(near(massOn(*curve, 4, 6), 0.5, 1e-4));
}

void SurvivalTest::turnbullPublished()
{
    // Breast cosmesis, radiotherapy arm, n = 46: Finkelstein and Wolfe, Biometrics 41 (1985).
    const double inf = neverSeen;
    const std::vector<FailureInterval> times{
        {45, inf}, {6, 10},   {0, 7},    {46, inf}, {46, inf}, {7, 16},   {17, inf}, {7, 14},
        {37, 44},  {0, 8},    {4, 11},   {15, inf}, {11, 15},  {22, inf}, {46, inf}, {46, inf},
        {25, 37},  {46, inf}, {26, 40},  {46, inf}, {27, 34},  {36, 44},  {46, inf}, {36, 48},
        {37, inf}, {40, inf}, {17, 25},  {46, inf}, {11, 18},  {38, inf}, {5, 12},   {37, inf},
        {0, 5},    {18, inf}, {24, inf}, {36, inf}, {5, 11},   {19, 35},  {17, 25},  {24, inf},
        {32, inf}, {33, inf}, {19, 26},  {37, inf}, {34, inf}, {36, inf}};
    const auto curve = turnbullCurve(times);
    QVERIFY(curve && curve->isOptimal);
    QVERIFY2(near(curve->logLikelihood, -58.0600, 5e-5),
             qPrintable(QString::number(curve->logLikelihood, 'f', 6)));
    const double published[][3]{{4, 5, 0.0463467739928941},   {6, 7, 0.0333633709346422},
                                {7, 8, 0.0886673680627082},   {11, 12, 0.0707529217923642},
                                {24, 25, 0.0926458365850112}, {33, 34, 0.0817857649025673},
                                {38, 40, 0.120879827352315},  {46, 48, 0.465558136375893}};
    for (const auto &step : published) {
        QVERIFY2(near(massOn(*curve, step[0], step[1]), step[2], 5e-5),
                 qPrintable(QStringLiteral("(%1, %2]").arg(step[0]).arg(step[1])));
    }
}

void SurvivalTest::optimalOnRandomIntervals()
{
    // The optimality condition needs no reference: it proves each estimate by itself.
    std::mt19937 random(20);
    double worst = 0;
    for (int set = 0; set < 1000; ++set) {
        std::vector<FailureInterval> times;
        const int count = 2 + static_cast<int>(random() % 60);
        for (int i = 0; i < count; ++i) {
            const double after = static_cast<double>(random() % 30);
            const bool isOpen = random() % 3 == 0;
            times.push_back(
                {after, isOpen ? neverSeen : after + static_cast<double>(1 + random() % 12)});
        }
        const auto curve = turnbullCurve(times);
        QVERIFY(curve);
        worst = std::max(worst, curve->optimalityGap);
        QVERIFY2(curve->isOptimal, qPrintable(QString::number(curve->optimalityGap)));
        double mass = 0;
        for (const CurveStep &step : curve->steps) {
            mass += step.mass;
        }
        QVERIFY(near(mass, 1, 1e-6));
    }
    qInfo("largest gap of the optimality condition in 1,000 sets: %g", worst);
}

void SurvivalTest::likelierThanNeighbours()
{
    // The reported log-likelihood, worked out again from the steps, is beaten by no random shift.
    std::mt19937 random(7);
    std::uniform_real_distribution<double> share(0.0, 0.2);
    std::vector<FailureInterval> times;
    for (int i = 0; i < 40; ++i) {
        const double after = static_cast<double>(random() % 20);
        times.push_back({after, after + static_cast<double>(1 + random() % 9)});
    }
    const HoldingCurve curve = *turnbullCurve(times);
    const auto logOf = [&](const std::vector<CurveStep> &steps) {
        double sum = 0;
        for (const FailureInterval &time : times) {
            double mass = 0;
            for (const CurveStep &step : steps) {
                mass += step.from >= time.after && step.to <= time.by ? step.mass : 0;
            }
            sum += std::log(mass);
        }
        return sum;
    };
    QVERIFY(near(logOf(curve.steps), curve.logLikelihood, 1e-6));
    for (int i = 0; i < 500; ++i) {
        std::vector<CurveStep> steps = curve.steps;
        CurveStep &from = steps[random() % steps.size()];
        CurveStep &to = steps[random() % steps.size()];
        const double moved = from.mass * share(random);
        from.mass -= moved;
        to.mass += moved;
        QVERIFY(logOf(steps) <= curve.logLikelihood + 1e-9);
    }
}

void SurvivalTest::exactIntervalsGiveKaplanMeier()
{
    // Where each failure lies in an interval of its own, both estimators agree.
    const auto curve = turnbullCurve({{2, 3}, {4, 5, 2}, {5, neverSeen}, {6, 7}, {8, neverSeen}});
    const auto exact =
        kaplanMeier({{3, true}, {5, true}, {5, true}, {5, false}, {7, true}, {8, false}});
    QVERIFY(curve);
    for (const ExactStep &step : exact) {
        QVERIFY(near(curve->holdsAt(step.time).from, step.holds, 1e-5));
    }
}

void SurvivalTest::readings()
{
    const HoldingCurve curve = *turnbullCurve({{0, 5}, {5, 10, 2}, {10, 15}, {10, neverSeen, 2}});
    QVERIFY(near(curve.holdsAt(5).from, 5.0 / 6, 1e-5));
    QVERIFY(near(curve.holdsAt(7).from, 0.5, 1e-5)); // inside a box: between both ends
    QVERIFY(near(curve.holdsAt(7).to, 5.0 / 6, 1e-5));
    QCOMPARE(curve.timeOf(0.6).from, 5.0);
    QCOMPARE(curve.timeOf(0.6).to, 10.0);
    QCOMPARE(atRisk({{0, 5}, {5, 10, 2}, {10, neverSeen}}, 5), 3);
}

void SurvivalTest::nothingKnown()
{
    QVERIFY(!turnbullCurve({}));
    QVERIFY(!turnbullCurve({{5, 5}}));
    const auto never = turnbullCurve({{3, neverSeen}, {4, neverSeen}});
    QVERIFY(never);
    QCOMPARE(never->holdsAt(4).to, 1.0);
    QVERIFY(std::isinf(never->timeOf(0.5).to));
    QVERIFY(kaplanMeier({}).empty());
}

QTEST_APPLESS_MAIN(SurvivalTest)
#include "test_survival.moc"
