// SPDX-License-Identifier: GPL-3.0-or-later
// Random networks against what does not come from this project, and against the plainest way of
// working things out: bridges and connected parts by Boost.Graph, all single shuts against each
// alone, breaks and what a stuck valve costs against a search that takes valves out and walks.
#include "core/mains/cut_tree.h"
#include "core/mains/shut.h"
#include "core/mains/valve_importance.h"

#include <QSet>
#include <QTest>

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/biconnected_components.hpp>
#include <boost/graph/connected_components.hpp>

#include <rapidcheck.h>

#include <random>

using namespace keyround;

namespace {

struct Town
{
    PipeNetwork network;
    ValveStates states;
};

/// Nodes joined at random, valves at about half of the pipe ends, some closed, some bad.
Town randomTown(unsigned seed, double badShare)
{
    std::mt19937 random(seed);
    const auto below = [&](int limit) {
        return static_cast<int>(random() % static_cast<unsigned>(limit));
    };
    const auto chance = [&](double share) { return below(1000) < static_cast<int>(1000 * share); };
    const int nodes = 2 + below(28);
    const int pipes = nodes / 2 + below(2 * nodes);
    const double valveShare = 0.2 + 0.2 * below(4);
    HandNetwork hand;
    for (int i = 0; i < nodes; ++i) {
        hand.addNode(QString::number(i));
        if (chance(0.3))
            hand.addServices(QString::number(i), below(4), chance(0.2));
    }
    int valve = 0;
    for (int i = 0; i < pipes; ++i) {
        const QString name = QStringLiteral("P%1").arg(i);
        const QString from = QString::number(below(nodes));
        // Mostly near by, as in a town; sometimes a loop back to the node itself.
        const QString to = chance(0.7) ? QString::number((from.toInt() + 1 + below(3)) % nodes)
                                       : QString::number(below(nodes));
        hand.addPipe(name, from, to);
        hand.addServices(name, below(6), chance(0.1));
        if (chance(0.2))
            hand.addHydrant(QStringLiteral("H%1").arg(i), name);
        for (const QString &end : {from, to}) {
            if (chance(valveShare))
                hand.addValve(QStringLiteral("V%1").arg(valve++), name, end, chance(0.12));
        }
    }
    const int sources = below(4);
    for (int i = 0; i < sources; ++i)
        hand.addSource(QStringLiteral("T%1").arg(i), QString::number(below(nodes)));
    Town town;
    town.network = *hand.build();
    town.states = statesFrom(town.network, [&](const NetValve &one) {
        ValveState state{Holds::Works, one.normallyClosed, {}};
        if (chance(badShare))
            state.holds = static_cast<Holds>(1 + below(5));
        return state;
    });
    return town;
}

// The plain way, on the network's segments and valves, with no tree and no cleverness.
struct Plain
{
    const Town &town;

    [[nodiscard]] std::vector<bool> fed(const QSet<NetIndex> &shut, NetIndex closed = noIndex) const
    {
        std::vector<bool> fed(town.network.segmentCount);
        for (const NetSource &source : town.network.sources)
            fed[source.segment] = !shut.contains(source.segment);
        for (bool grows = true; grows;) {
            grows = false;
            for (NetIndex i = 0; i < town.network.valves.size(); ++i) {
                const NetValve &valve = town.network.valves[i];
                if (i == closed || town.states[i].closed)
                    continue;
                for (const auto &[a, b] : {std::pair(valve.sideFrom, valve.sideTo),
                                           std::pair(valve.sideTo, valve.sideFrom)}) {
                    if (fed[a] && !fed[b] && !shut.contains(b)) {
                        fed[b] = true;
                        grows = true;
                    }
                }
            }
        }
        return fed;
    }
    /// `sticks`: 1 the valve does not hold, -1 it does, whatever is known of it.
    [[nodiscard]] QSet<NetIndex> shutOf(NetIndex segment, NetIndex special = noIndex,
                                        int sticks = 0) const
    {
        QSet<NetIndex> shut{segment};
        for (bool grows = true; grows;) {
            grows = false;
            for (NetIndex i = 0; i < town.network.valves.size(); ++i) {
                const NetValve &valve = town.network.valves[i];
                const ValveState &state = town.states[i];
                bool lets = state.holds == Holds::DoesNotShut ||
                            (!state.closed && (state.holds == Holds::DoesNotTurn ||
                                               state.holds == Holds::CannotReach));
                if (i == special)
                    lets = sticks > 0;
                if (lets && shut.contains(valve.sideFrom) != shut.contains(valve.sideTo)) {
                    shut << valve.sideFrom << valve.sideTo;
                    grows = true;
                }
            }
        }
        return shut;
    }
    [[nodiscard]] Load out(const QSet<NetIndex> &shut) const
    {
        const std::vector<bool> before = fed({});
        const std::vector<bool> after = fed(shut);
        Load load;
        for (NetIndex i = 0; i < town.network.segmentCount; ++i) {
            if (shut.contains(i) || (before[i] && !after[i]))
                load += town.network.loads[i];
        }
        return load;
    }
};

} // namespace

