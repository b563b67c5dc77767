// SPDX-License-Identifier: GPL-3.0-or-later
// The day worked out: what fits, in which order, at what time, and why the rest is left out.
#include "core/dayplan/plan.h"
#include "tests/core/dayplan/day_fixtures.h"
#include "tests/support/grid_town.h"

#include <QtTest>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <set>

using namespace keyround;
using namespace keyround::tests;

namespace {

/// A town of blocks, and stops thrown onto it.
struct RandomDay
{
    DriveGraph graph;
    Round day;
    std::vector<StopCandidate> candidates;
};

RandomDay randomDay(unsigned seed, std::size_t count, int shiftMinutes, bool streets)
{
    RandomDay made;
    if (streets) {
        const auto rule = JunctionRule::SharedNodes;
        made.graph = DriveGraph::build(tests::gridTown(14, 14, 0.3, 0.1, rule, seed).streets);
    }
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> metres(0.0, 1300.0);
    std::uniform_int_distribution<int> level(0, 4);
    std::uniform_real_distribution<double> minutes(4.0, 45.0);
    const auto anywhere = [&] {
        const double x = metres(random);
        return at(x, metres(random));
    };
    made.day = dayFrom(anywhere(), QTime(7, 0), QTime(7, 0).addSecs(shiftMinutes * 60));
    made.day.finish = anywhere();
    for (unsigned i = 0; i < count; ++i) {
        const GeoPoint place = i % 17 == 16 ? GeoPoint{} : anywhere();
        made.candidates.push_back(candidate(i, place, minutes(random), level(random)));
    }
    return made;
}

/// Everything that must hold of a plan, whatever went in. Says what does not.
QString faultOf(const RandomDay &input, const DayPlan &plan)
{
    std::set<QString> seen;
    for (const PlannedStop &stop : plan.stops) {
        seen.insert(stop.valve.text());
    }
    for (const LeftOut &left : plan.leftOut) {
        if (left.reason.isEmpty()) {
            return QStringLiteral("left out without a reason");
        }
        seen.insert(left.valve.text());
    }
    if (seen.size() != input.candidates.size() ||
        plan.stops.size() + plan.leftOut.size() != input.candidates.size()) {
        return QStringLiteral("a candidate is lost or doubled");
    }
    if (plan.finish > input.day.shift.to || plan.overrunsShift) {
        return QStringLiteral("the shift is broken");
    }
    double clock = 0;
    double metres = 0;
    double driving = 0;
    const auto secondsFrom = [&](const QTime &time) {
        return static_cast<double>(input.day.shift.from.msecsTo(time)) / 1000.0;
    };
    for (const PlannedStop &stop : plan.stops) {
        clock += stop.driveSeconds;
        if (std::abs(secondsFrom(stop.arrive) - clock) > 0.51) {
            return QStringLiteral("arrives at another time than the driving says");
        }
        clock += stop.stopMinutes * 60.0;
        if (std::abs(secondsFrom(stop.leave) - clock) > 0.51) {
            return QStringLiteral("leaves at another time than the work says");
        }
        driving += stop.driveSeconds;
        metres += stop.driveMetres;
    }
    if (std::abs(secondsFrom(plan.finish) - clock - plan.returnSeconds) > 0.51 ||
        std::abs(plan.driveSeconds - driving - plan.returnSeconds) > 1e-6 ||
        std::abs(plan.driveMetres - metres - plan.returnMetres) > 1e-6) {
        return QStringLiteral("the totals are not the sums");
    }
    return {};
}

} // namespace

class PlanTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void words()
    {
        QCOMPARE(wordFor(TravelKind::Streets), QStringLiteral("streets"));
        QCOMPARE(wordFor(TravelKind::Estimate), QStringLiteral("estimate"));
        QCOMPARE(wordFor(RoundState::UnderWay), QStringLiteral("under way"));
    }

    // 10 min + 2 passes of 27 turns at 4 s = 13.6 min; from 16 in on 30 min more.
    void minutesByTurnsAndSize()
    {
        const StopTimes times;
        Valve valve;
        valve.size = NominalSize::ofInches(8);
        Baseline counted{BaselineSource::ConfirmedCycle, QuarterTurns::ofTurns(27),
                         QuarterTurns::ofTurns(27), QDate(2024, 5, 3)};
        QCOMPARE(minutesFor(valve, counted, times), 16.6);
        QCOMPARE(minutesFor(valve, {}, times), 17.0); // 30 turns where none are known
        valve.listedTurns = QuarterTurns::ofTurns(15);
        QCOMPARE(minutesFor(valve, {}, times), 15.0);
        const Baseline rule{
            BaselineSource::RuleOfThumb, QuarterTurns::ofTurns(26), QuarterTurns::ofTurns(27), {}};
        QCOMPARE(minutesFor(valve, rule, times), 16.6); // the longer end of the range
        valve.size = NominalSize::ofInches(16);
        QCOMPARE(minutesFor(valve, counted, times), 61.6);
    }

    // On an empty graph: straight metres times 1.4 at 9 m/s, and it is called an estimate.
    void estimateWithoutStreets()
    {
        const auto plan = planDay({}, dayFrom(at(0, 0), QTime(7, 0), QTime(8, 0)),
                                  {candidate(1, at(900, 0), 10, 1)}, {});
        QVERIFY(plan);
        QCOMPARE(plan->travel, TravelKind::Estimate);
        QCOMPARE(plan->stops.size(), std::size_t{1});
        QVERIFY(std::abs(plan->stops[0].driveMetres - 1260) < 0.01);
        QVERIFY(std::abs(plan->driveSeconds - 280) < 0.01);
        QCOMPARE(plan->stops[0].arrive, QTime(7, 2, 20));
        QCOMPARE(plan->stops[0].leave, QTime(7, 12, 20));
        QCOMPARE(plan->finish, QTime(7, 14, 40));
        QCOMPARE(plan->notes.size(), 1);
    }

    // One street of 2 km at 10 m/s, stops along it, driven out and back: 300 s, and 20 s a U-turn,
    // half of one for each of the four places. 15 min of work, so 20 min 40 s.
    void streetsByHand()
    {
        Street street;
        street.line = {at(0, 0), at(2000, 0)};
        street.metresPerSecond = 10;
        const DriveGraph graph = DriveGraph::build({street});
        const auto plan = planDay(graph, dayFrom(at(0, 5), QTime(7, 0), QTime(9, 0)),
                                  {candidate(3, at(1500, 0), 5, 1), candidate(1, at(500, 9), 5, 1),
                                   candidate(2, at(1000, -9), 5, 1)},
                                  {});
        QVERIFY(plan);
        QCOMPARE(plan->travel, TravelKind::Streets);
        QVERIFY(std::abs(plan->driveMetres - 3000) < 0.1);
        QVERIFY(std::abs(plan->driveSeconds - 340) < 0.01);
        QCOMPARE(plan->finish, QTime(7, 20, 40));
        QVERIFY(plan->leftOut.empty() && plan->notes.isEmpty());
    }

    // Two stops of 30 min fit into 75 min. The far one of high priority goes, and of the near
    // ones the first of the list; the third is left out, with the minutes that are missing.
    void priorityGoesFirst()
    {
        const Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(8, 15));
        const auto plan = planDay({}, day,
                                  {candidate(1, at(10, 0), 30, 1), candidate(2, at(20, 0), 30, 1),
                                   candidate(3, at(1600, 0), 30, 5)},
                                  {});
        QVERIFY(plan);
        const auto ids = idsOf(*plan);
        QCOMPARE((std::set<ValveId>(ids.begin(), ids.end())),
                 (std::set<ValveId>{valveId(1), valveId(3)}));
        QCOMPARE(plan->leftOut.size(), std::size_t{1});
        QCOMPARE(plan->leftOut[0].valve, valveId(2));
        // 90 min of stops and 498 s of driving in a shift of 75 min: 23.3 min are missing.
        QCOMPARE(plan->leftOut[0].reason, QStringLiteral("Does not fit the shift: 24 min are "
                                                         "missing."));
    }

    // A stop too long for what is left does not keep a shorter one of lower priority out.
    void fillsWhatIsLeft()
    {
        const Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(8, 0));
        const auto plan = planDay({}, day,
                                  {candidate(1, at(10, 0), 40, 3), candidate(2, at(20, 0), 40, 2),
                                   candidate(3, at(30, 0), 10, 1)},
                                  {});
        QVERIFY(plan);
        QCOMPARE(plan->stops.size(), std::size_t{2});
        QCOMPARE(plan->leftOut.size(), std::size_t{1});
        QCOMPARE(plan->leftOut[0].valve, valveId(2));
    }

    void noPlaceIsSaid()
    {
        const auto plan =
            planDay({}, dayFrom(at(0, 0), QTime(7, 0), QTime(8, 0)), {candidate(1, {}, 10, 1)}, {});
        QVERIFY(plan);
        QVERIFY(plan->stops.empty());
        QCOMPARE(plan->leftOut.size(), std::size_t{1});
        QVERIFY(plan->leftOut[0].reason.contains(QStringLiteral("no place")));
        QCOMPARE(plan->finish, QTime(7, 0));
    }

    void refusals()
    {
        const auto noStart = planDay({}, dayFrom({}, QTime(7, 0), QTime(8, 0)), {}, {});
        QVERIFY(!noStart);
        QCOMPARE(noStart.error().code, ErrorCode::BadInput);
        QVERIFY(!planDay({}, dayFrom(at(0, 0), QTime(8, 0), QTime(7, 0)), {}, {}));
        QVERIFY(!timeRound({}, dayFrom(at(0, 0), QTime(), QTime(7, 0)), {}, false, {}));
        const auto stopped = planDay({}, dayFrom(at(0, 0), QTime(7, 0), QTime(8, 0)),
                                     {candidate(1, at(10, 0), 10, 1)}, {},
                                     [](double, const QString &) { return false; });
        QVERIFY(!stopped);
        QCOMPARE(stopped.error().code, ErrorCode::Cancelled);
    }

    void placesOffTheStreetsAreNamed()
    {
        Street street;
        street.line = {at(0, 0), at(2000, 0)};
        street.metresPerSecond = 10;
        const DriveGraph graph = DriveGraph::build({street});
        const auto plan =
            planDay(graph, dayFrom(at(0, 0), QTime(7, 0), QTime(9, 0)),
                    {candidate(1, at(1000, 0), 5, 1), candidate(2, at(1000, 700), 5, 1)}, {});
        QVERIFY(plan);
        QCOMPARE(plan->travel, TravelKind::Streets);
        QCOMPARE(plan->stops.size(), std::size_t{2});
        QCOMPARE(plan->notes.size(), 1);
        QVERIFY(plan->notes[0].startsWith(QStringLiteral("Valve V-2 lies more than 500 m")));
        const auto table =
            travelTable(graph, {at(0, 0), at(1000, 0), at(1000, 700)}, TravelSettings());
        QVERIFY(std::abs(table.seconds.at(0, 1) - 110) < 0.01); // driven, and half a U-turn
        QVERIFY(std::abs(table.metres.at(1, 2) - 980) < 0.1);   // estimated: 700 times 1.4
        QCOMPARE(table.offStreet, std::vector<std::size_t>{2});
    }

    void legLines()
    {
        Street street;
        street.line = {at(0, 0), at(500, 0), at(500, 500)};
        const DriveGraph graph = DriveGraph::build({street});
        QCOMPARE(legLine(graph, at(100, 0), at(500, 300), {}).size(), std::size_t{3});
        const GeoLine straight = legLine({}, at(0, 0), at(9, 9), {});
        QCOMPARE(straight, (GeoLine{at(0, 0), at(9, 9)}));
    }

    // Keeps the order that is given, also a bad one; reorders when asked, and is then shorter.
    void timesAGivenRound()
    {
        const Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(8, 0));
        const std::vector<StopCandidate> stops{candidate(1, at(3000, 0), 5, 1),
                                               candidate(2, at(100, 0), 5, 1),
                                               candidate(3, at(2900, 0), 5, 1)};
        const auto kept = timeRound({}, day, stops, false, {});
        QVERIFY(kept);
        QCOMPARE(idsOf(*kept), (std::vector<ValveId>{valveId(1), valveId(2), valveId(3)}));
        QVERIFY(kept->leftOut.empty());
        const auto better = timeRound({}, day, stops, true, {});
        QVERIFY(better);
        QVERIFY(std::abs(better->driveMetres - 6000 * 1.4) < 0.1);
        QVERIFY(better->driveSeconds < kept->driveSeconds);
    }

    void overrunIsSaidNotCut()
    {
        const Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(8, 0));
        std::vector<StopCandidate> stops;
        for (unsigned i = 0; i < 5; ++i) {
            stops.push_back(candidate(i, at(10.0 * i, 0), 30, 1));
        }
        const auto plan = timeRound({}, day, stops, false, {});
        QVERIFY(plan);
        QCOMPARE(plan->stops.size(), std::size_t{5});
        QVERIFY(plan->overrunsShift);
        QVERIFY(plan->finish > QTime(9, 30) && plan->finish < QTime(9, 31));
    }

    void pastMidnightStandsAtTheEndOfTheDay()
    {
        const Round day = dayFrom(at(0, 0), QTime(22, 0), QTime(23, 0));
        const auto plan = timeRound(
            {}, day, {candidate(1, at(10, 0), 90, 1), candidate(2, at(20, 0), 90, 1)}, false, {});
        QVERIFY(plan);
        QVERIFY(plan->overrunsShift);
        QCOMPARE(plan->finish, QTime(23, 59, 59));
        QCOMPARE(plan->stops[1].leave, QTime(23, 59, 59));
        QVERIFY(plan->stops[0].leave < plan->stops[1].leave);
        QVERIFY(plan->notes.join(QLatin1Char(0x20)).contains(QStringLiteral("midnight")));
    }

    // A round that ends elsewhere drives there; without a finish place it comes back.
    void finishElsewhere()
    {
        Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(9, 0));
        day.finish = at(1000, 0);
        const auto there = planDay({}, day, {candidate(1, at(500, 0), 5, 1)}, {});
        QVERIFY(there);
        QVERIFY(std::abs(there->driveMetres - 1400) < 0.1);
        day.finish = {};
        const auto back = planDay({}, day, {candidate(1, at(500, 0), 5, 1)}, {});
        QVERIFY(back);
        QVERIFY(std::abs(back->driveMetres - 1400) < 0.1);
        QVERIFY(std::abs(back->returnMetres - 700) < 0.1);
    }

    void shiftIsNeverBroken()
    {
        const bool held = rc::check("a plan keeps its shift and its sums", [] {
            const auto seed = *rc::gen::inRange(1U, 100000U);
            const auto count = *rc::gen::inRange<std::size_t>(0, 24);
            const auto minutes = *rc::gen::inRange(15, 500);
            const auto streets = *rc::gen::arbitrary<bool>();
            const RandomDay input = randomDay(seed, count, minutes, streets);
            const auto plan = planDay(input.graph, input.day, input.candidates, {});
            RC_ASSERT(plan.has_value());
            const double back = plan->returnSeconds;
            if (plan->stops.empty() && back > minutes * 60.0) {
                return; // the way from start to finish alone is longer than the shift
            }
            RC_ASSERT(faultOf(input, *plan).toStdString() == std::string());
        });
        QVERIFY(held);
    }

    // What is left out of a day with slack could not have been added at the end of the round.
    void nothingThatFitsIsLeftOut()
    {
        for (unsigned seed = 1; seed <= 5; ++seed) {
            const RandomDay input = randomDay(seed, 40, 240, true);
            const auto plan = planDay(input.graph, input.day, input.candidates, {});
            QVERIFY(plan);
            const auto candidateOf = [&](const ValveId &valve) {
                return *std::find_if(input.candidates.begin(), input.candidates.end(),
                                     [&](const StopCandidate &c) { return c.valve == valve; });
            };
            std::vector<StopCandidate> stops;
            for (const ValveId &valve : idsOf(*plan)) {
                stops.push_back(candidateOf(valve));
            }
            for (const LeftOut &left : plan->leftOut) {
                const StopCandidate missing = candidateOf(left.valve);
                for (std::size_t k = 0; missing.place.isValid() && k <= stops.size(); ++k) {
                    std::vector<StopCandidate> more = stops;
                    more.insert(more.begin() + static_cast<std::ptrdiff_t>(k), missing);
                    const auto longer = timeRound(input.graph, input.day, more, false, {});
                    QVERIFY(longer && longer->overrunsShift);
                }
            }
        }
    }

    // More candidates than the first pool takes: the later ones still come in when they fit.
    void longListsAreReadToTheirEnd()
    {
        std::vector<StopCandidate> candidates;
        for (unsigned i = 0; i < 300; ++i) {
            candidates.push_back(candidate(i, at(5.0 * i, 0), 60, 300.0 - i));
        }
        candidates.push_back(candidate(300, at(50, 0), 20, -1));
        const auto plan = planDay({}, dayFrom(at(0, 0), QTime(7, 0), QTime(9, 30)), candidates, {});
        QVERIFY(plan);
        const auto ids = idsOf(*plan);
        QCOMPARE((std::set<ValveId>(ids.begin(), ids.end())),
                 (std::set<ValveId>{valveId(0), valveId(1), valveId(300)}));
        QCOMPARE(plan->leftOut.size(), std::size_t{298});
    }

    void sameInputSamePlan()
    {
        const RandomDay input = randomDay(4, 50, 300, true);
        const auto a = planDay(input.graph, input.day, input.candidates, {});
        const auto b = planDay(input.graph, input.day, input.candidates, {});
        QVERIFY(a && b);
        QCOMPARE(idsOf(*a), idsOf(*b));
    }
};

QTEST_GUILESS_MAIN(PlanTest)
#include "test_plan.moc"
