// SPDX-License-Identifier: GPL-3.0-or-later
// An invented straight street of 25 mph along the equator on open ocean: 1,000 m between valves
// are 1,000 / 11.176 = 89.5 s.
#include "core/dayplan/timed_visits.h"

#include <QTest>

using namespace keyround;

namespace {

constexpr double degreesInKilometre = 1000.0 / 111319.49; // along the equator, WGS 84
constexpr std::int64_t morning = 1750003200000;           // 2025-06-15T16:00:00Z

GeoPoint at(double kilometres)
{
    return {0.00001, -150 + kilometres * degreesInKilometre};
}

struct Bench
{
    std::vector<Street> streets;
    std::vector<Valve> valves;
    std::vector<Round> rounds;
    std::vector<Visit> visits;
    DriveGraph graph;

    Bench()
    {
        Street street;
        street.key = QStringLiteral("1");
        street.kind = StreetClass::Residential;
        street.line = {{0, -150.01}, {0, -149.9}};
        streets = {street};
        graph = DriveGraph::build(streets);
        for (int i = 0; i < 3; ++i) {
            Valve valve;
            valve.id = ValveId{newUuid7(morning)};
            valve.place = at(i);
            valve.type = ValveType::Gate;
            valve.size = NominalSize::ofInches(8);
            valves.push_back(valve);
        }
        Round round;
        round.id = RoundId{newUuid7(morning)};
        round.state = RoundState::Finished;
        rounds = {round};
    }

    Visit &visit(std::size_t valve, double arrivedMinute, double finishedMinute)
    {
        Visit made;
        made.id = VisitId{newUuid7(morning)};
        made.valve = valves[valve].id;
        made.round = rounds.front().id;
        made.arrived = {morning + static_cast<std::int64_t>(arrivedMinute * 60000), -5 * 3600};
        made.finished = {morning + static_cast<std::int64_t>(finishedMinute * 60000), -5 * 3600};
        made.passes = {{PassDirection::Closing, QuarterTurns::ofTurns(24)},
                       {PassDirection::Opening, QuarterTurns{98}}};
        made.stamp = {static_cast<std::uint64_t>(visits.size() + 1)};
        visits.push_back(made);
        return visits.back();
    }

    [[nodiscard]] std::vector<TimedVisit> timed() const
    {
        return timedVisitsOf(rounds, visits, valves, streets, graph, {});
    }
};

} // namespace

class TestTimedVisits : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void minutesTurnsAndDrive();
    void onlyFinishedRoundsCount();
    void correctionsStandInForTheirParents();
};

void TestTimedVisits::minutesTurnsAndDrive()
{
    Bench bench;
    bench.visit(2, 20, 35); // recorded out of order
    bench.visit(0, 0, 12.5);
    const std::vector<TimedVisit> timed = bench.timed();
    QCOMPARE(timed.size(), size_t{2});
    QVERIFY(timed[0].kind ==
            (StopKind{ValveType::Gate, SizeClass::UpTo8, StreetClass::Residential}));
    QCOMPARE(timed[0].onSiteMinutes, 12.5);
    QCOMPARE(timed[0].turns, 48.5);
    QCOMPARE(timed[0].turningMinutes, 0.0);
    QVERIFY(!timed[0].droveSeconds); // the drive from the yard is not known
    QCOMPARE(timed[1].onSiteMinutes, 15.0);
    const Way way = bench.graph.wayBetween(*bench.graph.snap(at(0)), *bench.graph.snap(at(2)));
    QCOMPARE(timed[1].droveSeconds.value(), 7.5 * 60 - way.turnSeconds);
    // 2 km at 25 mph.
    QVERIFY2(qAbs(timed[1].streetSeconds - 2000 / (25 * 0.44704)) < 0.5,
             qPrintable(QString::number(timed[1].streetSeconds)));
    QCOMPARE(timed[1].mostly, StreetClass::Residential);
    QCOMPARE(timed[1].hour, 11); // 16:12 UTC, five hours behind
}

void TestTimedVisits::onlyFinishedRoundsCount()
{
    Bench bench;
    bench.visit(0, 0, 10).round = {};                          // brought in from a file
    bench.visit(1, 20, 30).finished = {};                      // nobody said when
    bench.visit(2, 40, 50).round = RoundId{newUuid7(morning)}; // of a round that is not here
    QVERIFY(bench.timed().empty());
    bench.visit(0, 60, 70);
    QCOMPARE(bench.timed().size(), size_t{1});
    bench.visit(1, 60 + 24 * 60, 70 + 24 * 60); // went on the next day: no drive
    QVERIFY(!bench.timed().back().droveSeconds);
    bench.rounds.front().state = RoundState::UnderWay;
    QVERIFY(bench.timed().empty());
}

void TestTimedVisits::correctionsStandInForTheirParents()
{
    Bench bench;
    const VisitId first = bench.visit(0, 0, 10).id;
    Visit &correction = bench.visit(0, 0, 10);
    correction.supersedes = first;
    correction.passes.pop_back();
    const std::vector<TimedVisit> timed = bench.timed();
    QCOMPARE(timed.size(), size_t{1});
    QCOMPARE(timed[0].turns, 24.0);
}

QTEST_GUILESS_MAIN(TestTimedVisits)
#include "test_timed_visits.moc"