class TestRandomNetworks : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void bridgesAndPartsAgainstBoost();
    void segmentsAgainstBoost();
    void allSingleShutsAsEachAlone();
    void breaksAsThePlainWay();
    void stuckValvesAsThePlainWay();
    void stuckValvesAsThePlainWayWhenManyAreBad();
    void moreStuckNeverShrinksTheShut();
    void normallyClosedIsNeverToClose();
    void largestShutsAreTheLargest();
    void sameEveryTime();

private:
    void compareImportance(unsigned seed, double badShare);
};

void TestRandomNetworks::bridgesAndPartsAgainstBoost()
{
    using Graph =
        boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS, boost::no_property,
                              boost::property<boost::edge_index_t, std::size_t>>;
    int bridges = 0;
    int cutters = 0;
    for (unsigned seed = 0; seed < 1000; ++seed) {
        std::mt19937 random(seed);
        const auto vertices = 2 + random() % 40;
        const auto count = vertices / 2 + random() % (2 * vertices);
        std::vector<CutTree::Edge> edges;
        // Boost's search takes parallel edges for one; a vertex in the middle of each tells them
        // apart, and halves 2 e and 2 e + 1 stand for edge e.
        Graph graph(vertices + count);
        for (std::size_t e = 0; e < count; ++e) {
            const auto a = static_cast<NetIndex>(random() % vertices);
            const auto b = static_cast<NetIndex>(random() % vertices);
            edges.emplace_back(a, b);
            if (a != b) {
                add_edge(a, vertices + e, 2 * e, graph);
                add_edge(vertices + e, b, 2 * e + 1, graph);
            }
        }
        const std::vector<Load> loads(vertices, Load{1, 0, 0});
        const CutTree tree(edges, {0}, loads);
        std::vector<std::size_t> part(vertices + count);
        connected_components(graph, part.data());
        for (NetIndex v = 0; v < vertices; ++v)
            QCOMPARE(tree.isReached(v), part[v] == part[0]);

        // An edge is a bridge when it is the only one of its biconnected component.
        std::vector<std::size_t> component(2 * count, 0);
        std::vector<Graph::vertex_descriptor> cutVertices;
        const auto [parts, _] = biconnected_components(
            graph, make_iterator_property_map(component.begin(), get(boost::edge_index, graph)),
            std::back_inserter(cutVertices));
        std::vector<int> size(parts, 0);
        for (std::size_t e = 0; e < count; ++e) {
            if (edges[e].first != edges[e].second) {
                ++size[component[2 * e]];
                ++size[component[2 * e + 1]];
            }
        }
        for (std::size_t e = 0; e < count; ++e) {
            const auto [a, b] = edges[e];
            if (a == b || part[a] != part[0])
                continue;
            const auto range = tree.beyondEdge(e);
            QCOMPARE(range.second > range.first, size[component[2 * e]] == 1);
            bridges += size[component[2 * e]] == 1 ? 1 : 0;
        }
        for (NetIndex v = 1; v < vertices; ++v) {
            if (part[v] != part[0])
                continue;
            const bool cuts =
                std::find(cutVertices.begin(), cutVertices.end(), v) != cutVertices.end();
            QCOMPARE(tree.beyondOne(v).services > 0, cuts);
            cutters += cuts ? 1 : 0;
        }
    }
    QVERIFY2(bridges > 1000 && cutters > 1000, "the networks were too tame to tell anything");
}

/// Nodes and pieces as vertices of Boost's own graph, every contact without a valve an edge.
void TestRandomNetworks::segmentsAgainstBoost()
{
    for (unsigned seed = 0; seed < 1000; ++seed) {
        const Town town = randomTown(seed, 0.0);
        const PipeNetwork &network = town.network;
        const std::size_t nodes = network.nodes.size();
        boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS> graph(
            nodes + network.pieces.size());
        QSet<QPair<NetIndex, double>> valveAt; // pipe and place along: valves sit at ends here
        for (const NetValve &valve : network.valves)
            valveAt.insert({valve.pipe, valve.along});
        for (NetIndex p = 0; p < network.pipes.size(); ++p) {
            const NetPipe &pipe = network.pipes[p];
            if (!valveAt.contains({p, 0.0}))
                add_edge(pipe.from, nodes + pipe.firstPiece, graph);
            if (!valveAt.contains({p, 1.0}))
                add_edge(pipe.to, nodes + pipe.firstPiece + pipe.pieceCount - 1, graph);
        }
        std::vector<NetIndex> part(num_vertices(graph));
        const auto parts = connected_components(graph, part.data());
        QCOMPARE(static_cast<std::size_t>(network.segmentCount), static_cast<std::size_t>(parts));
        QHash<NetIndex, NetIndex> segmentOf;
        for (std::size_t v = 0; v < part.size(); ++v) {
            const NetIndex segment =
                v < nodes ? network.nodes[v].segment : network.pieces[v - nodes].segment;
            if (!segmentOf.contains(part[v]))
                segmentOf.insert(part[v], segment);
            QCOMPARE(segment, segmentOf.value(part[v]));
        }
    }
}

