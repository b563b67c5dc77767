// SPDX-License-Identifier: GPL-3.0-or-later
// Learned times: medians worked by hand, and a known law found again from invented visits among
// which lunch breaks and forgotten finishes lie.
#include "core/dayplan/learned_times.h"
#include "core/dayplan/stop_minutes.h"

#include <QTest>

#include <random>

using namespace keyround;

namespace {

const StopKind smallGate{ValveType::Gate, SizeClass::UpTo8, StreetClass::Residential};
const StopKind smallGateOnArterial{ValveType::Gate, SizeClass::UpTo8, StreetClass::Arterial};
const StopKind largeButterfly{ValveType::Butterfly, SizeClass::From16, StreetClass::Collector};

TimedVisit still(const StopKind &kind, double minutes)
{
    TimedVisit visit;
    visit.kind = kind;
    visit.onSiteMinutes = minutes;
    return visit;
}

TimedVisit drive(StreetClass street, int hour, double streetSeconds, double drove)
{
    TimedVisit visit;
    visit.mostly = street;
    visit.hour = hour;
    visit.streetSeconds = streetSeconds;
    visit.droveSeconds = drove;
    return visit;
}

const LearnedFigure *minutesOf(const LearnedTimes &times, const StopKind &kind)
{
    const auto found = std::ranges::find(times.stops, kind, &LearnedTimes::Minutes::kind);
    return found == times.stops.end() ? nullptr : &found->minutes;
}

const LearnedFigure *factorOf(const LearnedTimes &times, StreetClass street, int hour)
{
    const auto found = std::ranges::find_if(times.driving, [&](const auto &each) {
        return each.street == street && each.hour == hour;
    });
    return found == times.driving.end() ? nullptr : &found->factor;
}

/// minutes = base + turns x seconds / 60, with the noise of a working day (exponential: some stops
/// drag on); one in ten has a lunch break in it, one in twenty was finished hours later.
std::vector<TimedVisit> simulated(std::mt19937 &random, const StopKind &kind, int count,
                                  double base, double secondsPerTurn, double leastTurns,
                                  double mostTurns)
{
    std::uniform_real_distribution<double> share(0, 1);
    std::exponential_distribution<double> drag(1.0 / 1.5);
    std::vector<TimedVisit> visits;
    for (int i = 0; i < count; ++i) {
        TimedVisit visit;
        visit.kind = kind;
        visit.turns = std::floor(leastTurns + share(random) * (mostTurns - leastTurns));
        visit.onSiteMinutes =
            base + visit.turns * secondsPerTurn / 60.0 + drag(random) - 1.5 * std::log(2.0);
        const double what = share(random);
        visit.onSiteMinutes += what < 0.10 ? 40 : what < 0.15 ? 300 * share(random) : 0;
        visits.push_back(visit);
    }
    return visits;
}

} // namespace

class TestLearnedTimes : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void sizeClasses();
    void mediansByHand();
    void fewVisitsTeachNothing();
    void turnsByHand();
    void timedPassesGoBeforeTheSlope();
    void knownLawIsFoundAgain();
    void drivingByClassAndHour();
    void whatAPersonSetStays();
    void coarserKindsStandIn();
    void minutesOfAStop();
};

void TestLearnedTimes::sizeClasses()
{
    QCOMPARE(sizeClassOf(NominalSize{}), SizeClass::Unknown);
    QCOMPARE(sizeClassOf(NominalSize::ofInches(2)), SizeClass::UpTo8);
    QCOMPARE(sizeClassOf(NominalSize{39}), SizeClass::UpTo8); // 9 3/4 in
    QCOMPARE(sizeClassOf(NominalSize::ofInches(10)), SizeClass::From10To14);
    QCOMPARE(sizeClassOf(NominalSize::ofInches(14)), SizeClass::From10To14);
    QCOMPARE(sizeClassOf(NominalSize::ofInches(16)), SizeClass::From16);
    QCOMPARE(wordsFor(smallGate),
             wordFor(ValveType::Gate) + QStringLiteral(", up to 8 in, residential"));
    QCOMPARE(wordsFor(StopKind{}), QStringLiteral("all stops"));
}

