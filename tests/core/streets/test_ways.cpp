// SPDX-License-Identifier: GPL-3.0-or-later
// Ways over random streets against Boost.Graph's Dijkstra, and the parts of a graph against plain
// reachability. The graph for Boost is told by the generator, not taken from the drive graph.
#include "core/streets/drive_graph.h"
#include "tests/support/grid_town.h"

#include <QtTest>

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <boost/graph/strong_components.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>

using namespace keyround;

namespace {

using Weight = boost::property<boost::edge_weight_t, double>;
using BoostGraph =
    boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property, Weight>;

constexpr double never = std::numeric_limits<double>::infinity();

/// A place beside a block, part of the way along it; `metresLeft` of its line.
struct PlaceOnBlock
{
    std::size_t block = 0;
    double share = 0;
    double metresLeft = 0;
};

/// The town told to Boost.Graph as a line graph: a vertex for each direction of a block (2b + 1
/// from its first junction to its last, 2b back), which stands for beginning to drive it. Turns and
/// sides are worked out here anew, on a plane, from the generator's junctions.
class Reference
{
public:
    Reference(const tests::GridTown &town, const std::set<QString> &cutOff, const TurnRules &rules)
        : m_town(town), m_rules(rules), m_inside(town.blocks.size()),
          m_arms(town.junctions.size(), 0), m_graph(2 * town.blocks.size())
    {
        for (std::size_t b = 0; b < town.blocks.size(); ++b) {
            m_inside[b] = cutOff.count(town.streets[b].name) == 0;
            ++m_arms[town.blocks[b].from];
            ++m_arms[town.blocks[b].to];
        }
        layTurns({});
        std::vector<std::size_t> part(2 * town.blocks.size());
        boost::strong_components(m_graph, boost::make_iterator_property_map(
                                              part.begin(), get(boost::vertex_index, m_graph)));
        std::map<std::size_t, std::size_t> sizes;
        for (std::size_t d = 0; d < part.size(); ++d) {
            sizes[part[d]] += isDriven(d) ? 1 : 0;
        }
        const auto largest = std::max_element(sizes.begin(), sizes.end(),
                                              [](auto &x, auto &y) { return x.second < y.second; });
        std::set<std::size_t> outside;
        for (std::size_t d = 0; d < part.size(); ++d) {
            if (isDriven(d) && part[d] != largest->first) {
                outside.insert(d);
            }
        }
        m_forced = outside.size();
        m_graph = BoostGraph(2 * town.blocks.size());
        layTurns(outside);
    }

    /// Seconds from one place to all others.
    [[nodiscard]] std::vector<double> secondsFrom(const PlaceOnBlock &from,
                                                  const std::vector<PlaceOnBlock> &to) const
    {
        BoostGraph graph = m_graph;
        const auto source = boost::add_vertex(graph);
        for (const bool forward : {false, true}) {
            const double leave = stopSeconds(from, forward);
            if (leave < never) {
                const std::size_t here = 2 * from.block + (forward ? 1 : 0);
                const double rest = forward ? 1.0 - from.share : from.share;
                forTurns(here, [&](std::size_t next, double seconds) {
                    boost::add_edge(source, next, leave + rest * secondsOf(here) + seconds, graph);
                });
            }
        }
        std::vector<double> begun(boost::num_vertices(graph));
        boost::dijkstra_shortest_paths(graph, source,
                                       boost::distance_map(boost::make_iterator_property_map(
                                           begun.begin(), boost::get(boost::vertex_index, graph))));
        std::vector<double> seconds;
        for (const PlaceOnBlock &place : to) {
            double best = never;
            for (const bool forward : {false, true}) {
                const std::size_t there = 2 * place.block + (forward ? 1 : 0);
                const double arrive = stopSeconds(place, forward);
                const double part = forward ? place.share : 1.0 - place.share;
                if (arrive < never &&
                    begun[there] < 1e9) { // Boost's infinity is the largest double
                    best = std::min(best, begun[there] + part * secondsOf(there) + arrive);
                }
                const double gap = (place.share - from.share) * (forward ? 1.0 : -1.0);
                if (place.block == from.block && gap >= 0) {
                    best = std::min(best, gap == 0 ? 0.0
                                                   : stopSeconds(from, forward) + arrive +
                                                         gap * secondsOf(there));
                }
            }
            seconds.push_back(best);
        }
        return seconds;
    }