void TestRandomNetworks::allSingleShutsAsEachAlone()
{
    int cutting = 0;
    for (unsigned seed = 0; seed < 400; ++seed) {
        const Town town = randomTown(seed, 0.1);
        const Plain plain{town};
        const std::vector<bool> before = plain.fed({});
        const SingleShuts all(town.network, town.states);
        for (NetIndex i = 0; i < town.network.valves.size(); ++i) {
            const SingleShut one = shutOne(town.network, town.states, i);
            QCOMPARE(all.of(i), one.out);
            auto segments = std::vector<NetIndex>(all.segments(i).begin(), all.segments(i).end());
            std::sort(segments.begin(), segments.end());
            QCOMPARE(segments, one.segments);
            Load load;
            const std::vector<bool> after = plain.fed({}, i);
            for (NetIndex s = 0; s < town.network.segmentCount; ++s) {
                if (before[s] && !after[s])
                    load += town.network.loads[s];
            }
            QCOMPARE(one.out, load);
            QCOMPARE(static_cast<int>(one.services.size()), load.services);
            QCOMPARE(static_cast<int>(one.critical.size()), load.critical);
            QCOMPARE(static_cast<int>(one.hydrants.size()), load.hydrants);
            cutting += load.services > 0 ? 1 : 0;
        }
    }
    QVERIFY(cutting > 400);
}

void TestRandomNetworks::breaksAsThePlainWay()
{
    int beyond = 0;
    for (unsigned seed = 0; seed < 200; ++seed) {
        const Town town = randomTown(seed, 0.25);
        const Plain plain{town};
        for (NetIndex s = 0; s < town.network.segmentCount; ++s) {
            const ShutPlan plan =
                planShut(town.network, town.states, breakInSegment(town.network, s));
            const QSet<NetIndex> shut = plain.shutOf(s);
            QCOMPARE(QSet<NetIndex>(plan.segments.begin(), plan.segments.end()), shut);
            QCOMPARE(plan.outAltogether(), plain.out(shut));
            const std::vector<bool> after = plain.fed(shut);
            for (const auto *steps : {&plan.close, &plan.closeDeadSide, &plan.alreadyClosed}) {
                for (const ShutStep &step : *steps) {
                    const NetValve &valve = town.network.valves[step.valve];
                    QVERIFY(shut.contains(valve.sideFrom) != shut.contains(valve.sideTo));
                    const bool faced =
                        after[shut.contains(valve.sideFrom) ? valve.sideTo : valve.sideFrom];
                    if (steps != &plan.alreadyClosed)
                        QCOMPARE(faced, steps == &plan.close);
                }
            }
            // Every valve around it is on one of the lists, and none is on two.
            std::size_t around = 0;
            for (const NetValve &valve : town.network.valves)
                around += shut.contains(valve.sideFrom) != shut.contains(valve.sideTo) ? 1 : 0;
            QCOMPARE(plan.close.size() + plan.closeDeadSide.size() + plan.alreadyClosed.size(),
                     around);
            for (const IfItFails &fails : plan.ifFails) {
                const QSet<NetIndex> then = plain.shutOf(s, fails.valve, 1);
                QCOMPARE(plan.outAltogether() + fails.more, plain.out(then));
            }
            beyond += plan.segmentsBeyond.empty() ? 0 : 1;
        }
    }
    QVERIFY(beyond > 100);
}