// Nine minutes: 8 9 10 11 12 13 14 15 90 -> median 12, quartiles 10 and 14; the lunch break (90)
// moves nothing. Ten: 8 ... 15 90 91 -> median (12 + 13) / 2, quartiles 10 and 15.
void TestLearnedTimes::mediansByHand()
{
    std::vector<TimedVisit> visits;
    for (const double minutes : {14, 8, 90, 12, 10, 15, 9, 13, 11}) {
        visits.push_back(still(smallGate, minutes));
    }
    const LearnedTimes nine = learnTimes(visits, {});
    const LearnedFigure *figure = minutesOf(nine, smallGate);
    QVERIFY(figure != nullptr);
    QCOMPARE(figure->from, 9);
    QCOMPARE(figure->learned.value(), 12.0);
    QCOMPARE(figure->lowerQuartile, 10.0);
    QCOMPARE(figure->upperQuartile, 14.0);

    visits.push_back(still(smallGate, 91));
    const LearnedTimes ten = learnTimes(visits, {});
    QCOMPARE(minutesOf(ten, smallGate)->learned.value(), 12.5);
    QCOMPARE(minutesOf(ten, smallGate)->lowerQuartile, 10.0);
    QCOMPARE(minutesOf(ten, smallGate)->upperQuartile, 15.0);

    // A finish that was forgotten, or one before the arrival, is no observation.
    visits.push_back(still(smallGate, longestBelievedMinutes + 1));
    visits.push_back(still(smallGate, -3));
    QCOMPARE(minutesOf(learnTimes(visits, {}), smallGate)->from, 10);
}

void TestLearnedTimes::fewVisitsTeachNothing()
{
    const LearnedTimes none = learnTimes({}, {});
    QVERIFY(none == LearnedTimes{});
    std::vector<TimedVisit> visits(enoughObservations - 1, still(smallGate, 10));
    const LearnedTimes few = learnTimes(visits, {});
    QVERIFY(!minutesOf(few, smallGate)->learned);
    QCOMPARE(minutesOf(few, smallGate)->from, enoughObservations - 1);
    QVERIFY(figureFor(few, smallGate) == nullptr);
    QVERIFY(!few.secondsPerTurn.learned);
    visits.push_back(still(smallGate, 10));
    QVERIFY(minutesOf(learnTimes(visits, {}), smallGate)->learned);
}

// On the line minutes = 6 + turns / 20 (3 s a turn) but for two that had lunch: most pairs lie on
// it, so the weighted median of the slopes is exactly 3 s.
void TestLearnedTimes::turnsByHand()
{
    std::vector<TimedVisit> visits;
    for (const double turns : {20, 30, 40, 50, 60, 70, 80, 90, 100, 120}) {
        TimedVisit visit = still(smallGate, 6 + turns / 20);
        visit.turns = turns;
        visits.push_back(visit);
    }
    visits[3].onSiteMinutes += 45;
    visits[6].onSiteMinutes += 30;
    const LearnedTimes times = learnTimes(visits, {});
    QVERIFY(qAbs(times.secondsPerTurn.learned.value() - 3.0) < 1e-9);
    QCOMPARE(times.secondsPerTurn.from, 10);
    QVERIFY(qAbs(minutesOf(times, smallGate)->learned.value() - 6.0) < 1e-9);

    // Minutes that fall as the turns grow teach no seconds a turn.
    for (TimedVisit &visit : visits) {
        visit.onSiteMinutes = 20 - visit.turns / 20;
    }
    QVERIFY(!learnTimes(visits, {}).secondsPerTurn.learned);
}

void TestLearnedTimes::timedPassesGoBeforeTheSlope()
{
    std::vector<TimedVisit> visits;
    for (int i = 0; i < 9; ++i) {
        TimedVisit visit = still(smallGate, 12);
        visit.turns = 30;
        visit.turningMinutes = (2 + i) * 30 / 60.0; // 2 to 10 s a turn
        visits.push_back(visit);
    }
    const LearnedTimes times = learnTimes(visits, {});
    QVERIFY(qAbs(times.secondsPerTurn.learned.value() - 6.0) < 1e-9);
    QVERIFY(qAbs(times.secondsPerTurn.lowerQuartile - 4.0) < 1e-9);
    QVERIFY(qAbs(times.secondsPerTurn.upperQuartile - 8.0) < 1e-9);
    // On site 12 min, turning 1 to 5: the middle one leaves 9.
    QVERIFY(qAbs(minutesOf(times, smallGate)->learned.value() - 9.0) < 1e-9);
}

