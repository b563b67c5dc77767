// SPDX-License-Identifier: GPL-3.0-or-later
// The day worked out: what fits, in which order, at what time, and why the rest is left out.
#include "core/dayplan/plan.h"
#include "tests/core/dayplan/day_fixtures.h"

#include <QtTest>

#include <algorithm>
#include <cmath>
#include <set>

using namespace keyround;
using namespace keyround::tests;

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

    // Two stops of 30 min fit into 75 min. The far one of high priority goes, with one of the near
    // ones; the other is left out, with the minutes that would let it in.
    void priorityGoesFirst()
    {
        const Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(8, 15));
        const auto plan = planDay({}, day,
                                  {candidate(1, at(10, 0), 30, 1), candidate(2, at(20, 0), 30, 1),
                                   candidate(3, at(1600, 0), 30, 5)},
                                  {});
        QVERIFY(plan);
        const auto ids = idsOf(*plan);
        QCOMPARE(ids.size(), std::size_t{2});
        QVERIFY(std::count(ids.begin(), ids.end(), valveId(3)) == 1);
        QCOMPARE(plan->priority, 6.0);
        QCOMPARE(plan->leftOut.size(), std::size_t{1});
        // 90 min of stops and 498 s of driving in a shift of 75 min: 23.3 min are missing.
        QCOMPARE(plan->leftOut[0].reason, QStringLiteral("Does not fit the shift: 24 minutes more "
                                                         "would let it in."));
    }

    // Three stops of priority 2 that fit together are worth more than the one of 5 that fills the
    // day alone; of two days of equal priority the one with more valves is better.
    void theSumCounts()
    {
        const Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(8, 0));
        const auto plan = planDay({}, day,
                                  {candidate(1, at(10, 0), 58, 5), candidate(2, at(20, 0), 18, 2),
                                   candidate(3, at(30, 0), 18, 2), candidate(4, at(40, 0), 18, 2)},
                                  {});
        QVERIFY(plan);
        QCOMPARE(plan->stops.size(), std::size_t{3});
        QVERIFY(!reasonOf(*plan, valveId(1)).isEmpty());
        const auto more = planDay({}, day,
                                  {candidate(1, at(10, 0), 58, 4), candidate(2, at(20, 0), 28, 2),
                                   candidate(3, at(30, 0), 28, 2)},
                                  {});
        QVERIFY(more);
        QCOMPARE(more->stops.size(), std::size_t{2});
    }

    // Stops of no priority are taken where there is time.
    void whatEarnsNothingIsStillDone()
    {
        const auto plan =
            planDay({}, dayFrom(at(0, 0), QTime(7, 0), QTime(8, 0)),
                    {candidate(1, at(10, 0), 20, 0), candidate(2, at(20, 0), 20, -2)}, {});
        QVERIFY(plan);
        QCOMPARE(plan->stops.size(), std::size_t{2});
        QCOMPARE(plan->priority, 0.0);
    }

    // It goes before one of ten times its priority, and where it does not fit it is planned all the
    // same, and said.
    void mustGoIsNeverGivenUp()
    {
        Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(8, 0));
        const std::vector<StopCandidate> candidates{candidate(1, at(10, 0), 50, 0.1),
                                                    candidate(2, at(20, 0), 50, 1)};
        day.mustGo = {valveId(1)};
        const auto plan = planDay({}, day, candidates, {});
        QVERIFY(plan);
        QCOMPARE(idsOf(*plan), std::vector<ValveId>{valveId(1)});
        QVERIFY(!plan->overrunsShift);
        day.mustGo = {valveId(1), valveId(2)};
        const auto both = planDay({}, day, candidates, {});
        QVERIFY(both);
        QCOMPARE(both->stops.size(), std::size_t{2});
        QVERIFY(both->overrunsShift);
        QCOMPARE(both->notes.filter(QStringLiteral("does not fit the shift")).size(), 1);
    }

    // What bars a valve is said in words that say what would let it in; planned by hand it goes
    // all the same, and the plan says so.
    void barsAreSaid()
    {
        Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(15, 0));
        auto held = candidate(1, at(10, 0), 10, 1);
        held.heldBy = QStringLiteral("Notice not given.");
        auto unskilled = candidate(2, at(20, 0), 10, 1);
        unskilled.lacking = {QStringLiteral("geared gate")};
        auto later = candidate(3, at(30, 0), 10, 1);
        later.notBefore = monday.addDays(2);
        auto busy = candidate(4, at(40, 0), 10, 1);
        busy.hours = closedBetween(QTime(6, 0), QTime(18, 0));
        const std::vector<StopCandidate> candidates{held, unskilled, later, busy};
        const auto plan = planDay({}, day, candidates, {});
        QVERIFY(plan);
        QVERIFY(plan->stops.empty());
        QCOMPARE(reasonOf(*plan, valveId(1)), QStringLiteral("Notice not given."));
        QCOMPARE(reasonOf(*plan, valveId(2)), QStringLiteral("Needs a crew with: geared gate."));
        QCOMPARE(reasonOf(*plan, valveId(3)),
                 QStringLiteral("Not before 2026-05-06: a day from then on would let it in."));
        QCOMPARE(reasonOf(*plan, valveId(4)),
                 QStringLiteral("Busy hours (06:00-18:00 on Main Street, every day) leave no time "
                                "within the shift for its 10 minutes of work. Another day, another "
                                "shift or a change of the hours would let it in."));
        for (unsigned i = 1; i <= 4; ++i) {
            day.mustGo.insert(valveId(i));
        }
        const auto all = planDay({}, day, candidates, {});
        QVERIFY(all);
        QCOMPARE(all->stops.size(), std::size_t{4});
        QCOMPARE(all->notes.filter(QStringLiteral("planned by hand all the same")).size(), 3);
    }

    // 08:00 to 09:00 only, and a must-go stop next door takes until 10:00: it would fit, but not
    // in its hours.
    void hoursThatTheDayCannotOfferAreSaid()
    {
        Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(16, 0));
        auto first = candidate(1, at(10, 0), 180, 1);
        first.mustGo = true;
        first.hours = closedBetween(QTime(10, 15), QTime(20, 0));
        auto second = candidate(2, at(20, 0), 30, 1);
        BusyHours until;
        until.street = QStringLiteral("Main Street");
        until.from = QTime(0, 0);
        until.to = QTime(8, 0);
        BusyHours from = until;
        from.from = QTime(9, 0);
        from.to = QTime(18, 0);
        second.hours = workHours({until, from}, until.street, StreetClass::Unknown, monday);
        const auto plan = planDay({}, day, {first, second}, {});
        QVERIFY(plan);
        QCOMPARE(idsOf(*plan), std::vector<ValveId>{valveId(1)});
        const QString reason = reasonOf(*plan, valveId(2));
        QVERIFY2(reason.startsWith(QStringLiteral("Busy hours (00:00-08:00 on Main Street, every "
                                                  "day; 09:00-18:00 on Main Street, every day) "
                                                  "leave no time for it on this day: the crew "
                                                  "could begin work there at ")),
                 qPrintable(reason));
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
        // Three stops are ordered exactly: the bound is the order itself, for both.
        QVERIFY(std::abs(better->leastDriveSeconds - better->driveSeconds) < 1e-3);
        QVERIFY(std::abs(kept->leastDriveSeconds - better->driveSeconds) < 1e-3);
    }

    // Held and pinned by hand: stop 1 to 2, stop 3 first, stop 4 last, against all distances. The
    // bound is over the orders that keep them.
    void holdsWhatWasHeldByHand()
    {
        Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(12, 0));
        std::vector<StopCandidate> stops{
            candidate(3, at(3000, 0), 5, 1), candidate(1, at(2000, 0), 5, 1),
            candidate(2, at(100, 0), 5, 1), candidate(5, at(1900, 0), 5, 1),
            candidate(4, at(1000, 0), 5, 1)};
        for (const StopCandidate &stop : stops) {
            day.stops.push_back(stop.valve);
        }
        day.heldToNext = {valveId(1)};
        day.firstIsPinned = true;
        day.lastIsPinned = true;
        const std::vector<ValveId> wanted{valveId(3), valveId(5), valveId(1), valveId(2),
                                          valveId(4)};
        const auto timed = timeRound({}, day, stops, true, {});
        QVERIFY(timed);
        QCOMPARE(idsOf(*timed), wanted);
        QVERIFY(std::abs(timed->leastDriveSeconds - timed->driveSeconds) < 1e-3);
        const auto planned = planDay({}, day, stops, {});
        QVERIFY(planned);
        QCOMPARE(idsOf(*planned), wanted);
        // With hours the other search has to hold them too.
        stops[3].hours = closedBetween(QTime(6, 0), QTime(8, 0));
        const auto late = timeRound({}, day, stops, true, {});
        QVERIFY(late);
        QCOMPARE(idsOf(*late).front(), valveId(3));
        QCOMPARE(idsOf(*late).back(), valveId(4));
        const auto ids = idsOf(*late);
        const auto one = std::find(ids.begin(), ids.end(), valveId(1));
        QCOMPARE(*(one + 1), valveId(2));
        QCOMPARE(late->stops.size(), std::size_t{5});
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
};

QTEST_GUILESS_MAIN(PlanTest)
#include "test_plan.moc"