    /// Directions of blocks that need a U-turn against the rules.
    [[nodiscard]] std::size_t forced() const { return m_forced; }

private:
    [[nodiscard]] const tests::GridTown::Block &blockOf(std::size_t d) const
    {
        return m_town.blocks[d / 2];
    }
    [[nodiscard]] const TurnRules::OfClass &rulesOf(std::size_t d) const
    {
        return m_rules.ofClass[static_cast<std::size_t>(m_town.streets[d / 2].kind)];
    }
    [[nodiscard]] bool isDriven(std::size_t d) const
    {
        return m_inside[d / 2] &&
               blockOf(d).oneWay != (d % 2 == 1 ? OneWay::Backward : OneWay::Forward);
    }
    [[nodiscard]] std::size_t tail(std::size_t d) const
    {
        return d % 2 == 1 ? blockOf(d).from : blockOf(d).to;
    }
    [[nodiscard]] std::size_t head(std::size_t d) const { return tail(d ^ 1U); }
    [[nodiscard]] double secondsOf(std::size_t d) const
    {
        return distanceBetween(m_town.junctions[tail(d)], m_town.junctions[head(d)]).value /
               blockOf(d).metresPerSecond;
    }

    [[nodiscard]] double turn(std::size_t from, std::size_t to) const
    {
        if (m_arms[head(from)] < 3) {
            return 0.0;
        }
        const LocalPlane plane(m_town.junctions[head(from)]);
        const PlanePoint in = plane.toPlane(m_town.junctions[tail(from)]);
        const PlanePoint out = plane.toPlane(m_town.junctions[head(to)]);
        const double ahead = -in.x * out.x - in.y * out.y;
        const double left = -in.x * out.y + in.y * out.x;
        if (ahead > std::abs(left)) {
            return m_rules.straightSeconds;
        }
        return left > 0 ? m_rules.farTurnSeconds : m_rules.nearTurnSeconds;
    }

    [[nodiscard]] std::vector<std::size_t> leaving(std::size_t junction) const
    {
        std::vector<std::size_t> found;
        for (std::size_t d = 0; d < 2 * m_town.blocks.size(); ++d) {
            if (isDriven(d) && tail(d) == junction) {
                found.push_back(d);
            }
        }
        return found;
    }

    [[nodiscard]] double uTurn(std::size_t d, const std::set<std::size_t> &outside) const
    {
        const auto arms = leaving(head(d));
        if (arms.size() == 1) {
            return m_rules.deadEndSeconds;
        }
        if (rulesOf(d).uTurnMidStreet || (rulesOf(d).uTurnAtJunction && m_arms[head(d)] >= 3)) {
            return m_rules.uTurnSeconds;
        }
        double best = never;
        for (const std::size_t side : arms) {
            if (side != (d ^ 1U) && isDriven(side ^ 1U) && rulesOf(side).uTurnMidStreet) {
                best =
                    std::min(best, turn(d, side) + m_rules.uTurnSeconds + turn(side ^ 1U, d ^ 1U));
            }
        }
        const bool isForced = outside.count(d) != 0 || outside.count(d ^ 1U) != 0;
        return best == never && isForced ? m_rules.uTurnSeconds : best;
    }

    void layTurns(const std::set<std::size_t> &outside)
    {
        for (std::size_t d = 0; d < 2 * m_town.blocks.size(); ++d) {
            for (const std::size_t next : isDriven(d) ? leaving(head(d)) : leaving(m_arms.size())) {
                const double seconds = next == (d ^ 1U) ? uTurn(d, outside) : turn(d, next);
                if (seconds < never) {
                    boost::add_edge(d, next, secondsOf(d) + seconds, m_graph);
                }
            }
        }
    }

    template <typename Take> void forTurns(std::size_t d, Take take) const
    {
        const auto weight = boost::get(boost::edge_weight, m_graph);
        const auto [begin, end] = boost::out_edges(d, m_graph);
        for (auto edge = begin; edge != end; ++edge) {
            take(boost::target(*edge, m_graph), weight[*edge] - secondsOf(d));
        }
    }

    [[nodiscard]] double stopSeconds(const PlaceOnBlock &place, bool forward) const
    {
        const std::size_t d = 2 * place.block + (forward ? 1 : 0);
        if (!isDriven(d) || !isDriven(d ^ 1U)) {
            return isDriven(d) ? 0.0 : never;
        }
        if (rulesOf(d).uTurnMidStreet && !rulesOf(d).kerbSideOnly) {
            return m_rules.uTurnSeconds / 4;
        }
        const bool stands = forward == (place.metresLeft <= 0.0);
        return stands ? 0.0 : rulesOf(d).uTurnMidStreet ? m_rules.uTurnSeconds : never;
    }