// Three kinds with laws of their own and one speed of turning. The noise is moved so that its
// median is 0; outliers are one in seven, all upward, which shifts a median of n good visits up by
// some tenths of a minute: hence the tolerances.
void TestLearnedTimes::knownLawIsFoundAgain()
{
    std::mt19937 random(7);
    for (const double secondsPerTurn : {2.0, 4.0, 7.5}) {
        std::vector<TimedVisit> visits =
            simulated(random, smallGate, 400, 9, secondsPerTurn, 20, 130);
        for (const auto &[kind, base] :
             {std::pair{smallGateOnArterial, 17.0}, std::pair{largeButterfly, 44.0}}) {
            const auto more = simulated(random, kind, 120, base, secondsPerTurn, 60, 500);
            visits.insert(visits.end(), more.begin(), more.end());
        }
        const LearnedTimes times = learnTimes(visits, {});
        QVERIFY2(qAbs(times.secondsPerTurn.learned.value() / secondsPerTurn - 1) < 0.03,
                 qPrintable(QString::number(*times.secondsPerTurn.learned)));
        QCOMPARE(times.secondsPerTurn.from, 640);
        QVERIFY(times.secondsPerTurn.lowerQuartile <= secondsPerTurn);
        QVERIFY(times.secondsPerTurn.upperQuartile >= secondsPerTurn);
        for (const auto &[kind, base] :
             {std::pair{smallGate, 9.0}, std::pair{smallGateOnArterial, 17.0},
              std::pair{largeButterfly, 44.0}}) {
            const LearnedFigure *figure = minutesOf(times, kind);
            QVERIFY2(qAbs(figure->learned.value() - base) < 1.0,
                     qPrintable(QString::number(*figure->learned)));
            QVERIFY(figure->lowerQuartile < *figure->learned);
            QVERIFY(figure->upperQuartile > *figure->learned);
        }
        // A least-squares line through the same visits is off by far more: the test would notice
        // if the slope were not robust.
        double mean = 0;
        for (const TimedVisit &visit : visits) {
            mean += visit.kind == smallGate
                        ? visit.onSiteMinutes - visit.turns * secondsPerTurn / 60
                        : 0;
        }
        QVERIFY(mean / 400 - 9 > 5);
    }
}

void TestLearnedTimes::drivingByClassAndHour()
{
    std::vector<TimedVisit> visits;
    for (int i = 0; i < 9; ++i) {
        visits.push_back(drive(StreetClass::Arterial, 7, 100, 150 + i));      // 1.50 to 1.58
        visits.push_back(drive(StreetClass::Arterial, 10, 200, 200 + 2 * i)); // 1.00 to 1.08
    }
    visits.push_back(drive(StreetClass::Residential, 10, 100, 120));
    visits.push_back(drive(StreetClass::Residential, 10, 20, 400));   // parking
    visits.push_back(drive(StreetClass::Residential, 10, 100, 9000)); // the next morning's work
    const LearnedTimes times = learnTimes(visits, {});
    QCOMPARE(factorOf(times, StreetClass::Arterial, 7)->learned.value(), 1.54);
    QCOMPARE(factorOf(times, StreetClass::Arterial, 10)->learned.value(), 1.04);
    QCOMPARE(factorOf(times, StreetClass::Arterial, -1)->learned.value(), (1.08 + 1.50) / 2);
    QCOMPARE(factorOf(times, StreetClass::Residential, -1)->from, 1);
    QVERIFY(!factorOf(times, StreetClass::Residential, -1)->learned);
    QCOMPARE(factorOf(times, StreetClass::Unknown, -1)->from, 19);

    QCOMPARE(drivingFigureFor(times, StreetClass::Arterial, 7)->hour, 7);
    QCOMPARE(drivingFigureFor(times, StreetClass::Arterial, 15)->hour, -1);
    const auto *all = drivingFigureFor(times, StreetClass::Residential, 10);
    QCOMPARE(all->street, StreetClass::Unknown);
    const ClassFactors factors = classFactors(times);
    QCOMPARE(factors[static_cast<std::size_t>(StreetClass::Arterial)], 1.29);
    QCOMPARE(factors[static_cast<std::size_t>(StreetClass::Residential)],
             all->factor.learned.value());
    QVERIFY(classFactors({}) == noClassFactors);
}

