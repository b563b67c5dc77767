// SPDX-License-Identifier: GPL-3.0-or-later
// Ways over random streets against Boost.Graph's Dijkstra, and the parts of a graph against plain
// reachability. The graph for Boost is told by the generator, not taken from the drive graph.
#include "core/streets/drive_graph.h"
#include "tests/support/grid_town.h"

#include <QtTest>

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>

#include <cmath>
#include <map>
#include <set>

using namespace keyround;

namespace {

using Weight = boost::property<boost::edge_weight_t, double>;
using BoostGraph =
    boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property, Weight>;

/// A place part of the way along a block, as a vertex of its own.
struct PlaceOnBlock
{
    std::size_t block = 0;
    double share = 0;
};

/// Cuts each block at the places on it and adds its arcs. Place p is vertex junctions + p.
BoostGraph boostGraph(const tests::GridTown &town, const std::vector<PlaceOnBlock> &places)
{
    BoostGraph graph(town.junctions.size() + places.size());
    for (std::size_t b = 0; b < town.blocks.size(); ++b) {
        const tests::GridTown::Block &block = town.blocks[b];
        const double seconds =
            distanceBetween(town.junctions[block.from], town.junctions[block.to]).value /
            block.metresPerSecond;
        std::map<double, std::size_t> vertices{{0.0, block.from}, {1.0, block.to}};
        for (std::size_t p = 0; p < places.size(); ++p) {
            if (places[p].block == b) {
                vertices[places[p].share] = town.junctions.size() + p;
            }
        }
        for (auto next = std::next(vertices.begin()); next != vertices.end(); ++next) {
            const auto before = std::prev(next);
            const double part = (next->first - before->first) * seconds;
            if (block.oneWay != OneWay::Backward) {
                boost::add_edge(before->second, next->second, part, graph);
            }
            if (block.oneWay != OneWay::Forward) {
                boost::add_edge(next->second, before->second, part, graph);
            }
        }
    }
    return graph;
}

GeoPoint placeOf(const tests::GridTown &town, const PlaceOnBlock &place)
{
    const GeoPoint a = town.junctions[town.blocks[place.block].from];
    const GeoPoint b = town.junctions[town.blocks[place.block].to];
    return {a.latitude + (b.latitude - a.latitude) * place.share,
            a.longitude + (b.longitude - a.longitude) * place.share};
}

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
    // 12 random towns, both junction rules; 40 places each, every pair. Agreement within 1e-6 s:
    // snapping a place that was computed on the street moves it by less than a micrometre.
    void againstBoostDijkstra()
    {
        int pairs = 0;
        for (unsigned seed = 1; seed <= 12; ++seed) {
            const auto rule = seed % 2 == 0 ? JunctionRule::SharedNodes : JunctionRule::EndPoints;
            const tests::GridTown town = tests::gridTown(12, 10, 0.35, 0.1, rule, seed);
            const DriveGraph graph = DriveGraph::build(town.streets);
            std::set<QString> cutOff;
            for (const auto &entry : graph.report().cutOff) {
                cutOff.insert(entry.name);
            }
            std::mt19937 random(seed);
            std::uniform_int_distribution<std::size_t> anyBlock(0, town.blocks.size() - 1);
            std::uniform_real_distribution<double> share(0.05, 0.95);
            std::vector<PlaceOnBlock> places;
            while (places.size() < 40) {
                // Every fourth block is used twice, so that some pairs lie on one piece.
                const std::size_t block =
                    places.size() % 4 == 3 ? places.back().block : anyBlock(random);
                if (cutOff.count(town.streets[block].name) == 0) {
                    places.push_back({block, share(random)});
                }
            }
            std::vector<Snap> snaps;
            for (const PlaceOnBlock &place : places) {
                const auto snap = graph.snap(placeOf(town, place));
                QVERIFY(snap && snap->offsetMetres < 1e-4);
                snaps.push_back(*snap);
            }
            const BoostGraph reference = boostGraph(town, places);
            std::vector<double> seconds(boost::num_vertices(reference));
            for (std::size_t from = 0; from < places.size(); ++from) {
                boost::dijkstra_shortest_paths(
                    reference, town.junctions.size() + from,
                    boost::distance_map(boost::make_iterator_property_map(
                        seconds.begin(), boost::get(boost::vertex_index, reference))));
                const std::vector<Way> ways = graph.waysFrom(snaps[from], snaps);
                for (std::size_t to = 0; to < places.size(); ++to) {
                    const double expected = seconds[town.junctions.size() + to];
                    QVERIFY2(std::abs(ways[to].seconds - expected) < 1e-6,
                             qPrintable(QStringLiteral("town %1, %2 to %3: %4, Boost %5")
                                            .arg(seed)
                                            .arg(from)
                                            .arg(to)
                                            .arg(ways[to].seconds)
                                            .arg(expected)));
                    ++pairs;
                }
            }
        }
        QCOMPARE(pairs, 12 * 40 * 40);
    }

