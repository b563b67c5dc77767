// SPDX-License-Identifier: GPL-3.0-or-later
// Ways over random streets against Boost.Graph's Dijkstra, and the parts of a graph against plain
// reachability.
#include "core/streets/drive_graph.h"
#include "tests/core/streets/line_graph.h"

#include <QtTest>

#include <cmath>
#include <set>

using namespace keyround;

namespace {

/// Junctions reached from one, forwards or against the arcs, by plain spreading.
std::set<std::size_t> reached(const tests::GridTown &town, std::size_t from, bool forwards)
{
    std::set<std::size_t> seen{from};
    for (bool grew = true; grew;) {
        grew = false;
        for (const tests::GridTown::Block &block : town.blocks) {
            const bool with = block.oneWay != (forwards ? OneWay::Backward : OneWay::Forward);
            const bool against = block.oneWay != (forwards ? OneWay::Forward : OneWay::Backward);
            if (with && seen.count(block.from) != 0) {
                grew = seen.insert(block.to).second || grew;
            }
            if (against && seen.count(block.to) != 0) {
                grew = seen.insert(block.from).second || grew;
            }
        }
    }
    return seen;
}

} // namespace

class WaysTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    // 12 random towns of all classes, both junction rules; 40 places each up to 5 m off, every
    // pair. Agreement within 1e-4 s: the foot of a place that was set off a street is found again
    // within a tenth of a millimetre.
    void againstBoostDijkstra()
    {
        int pairs = 0;
        std::size_t forced = 0;
        for (unsigned seed = 1; seed <= 12; ++seed) {
            const auto rule = seed % 2 == 0 ? JunctionRule::SharedNodes : JunctionRule::EndPoints;
            tests::GridTown town = tests::gridTown(12, 10, 0.35, 0.15, rule, seed);
            tests::giveClasses(town, seed);
            DriveGraphOptions options;
            options.turns = tests::mixedRules();
            const DriveGraph graph = DriveGraph::build(town.streets, options);
            std::set<QString> cutOff;
            for (const auto &entry : graph.report().cutOff) {
                cutOff.insert(entry.name);
            }
            std::mt19937 random(seed);
            std::uniform_int_distribution<std::size_t> anyBlock(0, town.blocks.size() - 1);
            std::uniform_real_distribution<double> share(0.1, 0.9);
            std::uniform_real_distribution<double> left(-5.0, 5.0);
            std::vector<tests::PlaceOnBlock> places;
            while (places.size() < 40) {
                // Every fourth block is used twice, so that some pairs lie on one piece.
                const std::size_t block =
                    places.size() % 4 == 3 ? places.back().block : anyBlock(random);
                if (cutOff.count(town.streets[block].name) == 0) {
                    const double off = left(random);
                    places.push_back({block, share(random), std::abs(off) < 1.01 ? 0.0 : off});
                }
            }
            std::vector<Snap> snaps;
            for (const tests::PlaceOnBlock &place : places) {
                const auto snap = graph.snap(tests::placeOf(town, place));
                QVERIFY(snap && std::abs(snap->offsetMetres - std::abs(place.metresLeft)) < 1e-3);
                QCOMPARE(graph.streetOf(*snap), place.block);
                snaps.push_back(*snap);
            }
            tests::LineGraph reference(town, cutOff, options.turns);
            forced += reference.forced();
            for (std::size_t from = 0; from < places.size(); ++from) {
                const std::vector<double> seconds = reference.secondsFrom(places[from], places);
                const std::vector<Way> ways = graph.waysFrom(snaps[from], snaps);
                for (std::size_t to = 0; to < places.size(); ++to) {
                    QVERIFY2(std::isfinite(seconds[to]), "the largest part is connected");
                    QVERIFY2(std::abs(ways[to].seconds - seconds[to]) < 1e-4,
                             qPrintable(QStringLiteral("town %1, %2 to %3: %4, Boost %5")
                                            .arg(seed)
                                            .arg(from)
                                            .arg(to)
                                            .arg(ways[to].seconds)
                                            .arg(seconds[to])));
                    ++pairs;
                }
            }
        }
        QCOMPARE(pairs, 12 * 40 * 40);
        QVERIFY2(forced > 0, "no town needed a U-turn against the rules");
    }

    // What a way says of its metres is what its line measures; its seconds are those of its line at
    // the speeds of the streets under it, found again by snapping the middle of each segment, and
    // those of turning. The line is whole and runs between the snapped places.
    void metresAndSecondsAgreeWithTheLine()
    {
        tests::GridTown town = tests::gridTown(15, 15, 0.3, 0.1, JunctionRule::SharedNodes, 5);
        tests::giveClasses(town, 5);
        const DriveGraph graph = DriveGraph::build(town.streets);
        const LocalPlane plane(GeoPoint{41.0, -90.0});
        std::mt19937 random(3);
        std::uniform_real_distribution<double> metres(0.0, 1400.0);
        const auto anywhere = [&] {
            const double x = metres(random);
            return graph.snap(plane.toGeo(PlanePoint{x, metres(random)}));
        };
        for (int n = 0; n < 200; ++n) {
            const auto a = anywhere();
            const auto b = anywhere();
            QVERIFY(a && b);
            const Way way = graph.wayBetween(*a, *b);
            const Way plain = graph.waysFrom(*a, {*b}).front();
            QCOMPARE(way.metres, plain.metres);
            QCOMPARE(way.seconds, plain.seconds);
            QVERIFY(std::abs(lengthOf(way.line).value - way.metres) < 1e-4);
            QVERIFY(distanceBetween(way.line.front(), a->onStreet).value < 1e-3);
            QVERIFY(distanceBetween(way.line.back(), b->onStreet).value < 1e-3);
            double driven = 0;
            for (std::size_t i = 1; i < way.line.size(); ++i) {
                const GeoPoint p = way.line[i - 1];
                const GeoPoint q = way.line[i];
                const auto middle =
                    graph.snap({(p.latitude + q.latitude) / 2, (p.longitude + q.longitude) / 2});
                QVERIFY(middle && middle->offsetMetres < 1e-3);
                driven += distanceBetween(p, q).value /
                          town.blocks[graph.streetOf(*middle)].metresPerSecond;
            }
            QVERIFY2(std::abs(driven + way.turnSeconds - way.seconds) < 1e-3,
                     qPrintable(QStringLiteral("%1 driven, %2 turning, %3 in all")
                                    .arg(driven)
                                    .arg(way.turnSeconds)
                                    .arg(way.seconds)));
            double byClass = 0;
            double metresByClass = 0;
            for (const DrivenOnClass &part : way.byClass) {
                byClass += part.seconds;
                metresByClass += part.metres;
            }
            QVERIFY(std::abs(byClass - driven) < 1e-3);
            QVERIFY(std::abs(metresByClass - way.metres) < 1e-6);
        }
    }

    // Driving by a third place is never faster than driving straight there by more than half of a
    // U-turn: what the two legs by the third place may leave uncounted where they meet.
    void noDetourIsFaster()
    {
        for (unsigned seed = 21; seed < 25; ++seed) {
            tests::GridTown town = tests::gridTown(8, 8, 0.3, 0.15, JunctionRule::EndPoints, seed);
            tests::giveClasses(town, seed);
            DriveGraphOptions options;
            options.turns = tests::mixedRules();
            const DriveGraph graph = DriveGraph::build(town.streets, options);
            const LocalPlane plane(GeoPoint{41.0, -90.0});
            std::mt19937 random(seed);
            std::uniform_real_distribution<double> metres(0.0, 700.0);
            std::vector<Snap> snaps;
            while (snaps.size() < 36) {
                const double x = metres(random);
                snaps.push_back(*graph.snap(plane.toGeo(PlanePoint{x, metres(random)})));
            }
            std::vector<std::vector<Way>> ways;
            for (const Snap &snap : snaps) {
                ways.push_back(graph.waysFrom(snap, snaps));
            }
            const double slack = options.turns.uTurnSeconds / 2 + 1e-6;
            for (std::size_t a = 0; a < snaps.size(); ++a) {
                for (std::size_t b = 0; b < snaps.size(); ++b) {
                    for (std::size_t c = 0; c < snaps.size(); ++c) {
                        const double detour = ways[a][b].seconds + ways[b][c].seconds;
                        QVERIFY2(ways[a][c].seconds <= detour + slack,
                                 qPrintable(QStringLiteral("town %1: %2 to %3 in %4, by %5 in %6")
                                                .arg(seed)
                                                .arg(a)
                                                .arg(c)
                                                .arg(ways[a][c].seconds)
                                                .arg(b)
                                                .arg(detour)));
                    }
                }
            }
        }
    }

    // The blocks that are cut off are those of which an end cannot be reached from the largest
    // part and left for it again, by plain spreading along the arcs.
    void cutOffAgainstPlainReachability()
    {
        for (unsigned seed = 1; seed <= 15; ++seed) {
            const tests::GridTown town =
                tests::gridTown(7, 6, 0.7, 0.35, JunctionRule::EndPoints, seed);
            const DriveGraph graph = DriveGraph::build(town.streets);
            const auto metresOf = [&](const tests::GridTown::Block &block) {
                return distanceBetween(town.junctions[block.from], town.junctions[block.to]).value;
            };
            std::set<QString> expected;
            double largest = -1;
            for (std::size_t from = 0; from < town.junctions.size(); ++from) {
                const auto ahead = reached(town, from, true);
                const auto back = reached(town, from, false);
                const auto inside = [&](std::size_t junction) {
                    return ahead.count(junction) != 0 && back.count(junction) != 0;
                };
                double metres = 0;
                std::set<QString> outside;
                for (std::size_t b = 0; b < town.blocks.size(); ++b) {
                    if (inside(town.blocks[b].from) && inside(town.blocks[b].to)) {
                        metres += metresOf(town.blocks[b]);
                    } else {
                        outside.insert(town.streets[b].name);
                    }
                }
                if (metres > largest + 1e-6) {
                    largest = metres;
                    expected = outside;
                }
            }
            std::set<QString> found;
            for (const auto &entry : graph.report().cutOff) {
                found.insert(entry.name);
            }
            QCOMPARE(found, expected);
        }
    }
};

QTEST_GUILESS_MAIN(WaysTest)
#include "test_ways.moc"