    const tests::GridTown &m_town;
    TurnRules m_rules;
    std::vector<bool> m_inside;
    std::vector<unsigned> m_arms;
    BoostGraph m_graph;
    std::size_t m_forced = 0;
};

/// Streets of all classes; the rules know one class that may be turned on but not crossed.
void giveClasses(tests::GridTown &town, unsigned seed)
{
    std::mt19937 random(seed);
    std::uniform_int_distribution<int> any(0, static_cast<int>(streetClassCount) - 1);
    for (Street &street : town.streets) {
        street.kind = static_cast<StreetClass>(any(random));
    }
}

TurnRules mixedRules()
{
    TurnRules rules;
    rules.ofClass[static_cast<std::size_t>(StreetClass::Path)] = {true, true, true};
    rules.ofClass[static_cast<std::size_t>(StreetClass::ServiceRoad)] = {true, false, false};
    return rules;
}

GeoPoint placeOf(const tests::GridTown &town, const PlaceOnBlock &place)
{
    const GeoPoint a = town.junctions[town.blocks[place.block].from];
    const GeoPoint b = town.junctions[town.blocks[place.block].to];
    const GeoPoint on{a.latitude + (b.latitude - a.latitude) * place.share,
                      a.longitude + (b.longitude - a.longitude) * place.share};
    const LocalPlane plane(on);
    const PlanePoint along = plane.toPlane(b);
    const double part = place.metresLeft / std::hypot(along.x, along.y);
    return plane.toGeo(PlanePoint{-along.y * part, along.x * part});
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
            giveClasses(town, seed);
            DriveGraphOptions options;
            options.turns = mixedRules();
            const DriveGraph graph = DriveGraph::build(town.streets, options);
            std::set<QString> cutOff;
            for (const auto &entry : graph.report().cutOff) {
                cutOff.insert(entry.name);
            }
            std::mt19937 random(seed);
            std::uniform_int_distribution<std::size_t> anyBlock(0, town.blocks.size() - 1);
            std::uniform_real_distribution<double> share(0.1, 0.9);
            std::uniform_real_distribution<double> left(-5.0, 5.0);
            std::vector<PlaceOnBlock> places;
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
            for (const PlaceOnBlock &place : places) {
                const auto snap = graph.snap(placeOf(town, place));
                QVERIFY(snap && std::abs(snap->offsetMetres - std::abs(place.metresLeft)) < 1e-3);
                QCOMPARE(graph.streetOf(*snap), place.block);
                snaps.push_back(*snap);
            }
            const Reference reference(town, cutOff, options.turns);
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
        giveClasses(town, 5);
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

    // A table by cells says what a search for each row says: on a town of four cells, with places
    // beside each other, on the borders' streets and on one piece.
    void tableByCellsAgainstRows()
    {
        tests::GridTown town = tests::gridTown(55, 50, 0.3, 0.1, JunctionRule::SharedNodes, 8);
        giveClasses(town, 8);
        DriveGraphOptions options;
        options.turns = mixedRules();
        const DriveGraph graph = DriveGraph::build(town.streets, options);
        const LocalPlane plane(GeoPoint{41.0, -90.0});
        std::mt19937 random(8);
        std::uniform_real_distribution<double> metres(0.0, 5000.0);
        std::vector<Snap> snaps;
        while (snaps.size() < 90) {
            const double x = metres(random);
            const double y = metres(random);
            snaps.push_back(*graph.snap(plane.toGeo(PlanePoint{x, y})));
            snaps.push_back(*graph.snap(plane.toGeo(PlanePoint{x + 15, y + 15})));
        }
        const std::vector<Snap> rows(snaps.begin(), snaps.begin() + 40);
        const WayTable byRows = graph.wayTable(rows, snaps, TableMethod::Rows);
        const WayTable byCells = graph.wayTable(rows, snaps, TableMethod::Cells);
        const WayTable again = graph.wayTable(rows, snaps, TableMethod::Cells);
        QCOMPARE(byCells.columns, snaps.size());
        for (std::size_t i = 0; i < byRows.seconds.size(); ++i) {
            QVERIFY(std::isfinite(byRows.seconds[i]));
            QVERIFY2(std::abs(byRows.seconds[i] - byCells.seconds[i]) < 1e-6,
                     qPrintable(QStringLiteral("%1 by rows, %2 by cells")
                                    .arg(byRows.seconds[i])
                                    .arg(byCells.seconds[i])));
            QVERIFY(std::abs(byRows.metres[i] - byCells.metres[i]) < 1e-3);
        }
        QVERIFY(byCells.seconds == again.seconds && byCells.metres == again.metres);
        const WayTable none = graph.wayTable({}, snaps, TableMethod::Cells);
        QVERIFY(none.seconds.empty());
    }

    // Driving by a third place is never faster than driving straight there by more than half of a
    // U-turn: what the two legs by the third place may leave uncounted where they meet.
    void noDetourIsFaster()
    {
        for (unsigned seed = 21; seed < 25; ++seed) {
            tests::GridTown town = tests::gridTown(8, 8, 0.3, 0.15, JunctionRule::EndPoints, seed);
            giveClasses(town, seed);
            DriveGraphOptions options;
            options.turns = mixedRules();
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