    // From and to the junctions themselves, where a place may snap to any street that meets there.
    void junctionsAgainstBoostDijkstra()
    {
        const tests::GridTown town = tests::gridTown(9, 9, 0.4, 0.0, JunctionRule::EndPoints, 99);
        const DriveGraph graph = DriveGraph::build(town.streets);
        const std::set<std::size_t> ahead = reached(town, 40, true);
        const std::set<std::size_t> back = reached(town, 40, false);
        const BoostGraph reference = boostGraph(town, {});
        std::vector<double> seconds(town.junctions.size());
        int checked = 0;
        for (const std::size_t from : ahead) {
            if (back.count(from) == 0) {
                continue;
            }
            boost::dijkstra_shortest_paths(
                reference, from,
                boost::distance_map(boost::make_iterator_property_map(
                    seconds.begin(), boost::get(boost::vertex_index, reference))));
            const auto a = graph.snap(town.junctions[from]);
            for (const std::size_t to : ahead) {
                const auto b = graph.snap(town.junctions[to]);
                if (back.count(to) == 0) {
                    continue;
                }
                QVERIFY(a && b);
                QVERIFY(std::abs(graph.waysFrom(*a, {*b}).front().seconds - seconds[to]) < 1e-3);
                ++checked;
            }
        }
        QVERIFY2(checked > 2500, qPrintable(QString::number(checked)));
    }

    // What a way says of its metres is what its line measures, and its seconds are at least those
    // of the fastest street; the line is whole and runs between the snapped places.
    void metresAgreeWithTheLine()
    {
        const tests::GridTown town =
            tests::gridTown(15, 15, 0.3, 0.1, JunctionRule::SharedNodes, 5);
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
            QVERIFY(way.seconds >= way.metres / 16.0 - 1e-9);
            QVERIFY(way.seconds <= way.metres / 8.0 + 1e-9);
            for (std::size_t i = 1; i < way.line.size(); ++i) {
                QVERIFY(distanceBetween(way.line[i - 1], way.line[i]).value < 145.0);
            }
        }
    }

    // Ways obey the triangle rule: driving by a third place is never faster.
    void noDetourIsFaster()
    {
        const tests::GridTown town = tests::gridTown(8, 8, 0.4, 0.1, JunctionRule::EndPoints, 21);
        const DriveGraph graph = DriveGraph::build(town.streets);
        std::vector<Snap> snaps;
        for (std::size_t i = 0; i < town.junctions.size(); i += 3) {
            snaps.push_back(*graph.snap(town.junctions[i]));
        }
        std::vector<std::vector<Way>> ways;
        for (const Snap &snap : snaps) {
            ways.push_back(graph.waysFrom(snap, snaps));
        }
        for (std::size_t a = 0; a < snaps.size(); ++a) {
            for (std::size_t b = 0; b < snaps.size(); ++b) {
                for (std::size_t c = 0; c < snaps.size(); ++c) {
                    QVERIFY(ways[a][c].seconds <= ways[a][b].seconds + ways[b][c].seconds + 1e-2);
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
