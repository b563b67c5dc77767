// SPDX-License-Identifier: GPL-3.0-or-later
// The drive graph: where streets meet, what is cut off, how places snap, and the ways between.
#include "core/streets/drive_graph.h"

#include <QtTest>

#include <cmath>

using namespace keyround;

namespace {

const LocalPlane plane(GeoPoint{41.0, -90.0}); // invented place

GeoPoint at(double x, double y)
{
    return plane.toGeo(PlanePoint{x, y});
}

Street street(const char *name, std::initializer_list<PlanePoint> points,
              JunctionRule rule = JunctionRule::EndPoints, OneWay oneWay = OneWay::No)
{
    Street made;
    made.name = QString::fromLatin1(name);
    made.junctions = rule;
    made.oneWay = oneWay;
    made.metresPerSecond = 10.0;
    for (const PlanePoint &point : points) {
        made.line.push_back(plane.toGeo(point));
    }
    return made;
}

/// Without seconds for turning: these tests are of lengths and places. Turns: test_turns.cpp.
DriveGraph build(const std::vector<Street> &streets, double joinMetres = 1.0)
{
    DriveGraphOptions options;
    options.joinMetres = joinMetres;
    options.turns.straightSeconds = options.turns.nearTurnSeconds = 0.0;
    options.turns.farTurnSeconds = options.turns.uTurnSeconds = 0.0;
    options.turns.deadEndSeconds = 0.0;
    return DriveGraph::build(streets, options);
}

Way between(const DriveGraph &graph, PlanePoint from, PlanePoint to)
{
    const auto a = graph.snap(plane.toGeo(from));
    const auto b = graph.snap(plane.toGeo(to));
    Way none;
    none.metres = none.seconds = -1.0;
    return a && b ? graph.wayBetween(*a, *b) : none;
}

bool near(double value, double expected, double within = 0.01)
{
    return std::abs(value - expected) <= within;
}

} // namespace

class DriveGraphTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void emptyGraph()
    {
        const DriveGraph graph = build({});
        QVERIFY(graph.isEmpty());
        QVERIFY(!graph.snap(at(0, 0)));
        QVERIFY(DriveGraph().isEmpty());
    }

    void leavesOutWhatCannotBeDriven()
    {
        Street closed = street("Closed", {{0, 0}, {100, 0}});
        closed.drivable = false;
        const Street dot = street("Dot", {{0, 50}, {0, 50}});
        const Street none = street("None", {});
        const DriveGraph graph = build({closed, dot, none, street("Main", {{0, 100}, {100, 100}})});
        QCOMPARE(graph.report().leftOut, std::size_t{3});
        QCOMPARE(graph.report().pieces, std::size_t{1});
    }

    void endsWithinTheToleranceMeet()
    {
        const std::vector<Street> streets{street("A", {{0, 0}, {100, 0}}),
                                          street("B", {{100.6, 0.5}, {200, 0}})};
        const DriveGraph joined = build(streets);
        QCOMPARE(joined.report().nodes, std::size_t{3});
        QVERIFY(near(between(joined, {50, 0}, {150, 0}).metres, 100, 0.2));
        const DriveGraph apart = build(streets, 0.1);
        QCOMPARE(apart.report().nodes, std::size_t{4});
    }

    // A street that ends on the middle of another makes a junction, with or without a point there.
    void sideStreetCutsTheStreetItEndsOn()
    {
        for (const bool pointThere : {false, true}) {
            const Street main = pointThere ? street("Main", {{0, 0}, {100, 0}, {200, 0}})
                                           : street("Main", {{0, 0}, {200, 0}});
            const DriveGraph graph = build({main, street("Side", {{100, 0.4}, {100, 80}})});
            QCOMPARE(graph.report().pieces, std::size_t{3});
            QCOMPARE(graph.report().nodes, std::size_t{4});
            QVERIFY(near(between(graph, {20, 0}, {100, 60}).metres, 140, 0.5));
        }
    }

    // Centrelines that cross without an end stay apart, even with a common point: a bridge.
    void crossingWithoutAnEndIsNoJunction()
    {
        const std::vector<Street> cross{street("Under", {{0, 0}, {100, 0}, {200, 0}}),
                                        street("Over", {{100, -100}, {100, 0}, {100, 100}}),
                                        street("Link", {{200, 0}, {200, 100}, {100, 100}})};
        const DriveGraph graph = build(cross);
        QCOMPARE(graph.report().pieces, std::size_t{3});
        // From under the bridge to its deck: by the link, not by the crossing.
        QVERIFY(near(between(graph, {90, 0}, {100, 10}).metres, 110 + 100 + 100 + 90));
    }

    void sharedNodesMeetAnywhereOnTheLine()
    {
        constexpr auto shared = JunctionRule::SharedNodes;
        const std::vector<Street> cross{
            street("A", {{0, 0}, {100, 0}, {200, 0}}, shared),
            street("B", {{100, -100}, {100, 0}, {100, 100}}, shared),
            street("C", {{50, -100}, {50, 100}}, shared)}; // crosses A without a common point
        const DriveGraph graph = build(cross);
        QCOMPARE(graph.report().pieces, std::size_t{5});
        QVERIFY(near(between(graph, {20, 0}, {100, 60}).metres, 140));
        QCOMPARE(graph.report().cutOff.size(), std::size_t{1});
        QCOMPARE(graph.report().cutOff[0].name, QStringLiteral("C"));
        QVERIFY(near(graph.report().cutOff[0].metres, 200));
        // A place on the part that is cut off goes to the nearest street that is not.
        const auto snap = graph.snap(at(50, 30));
        QVERIFY(snap);
        QVERIFY(near(snap->offsetMetres, 30));
    }

    void oneWayInsideOnePiece()
    {
        // A block: Main eastward only, back by the three other sides.
        const std::vector<Street> block{
            street("Main", {{0, 0}, {100, 0}}, JunctionRule::EndPoints, OneWay::Forward),
            street("Back", {{100, 0}, {100, 50}, {0, 50}, {0, 0}})};
        const DriveGraph graph = build(block);
        QVERIFY(near(between(graph, {20, 0}, {80, 0}).metres, 60));
        const Way round = between(graph, {80, 0}, {20, 0});
        QVERIFY(near(round.metres, 20 + 200 + 20));
        QVERIFY(near(round.seconds, 24.0));
        QVERIFY(near(lengthOf(round.line).value, round.metres, 1e-6));
        // The same street drawn the other way round, and marked so.
        Street backward =
            street("Main", {{100, 0}, {0, 0}}, JunctionRule::EndPoints, OneWay::Backward);
        const DriveGraph other = build({backward, block[1]});
        QVERIFY(near(between(other, {20, 0}, {80, 0}).metres, 60));
        QVERIFY(near(between(other, {80, 0}, {20, 0}).metres, 240));
    }

    void oneWayDeadEndIsCutOff()
    {
        const DriveGraph graph = build(
            {street("Main", {{0, 0}, {500, 0}}),
             street("Trap", {{500, 0}, {500, 40}}, JunctionRule::EndPoints, OneWay::Forward)});
        QCOMPARE(graph.report().cutOff.size(), std::size_t{1});
        QCOMPARE(graph.report().cutOff[0].name, QStringLiteral("Trap"));
        const auto snap = graph.snap(at(500, 30));
        QVERIFY(snap);
        QVERIFY(near(snap->along, 500));
        QVERIFY(near(snap->offsetMetres, 30));
    }

    void samePlaceNeedsNoDriving()
    {
        const DriveGraph graph = build({street("Main", {{0, 0}, {100, 0}})});
        const Way none = between(graph, {40, 3}, {40, -3});
        QVERIFY(near(none.seconds, 0, 1e-6));
        QVERIFY(near(none.metres, 0, 1e-6));
        QCOMPARE(none.line.size(), std::size_t{2});
    }

    void loopsAndLollipops()
    {
        // A ring that hangs on a stem: the ring's end touches the street's own middle.
        const DriveGraph graph =
            build({street("Stem", {{0, 0}, {100, 0}, {150, 0}, {150, 50}, {100, 50}, {100, 0}})});
        QCOMPARE(graph.report().pieces, std::size_t{2});
        QVERIFY(near(between(graph, {50, 0}, {100, 40}).metres, 90)); // the short way round
        QVERIFY(near(between(graph, {50, 0}, {140, 0}).metres, 90));
        QVERIFY(near(between(graph, {110, 0}, {100, 10}).metres, 20));
        const Way way = between(graph, {110, 0}, {100, 10});
        QVERIFY(near(lengthOf(way.line).value, way.metres, 1e-6));
    }

    void snapReach()
    {
        const DriveGraph graph = build({street("Main", {{0, 0}, {1000, 0}})});
        QVERIFY(graph.snap(at(500, 499)));
        QVERIFY(!graph.snap(at(500, 501)));
        QVERIFY(graph.snap(at(500, 501), 600));
        QVERIFY(!graph.snap(GeoPoint{}));
        const auto snap = graph.snap(at(250, 40));
        QVERIFY(snap);
        QVERIFY(near(snap->along, 250));
        QVERIFY(near(snap->offsetMetres, 40));
        QVERIFY(near(distanceBetween(snap->onStreet, at(250, 0)).value, 0));
    }

    void distanceOffTheStreetsHasNoReach()
    {
        const DriveGraph graph = build({street("Main", {{0, 0}, {1000, 0}})});
        const auto far = graph.nearestStreetMetres(at(500, 3000));
        QVERIFY(far && near(*far, 3000, 0.5));
        QVERIFY(!graph.nearestStreetMetres(GeoPoint{}));
        QVERIFY(!DriveGraph().nearestStreetMetres(at(0, 0)));
    }

    // Pieces lead back to the street that they were cut from, whatever is left out before it.
    void streetOfASnap()
    {
        Street closed = street("Closed", {{0, 0}, {0, -90}});
        closed.drivable = false;
        const DriveGraph graph = build({closed, street("Main", {{0, 0}, {100, 0}, {200, 0}}),
                                        street("Side", {{100, 0}, {100, 80}})});
        const auto streetAt = [&](double x, double y) {
            const auto snap = graph.snap(at(x, y));
            return snap ? graph.streetOf(*snap) : std::size_t{99};
        };
        QCOMPARE(streetAt(50, 5), std::size_t{1});
        QCOMPARE(streetAt(150, 5), std::size_t{1});
        QCOMPARE(streetAt(103, 60), std::size_t{2});
    }

    void sideOfTheStreet()
    {
        const DriveGraph graph = build({street("Main", {{0, 0}, {100, 0}, {100, 100}})});
        const auto side = [&](double x, double y) { return graph.snap(at(x, y))->side; };
        QCOMPARE(side(50, 5), StreetSide::Left);
        QCOMPARE(side(50, -5), StreetSide::Right);
        QCOMPARE(side(50, 0.9), StreetSide::Middle);
        QCOMPARE(side(50, -1.1), StreetSide::Right);
        QCOMPARE(side(95, 50), StreetSide::Left); // northward now
        QCOMPARE(side(105, 50), StreetSide::Right);
        QCOMPARE(side(104, -4), StreetSide::Right);     // outside of the bend
        QCOMPARE(side(100.5, 120), StreetSide::Middle); // ahead of the end
    }

    void factorsByClass()
    {
        Street main = street("Main", {{0, 0}, {1000, 0}});
        main.kind = StreetClass::Collector;
        DriveGraphOptions options;
        options.turns.uTurnSeconds = 0.0;
        options.factors[static_cast<std::size_t>(StreetClass::Collector)] = 1.5;
        options.factors[static_cast<std::size_t>(StreetClass::Unknown)] = -3.0; // counts as 1
        const DriveGraph graph =
            DriveGraph::build({main, street("Rest", {{1000, 0}, {1400, 0}})}, options);
        const Way way = between(graph, {0, -5}, {1400, -5});
        QVERIFY(near(way.seconds, 1000 / 10.0 * 1.5 + 40));
        const auto &collector = way.byClass[static_cast<std::size_t>(StreetClass::Collector)];
        QVERIFY(near(collector.metres, 1000) && near(collector.seconds, 150));
        const auto &unknown = way.byClass[static_cast<std::size_t>(StreetClass::Unknown)];
        QVERIFY(near(unknown.metres, 400) && near(unknown.seconds, 40));
    }

    void speedFromTheLayerElseByClass()
    {
        Street fast = street("Fast", {{0, 0}, {1000, 0}});
        fast.metresPerSecond.reset();
        fast.kind = StreetClass::Arterial;
        Street odd = street("Odd", {{1000, 0}, {2000, 0}});
        odd.metresPerSecond = -1.0; // no speed: by class
        const DriveGraph graph = build({fast, odd});
        QVERIFY(near(between(graph, {0, 0}, {1000, 0}).seconds,
                     1000 / defaultSpeed(StreetClass::Arterial), 0.001));
        QVERIFY(near(between(graph, {1000, 0}, {2000, 0}).seconds,
                     1000 / defaultSpeed(StreetClass::Unknown), 0.001));
    }

    // The faster way, not the shorter one.
    void secondsDecide()
    {
        Street slow = street("Slow", {{0, 0}, {100, 0}});
        slow.metresPerSecond = 1.0;
        const DriveGraph graph =
            build({slow, street("Fast", {{0, 0}, {0, 50}, {100, 50}, {100, 0}}),
                   street("In", {{-50, 0}, {0, 0}}), street("Out", {{100, 0}, {150, 0}})});
        const Way way = between(graph, {-50, 0}, {150, 0});
        QVERIFY(near(way.metres, 300));
        QVERIFY(near(way.seconds, 30));
    }
};

QTEST_GUILESS_MAIN(DriveGraphTest)
#include "test_drive_graph.moc"