void TestLearnedTimes::whatAPersonSetStays()
{
    LearnedTimes before;
    before.secondsPerTurn.set = 5;
    before.stops = {{smallGate, {std::nullopt, 0, 0, 0, 11.0}},
                    {largeButterfly, {60.0, 20, 50, 70, 55.0}},
                    {smallGateOnArterial, {18.0, 30, 15, 20, std::nullopt}}};
    before.driving = {{StreetClass::Path, 8, {std::nullopt, 0, 0, 0, 2.0}}};
    std::vector<TimedVisit> visits;
    for (int i = 0; i < 9; ++i) {
        TimedVisit visit = still(smallGate, 20 + i);
        visit.turns = 60; // 5 min at 5 s a turn
        visits.push_back(visit);
    }
    const LearnedTimes times = learnTimes(visits, before);
    QCOMPARE(times.secondsPerTurn.set.value(), 5.0);
    QCOMPARE(minutesOf(times, smallGate)->learned.value(), 19.0);
    QCOMPARE(minutesOf(times, smallGate)->valueOr(1), 11.0);
    const LearnedFigure *large = minutesOf(times, largeButterfly);
    QVERIFY(large->set == 55.0 && !large->learned && large->from == 0);
    QVERIFY(minutesOf(times, smallGateOnArterial) == nullptr); // no visit stands behind it any more
    QCOMPARE(factorOf(times, StreetClass::Path, 8)->set.value(), 2.0);
}

void TestLearnedTimes::coarserKindsStandIn()
{
    std::vector<TimedVisit> visits;
    for (int i = 0; i < 8; ++i) {
        visits.push_back(still(smallGate, 10));
        visits.push_back(still({ValveType::Plug, SizeClass::UpTo8, StreetClass::Unknown}, 30));
        visits.push_back(still({ValveType::Gate, SizeClass::Unknown, StreetClass::Path}, 50));
    }
    const LearnedTimes times = learnTimes(visits, {});
    QVERIFY(figureFor(times, smallGate)->kind == smallGate);
    const StopKind gateAnywhere{ValveType::Gate, SizeClass::UpTo8, StreetClass::Unknown};
    QVERIFY(figureFor(times, smallGateOnArterial)->kind == gateAnywhere);
    const StopKind anySmall{ValveType::Unknown, SizeClass::UpTo8, StreetClass::Unknown};
    const auto *ball = figureFor(times, {ValveType::Ball, SizeClass::UpTo8, StreetClass::Path});
    QVERIFY(ball->kind == anySmall);
    QCOMPARE(ball->minutes.learned.value(), 20.0); // eight of 10 and eight of 30
    QCOMPARE(ball->minutes.from, 16);
    QVERIFY(figureFor(times, largeButterfly) == nullptr); // small ones say nothing of large ones
    const auto *all = figureFor(times, {ValveType::Gate, SizeClass::Unknown, StreetClass::Path});
    QVERIFY(all->kind == StopKind{});
    QCOMPARE(all->minutes.from, 24);
}

void TestLearnedTimes::minutesOfAStop()
{
    Valve valve;
    valve.type = ValveType::Gate;
    valve.size = NominalSize::ofInches(16);
    valve.listedTurns = QuarterTurns::ofTurns(50);
    const StopTimes times; // 13 min, 4 s, 2 passes, 45 more from 16 in
    const StopMinutes usual = minutesFor(valve, {}, StreetClass::Arterial, times, {});
    QCOMPARE(usual.minutes, 13 + 2 * 50 * 4 / 60.0 + 45);
    QVERIFY(!usual.by);
    QCOMPARE(usual.words(), QStringLiteral("default"));

    LearnedTimes learned;
    const StopKind kind{ValveType::Gate, SizeClass::From16, StreetClass::Arterial};
    learned.stops = {{kind, {40.0, 9, 35, 50, std::nullopt}}};
    learned.secondsPerTurn.learned = 3;
    const StopMinutes taught = minutesFor(valve, {}, StreetClass::Arterial, times, learned);
    QCOMPARE(taught.minutes, 40 + 2 * 50 * 3 / 60.0); // nothing more for being large
    QVERIFY(taught.by == kind);
    QVERIFY(taught.words().endsWith(QStringLiteral("from 16 in, arterial: 9 visits")));
    QVERIFY(!minutesFor(valve, {}, StreetClass::Path, times, learned).by);
    learned.stops.front().minutes.set = 20;
    QCOMPARE(minutesFor(valve, {}, StreetClass::Arterial, times, learned).minutes,
             20 + 2 * 50 * 3 / 60.0);
    QVERIFY(minutesFor(valve, {}, StreetClass::Arterial, times, learned).isSet);
}

QTEST_GUILESS_MAIN(TestLearnedTimes)
#include "test_learned_times.moc"
