// SPDX-License-Identifier: GPL-3.0-or-later
// Turns, U-turns and sides of the street, each case worked out by hand. All streets are driven at
// 10 m/s; the rules' defaults: straight on 2 s, right 4, left 8, U-turn 20, at a dead end 15.
#include "core/streets/drive_graph.h"

#include <QtTest>

#include <cmath>

using namespace keyround;

namespace {

const LocalPlane plane(GeoPoint{41.0, -90.0}); // invented place

Street street(StreetClass kind, std::initializer_list<PlanePoint> points,
              OneWay oneWay = OneWay::No)
{
    Street made;
    made.kind = kind;
    made.oneWay = oneWay;
    made.metresPerSecond = 10.0;
    for (const PlanePoint &point : points) {
        made.line.push_back(plane.toGeo(point));
    }
    return made;
}

constexpr auto arterial = StreetClass::Arterial;
constexpr auto collector = StreetClass::Collector;
constexpr auto residential = StreetClass::Residential;

/// Half a U-turn for a leg between two places where turning is allowed.
constexpr double bothEnds = 10.0;
constexpr double oneEnd = 5.0;

Way between(const DriveGraph &graph, PlanePoint from, PlanePoint to)
{
    const auto a = graph.snap(plane.toGeo(from));
    const auto b = graph.snap(plane.toGeo(to));
    Way none;
    none.seconds = none.metres = -1.0;
    return a && b ? graph.wayBetween(*a, *b) : none;
}

/// Says what differs, so that a failure tells it.
QString differs(const Way &way, double metres, double seconds)
{
    if (std::abs(way.metres - metres) < 0.05 && std::abs(way.seconds - seconds) < 0.01) {
        return {};
    }
    return QStringLiteral("%1 m, %2 s").arg(way.metres).arg(way.seconds);
}

/// A cross of four arms of 200 m at the origin.
DriveGraph cross(StreetClass kind, const TurnRules &rules = {})
{
    DriveGraphOptions options;
    options.turns = rules;
    return DriveGraph::build({street(kind, {{-200, 0}, {0, 0}}), street(kind, {{0, 0}, {200, 0}}),
                              street(kind, {{0, -200}, {0, 0}}), street(kind, {{0, 0}, {0, 200}})},
                             options);
}

} // namespace

class TurnsTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void secondsAtAJunction()
    {
        const DriveGraph graph = cross(residential);
        QCOMPARE(differs(between(graph, {0, -50}, {0, 50}), 100, 10 + 2 + bothEnds), QString());
        QCOMPARE(differs(between(graph, {0, -50}, {50, 0}), 100, 10 + 4 + bothEnds), QString());
        QCOMPARE(differs(between(graph, {0, -50}, {-50, 0}), 100, 10 + 8 + bothEnds), QString());
    }

    void drivingOnTheLeftTurnsTheTurnsRound()
    {
        TurnRules rules;
        rules.drivingSide = DrivingSide::Left;
        const DriveGraph graph = cross(residential, rules);
        QCOMPARE(differs(between(graph, {0, -50}, {50, 0}), 100, 10 + 8 + bothEnds), QString());
        QCOMPARE(differs(between(graph, {0, -50}, {-50, 0}), 100, 10 + 4 + bothEnds), QString());
    }

    // Bends, and joints of just two pieces, take nothing.
    void bendsTakeNothing()
    {
        const DriveGraph graph =
            DriveGraph::build({street(residential, {{0, 0}, {100, 0}, {100, 100}}),
                               street(residential, {{100, 100}, {200, 100}})});
        QCOMPARE(differs(between(graph, {50, 0}, {150, 100}), 200, 20 + bothEnds), QString());
    }

    // Rules that cannot be are set back; no search may run over negative seconds.
    void badRulesAreSetBack()
    {
        TurnRules rules;
        rules.farTurnSeconds = -5.0;
        rules.uTurnSeconds = std::nan("");
        const DriveGraph graph = cross(residential, rules);
        QCOMPARE(differs(between(graph, {0, -50}, {-50, 0}), 100, 10 + 8 + bothEnds), QString());
    }

    // Two stops on one piece in both orders: where turning is allowed either is driven straight.
    void twoStopsOnOnePiece()
    {
        const DriveGraph graph = DriveGraph::build({street(residential, {{0, 0}, {300, 0}})});
        QCOMPARE(differs(between(graph, {100, 4}, {180, -4}), 80, 8 + bothEnds), QString());
        QCOMPARE(differs(between(graph, {180, -4}, {100, 4}), 80, 8 + bothEnds), QString());
        QCOMPARE(differs(between(graph, {100, 4}, {100, 4}), 0, 0), QString());
        QCOMPARE(differs(between(graph, {100, 4}, {100, -4}), 0, 0), QString()); // walked across
    }

    // The same on an arterial between two dead ends: the south side is served eastward, the north
    // side westward, and the truck goes on as it stands to the end and turns there.
    void kerbSideOnAnArterial()
    {
        const DriveGraph graph = DriveGraph::build({street(arterial, {{0, 0}, {300, 0}})});
        QCOMPARE(differs(between(graph, {100, -4}, {180, -4}), 80, 8), QString());
        // East to the end, back west to the other end, east again.
        QCOMPARE(differs(between(graph, {180, -4}, {100, -4}), 120 + 300 + 100, 52 + 2 * 15),
                 QString());
        QCOMPARE(differs(between(graph, {180, 4}, {100, 4}), 80, 8), QString());
        // Across the street: round by the end.
        QCOMPARE(differs(between(graph, {100, -4}, {100, 4}), 200 + 200, 40 + 15), QString());
        QCOMPARE(differs(between(graph, {100, 4}, {100, -4}), 100 + 100, 20 + 15), QString());
        // In the carriageway's middle it is served as the line is drawn: eastward.
        QCOMPARE(differs(between(graph, {100, -4}, {180, 0.4}), 80, 8), QString());
    }

    void kerbSideWhereOneDrivesOnTheLeft()
    {
        DriveGraphOptions options;
        options.turns.drivingSide = DrivingSide::Left;
        const DriveGraph graph = DriveGraph::build({street(arterial, {{0, 0}, {300, 0}})}, options);
        QCOMPARE(differs(between(graph, {100, 4}, {180, 4}), 80, 8), QString());
        QCOMPARE(differs(between(graph, {180, -4}, {100, -4}), 80, 8), QString());
    }

    // A collector may be crossed but not turned on: one direction is fixed there too.
    void collectorKeepsItsDirection()
    {
        const DriveGraph graph = DriveGraph::build({street(collector, {{0, 0}, {300, 0}})});
        QCOMPARE(differs(between(graph, {100, -4}, {180, 4}), 200 + 120, 32 + 15), QString());
    }

    // Turning allowed, crossing not: the truck stands on the place's side and turns for 20 s.
    void turningButNotCrossing()
    {
        DriveGraphOptions options;
        options.turns.ofClass[static_cast<std::size_t>(residential)] = {true, true, true};
        const DriveGraph graph =
            DriveGraph::build({street(residential, {{0, 0}, {300, 0}})}, options);
        QCOMPARE(differs(between(graph, {100, -4}, {180, -4}), 80, 8), QString());
        QCOMPARE(differs(between(graph, {100, -4}, {180, 4}), 80, 8 + 20), QString());
        QCOMPARE(differs(between(graph, {180, -4}, {100, -4}), 80, 8 + 40), QString());
    }

    // A cul-de-sac off an arterial: in and out again by its dead end, or by turning in it.
    void culDeSac()
    {
        const std::vector<Street> streets{street(arterial, {{-500, 0}, {0, 0}}),
                                          street(arterial, {{0, 0}, {500, 0}}),
                                          street(residential, {{0, 0}, {0, 150}})};
        const DriveGraph graph = DriveGraph::build(streets);
        // Eastbound, left into it; out and right to the west side, left to the east side.
        QCOMPARE(differs(between(graph, {-100, -4}, {4, 100}), 200, 20 + 8 + oneEnd), QString());
        QCOMPARE(differs(between(graph, {4, 100}, {-100, 4}), 200, 20 + 4 + oneEnd), QString());
        QCOMPARE(differs(between(graph, {4, 100}, {100, -4}), 200, 20 + 8 + oneEnd), QString());
        // From one side of the arterial to the other: the mouth of the cul-de-sac serves to turn.
        // From the west left in (8), the U-turn (20), right out (4); from the east right in (4),
        // the U-turn, left out (8).
        QCOMPARE(differs(between(graph, {-100, -4}, {-100, 4}), 200, 20 + 8 + 20 + 4), QString());
        QCOMPARE(differs(between(graph, {100, 4}, {100, -4}), 200, 20 + 4 + 20 + 8), QString());
        // With a collector for a cul-de-sac the truck must drive to its end.
        std::vector<Street> longer = streets;
        longer[2].kind = collector;
        QCOMPARE(differs(between(DriveGraph::build(longer), {-100, -4}, {-100, 4}), 200 + 300,
                         50 + 8 + 15 + 4),
                 QString());
    }

    // U-turns at a junction by class: allowed in a residential cross, not in an arterial one, where
    // the way back leads over the dead end straight ahead or to the right.
    void uTurnsAtAJunction()
    {
        TurnRules rules;
        rules.ofClass[static_cast<std::size_t>(residential)] = {true, false, false};
        const DriveGraph allowed = cross(residential, rules);
        QCOMPARE(differs(between(allowed, {4, -50}, {-4, -50}), 100, 10 + 20), QString());
        const DriveGraph forbidden = cross(arterial);
        // Straight on for 200 m, turned at the end, straight back: 2 + 15 + 2; by the right-hand
        // arm it would be 4 + 15 + 8.
        QCOMPARE(differs(between(forbidden, {4, -50}, {-4, -50}), 500, 50 + 2 + 15 + 2), QString());
    }

    // Two one-way carriageways joined at both ends: across means all the way round.
    void dividedRoad()
    {
        const DriveGraph graph = DriveGraph::build(
            {street(arterial, {{0, 0}, {400, 0}}, OneWay::Forward),
             street(arterial, {{400, 20}, {0, 20}}, OneWay::Forward),
             street(arterial, {{400, 0}, {400, 20}}), street(arterial, {{0, 0}, {0, 20}}),
             street(arterial, {{400, 0}, {600, 0}}), street(arterial, {{-200, 20}, {0, 20}})});
        // Ahead on one carriageway; either kerb of it serves.
        QCOMPARE(differs(between(graph, {100, -4}, {300, 4}), 200, 20), QString());
        // To the other: a left turn at the junction of three arms, a bend where two meet.
        QCOMPARE(differs(between(graph, {100, -4}, {100, 24}), 300 + 20 + 300, 62 + 8), QString());
        // Behind on the same: round by both ends; at (0, 20) left again, straight on leaves town.
        QCOMPARE(
            differs(between(graph, {300, -4}, {100, -4}), 100 + 20 + 400 + 20 + 100, 64 + 8 + 8),
            QString());
    }

    // A ring of arterials without an end: nothing would ever lead from one direction to the other,
    // so that the U-turn at its joints is allowed whatever the class.
    void ringIsDrivenBothWays()
    {
        const DriveGraph graph = DriveGraph::build({street(arterial, {{0, 0}, {200, 0}}),
                                                    street(arterial, {{200, 0}, {100, 150}}),
                                                    street(arterial, {{100, 150}, {0, 0}})});
        const Way way = between(graph, {100, -4}, {100, 4});
        QCOMPARE(differs(way, 200, 20 + 20), QString());
    }

    // A place at a junction belongs to the street that it snaps to, and is served from that.
    void snapAtAJunction()
    {
        const DriveGraph graph = DriveGraph::build({street(residential, {{0, 0}, {200, 0}}),
                                                    street(residential, {{200, 0}, {400, 0}}),
                                                    street(residential, {{200, 0}, {200, 200}})});
        const auto corner = graph.snap(plane.toGeo({200, 0}));
        QVERIFY(corner);
        const Way there = between(graph, {50, 0}, {200, 0});
        QVERIFY(std::abs(there.metres - 150) < 0.05);
        // By the first street without a turn, or by one of the others with the turn into it.
        const double turn = there.seconds - 15 - bothEnds;
        const double expected[] = {0.0, 2.0, 8.0};
        QVERIFY2(std::abs(turn - expected[graph.streetOf(*corner)]) < 0.01,
                 qPrintable(QString::number(turn)));
        QCOMPARE(differs(graph.wayBetween(*corner, *corner), 0, 0), QString());
    }

    void oneWayStartsAndEnds()
    {
        // A block: the south side eastward only, the rest both ways.
        const DriveGraph graph =
            DriveGraph::build({street(residential, {{0, 0}, {100, 0}}, OneWay::Forward),
                               street(residential, {{100, 0}, {100, 50}, {0, 50}, {0, 0}})});
        QCOMPARE(differs(between(graph, {20, 4}, {80, -4}), 60, 6), QString());
        QCOMPARE(differs(between(graph, {80, 4}, {20, -4}), 20 + 200 + 20, 24), QString());
    }
};

QTEST_GUILESS_MAIN(TurnsTest)
#include "test_turns.moc"