void TestRandomNetworks::compareImportance(unsigned seed, double badShare)
{
    const Town town = randomTown(seed, badShare);
    const Plain plain{town};
    const std::vector<ValveImportance> all = valveImportance(town.network, town.states);
    for (NetIndex i = 0; i < town.network.valves.size(); ++i) {
        const NetValve &valve = town.network.valves[i];
        const Load from = plain.out(plain.shutOf(valve.sideFrom, i, -1));
        const Load to = plain.out(plain.shutOf(valve.sideTo, i, -1));
        QCOMPARE(all[i].outFrom, from);
        QCOMPARE(all[i].outTo, to);
        const bool staysShut = town.states[i].closed && town.states[i].holds != Holds::DoesNotShut;
        if (staysShut) {
            QCOMPARE(all[i].more, 0);
            QCOMPARE(all[i].moreAtMost, 0);
            continue;
        }
        const Load stuck = plain.out(plain.shutOf(valve.sideFrom, i, 1));
        QCOMPARE(all[i].outIfStuck, stuck);
        QCOMPARE(all[i].more, stuck.services - std::max(from.services, to.services));
        QCOMPARE(all[i].moreAtMost, stuck.services - std::min(from.services, to.services));
        QVERIFY(all[i].more >= 0);
    }
}

void TestRandomNetworks::stuckValvesAsThePlainWay()
{
    for (unsigned seed = 0; seed < 150; ++seed)
        compareImportance(seed, 0.0);
}

void TestRandomNetworks::stuckValvesAsThePlainWayWhenManyAreBad()
{
    for (unsigned seed = 1000; seed < 1150; ++seed)
        compareImportance(seed, 0.3);
}

void TestRandomNetworks::moreStuckNeverShrinksTheShut()
{
    QVERIFY(rc::check("a larger stuck set never shrinks the shut", [](unsigned seed) {
        Town town = randomTown(seed, 0.1);
        if (town.network.segmentCount == 0)
            return;
        std::mt19937 random(seed);
        const auto s = static_cast<NetIndex>(random() % town.network.segmentCount);
        ShutPlan before = planShut(town.network, town.states, breakInSegment(town.network, s));
        for (ValveState &state : town.states) {
            if (random() % 6 == 0)
                state.holds = Holds::DoesNotShut;
            else if (random() % 6 == 0 && state.holds != Holds::DoesNotShut)
                state.holds = Holds::DoesNotTurn;
        }
        const ShutPlan after = planShut(town.network, town.states, breakInSegment(town.network, s));
        RC_ASSERT(std::ranges::includes(after.segments, before.segments));
        RC_ASSERT(after.outAltogether().services >= before.outAltogether().services);
        RC_ASSERT(after.sourcesLost.size() >= before.sourcesLost.size());
    }));
}

void TestRandomNetworks::normallyClosedIsNeverToClose()
{
    QVERIFY(rc::check("normally closed is never to close", [](unsigned seed) {
        const Town town = randomTown(seed, 0.3);
        for (NetIndex s = 0; s < town.network.segmentCount; ++s) {
            const ShutPlan plan =
                planShut(town.network, town.states, breakInSegment(town.network, s));
            for (const auto *steps : {&plan.close, &plan.closeDeadSide, &plan.reopen}) {
                for (const ShutStep &step : *steps)
                    RC_ASSERT(!town.network.valves[step.valve].normallyClosed);
            }
            for (const IfItFails &fails : plan.ifFails) {
                for (const NetIndex valve : fails.instead)
                    RC_ASSERT(!town.network.valves[valve].normallyClosed);
            }
            RC_ASSERT(plan.reopen.size() == plan.close.size() + plan.closeDeadSide.size());
        }
    }));
}

void TestRandomNetworks::largestShutsAreTheLargest()
{
    for (unsigned seed = 0; seed < 200; ++seed) {
        const Town town = randomTown(seed, 0.3);
        const Plain plain{town};
        int largest = 0;
        for (NetIndex s = 0; s < town.network.segmentCount; ++s)
            largest = std::max(largest, plain.out(plain.shutOf(s)).services);
        const auto shuts = largestShuts(town.network, town.states, 5);
        QCOMPARE(shuts.empty() ? 0 : shuts.front().out.services, largest);
        for (std::size_t i = 1; i < shuts.size(); ++i)
            QVERIFY(shuts[i].out.services <= shuts[i - 1].out.services);
    }
}

void TestRandomNetworks::sameEveryTime()
{
    const Town a = randomTown(7, 0.3);
    const Town b = randomTown(7, 0.3);
    for (NetIndex s = 0; s < a.network.segmentCount; ++s) {
        const ShutPlan one = planShut(a.network, a.states, breakInSegment(a.network, s));
        const ShutPlan other = planShut(b.network, b.states, breakInSegment(b.network, s));
        QCOMPARE(one.notes, other.notes);
        QCOMPARE(one.close.size(), other.close.size());
        for (std::size_t i = 0; i < one.close.size(); ++i)
            QCOMPARE(one.close[i].valve, other.close[i].valve);
        QCOMPARE(one.piecesOut, other.piecesOut);
        QCOMPARE(one.servicesBeyond, other.servicesBeyond);
    }
}

QTEST_GUILESS_MAIN(TestRandomNetworks)
#include "test_random_networks.moc"
