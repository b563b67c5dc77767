// SPDX-License-Identifier: GPL-3.0-or-later
// Shut tracing against cases with known answers.
//  - The ring of eight pipes (and its four segments, the largest of eleven elements): the example
//  of
//    Herman and Mahmoud as published with the USEPA's WNTR (commit 388958845c32,
//    wntr/tests/networks_for_testing/CCWI17-HermanMahmoud.inp, test_metrics_segments.py).
//  - The network of four pipes: cb-cities/pipe-network (commit 0dd18cd99823,
//    tests/valve_graph_test.cc); its node 1 is taken for the source, which that test does not have.
//  - The ladder of fifteen pipes was made for this project; two independent tracers agree on it.
#include "core/mains/shut.h"
#include "core/mains/valve_importance.h"

#include <QSet>
#include <QTest>

using namespace keyround;
using namespace Qt::Literals::StringLiterals;

namespace {

PipeNetwork ring()
{
    HandNetwork hand;
    hand.addPipe(u"p1"_s, u"s"_s, u"n1"_s);
    hand.addPipe(u"p2"_s, u"n1"_s, u"n2"_s);
    hand.addPipe(u"p3"_s, u"n2"_s, u"n3"_s);
    hand.addPipe(u"p4"_s, u"n3"_s, u"n4"_s);
    hand.addPipe(u"p5"_s, u"n4"_s, u"n5"_s);
    hand.addPipe(u"p6"_s, u"n2"_s, u"n5"_s);
    hand.addPipe(u"p7"_s, u"n5"_s, u"n6"_s);
    hand.addPipe(u"p8"_s, u"n6"_s, u"n1"_s);
    hand.addSource(u"s"_s, u"s"_s);
    hand.addValve(u"v0"_s, u"p1"_s, u"n1"_s);
    hand.addValve(u"v1"_s, u"p3"_s, u"n2"_s);
    hand.addValve(u"v2"_s, u"p7"_s, u"n5"_s);
    hand.addValve(u"v3"_s, u"p7"_s, u"n6"_s);
    hand.addValve(u"v4"_s, u"p8"_s, u"n6"_s);
    return *hand.build();
}

PipeNetwork four()
{
    HandNetwork hand;
    hand.addPipe(u"p1"_s, u"1"_s, u"2"_s);
    hand.addPipe(u"p2"_s, u"2"_s, u"4"_s);
    hand.addPipe(u"p3"_s, u"2"_s, u"3"_s);
    hand.addPipe(u"p4"_s, u"3"_s, u"4"_s);
    hand.addSource(u"1"_s, u"1"_s);
    hand.addValve(u"v1"_s, u"p1"_s, u"1"_s);
    hand.addValve(u"v2"_s, u"p1"_s, u"2"_s);
    hand.addValve(u"v3"_s, u"p3"_s, u"2"_s);
    hand.addValve(u"v4"_s, u"p3"_s, u"3"_s);
    hand.addValve(u"v5"_s, u"p4"_s, u"4"_s);
    for (const char *node : {"1", "2", "3", "4"}) // the demands of the case, one customer a unit
        hand.addServices(QLatin1String(node), node[0] - '0');
    return *hand.build();
}

struct LadderPipe
{
    const char *name, *from, *to;
    int customers;
};
struct LadderValve
{
    const char *number, *pipe, *node;
};
constexpr LadderPipe ladderPipes[] = {
    {"T1", "R1", "A1", 0},  {"N12", "A1", "A2", 14}, {"N23", "A2", "A3", 11},
    {"N34", "A3", "A4", 9}, {"S12", "B1", "B2", 12}, {"S23", "B2", "B3", 16},
    {"S34", "B3", "B4", 8}, {"R1r", "A1", "B1", 3},  {"R2r", "A2", "B2", 4},
    {"R3r", "A3", "B3", 5}, {"R4r", "A4", "B4", 2},  {"T2", "TK", "B4", 0},
    {"D1", "A3", "X1", 7},  {"E1", "B2", "Y1", 20},  {"E2", "Y1", "Y2", 13}};
constexpr LadderValve ladderValves[] = {
    {"V01", "T1", "A1"},  {"V02", "N12", "A1"}, {"V03", "R1r", "A1"}, {"V04", "N12", "A2"},
    {"V05", "R2r", "A2"}, {"V06", "N23", "A3"}, {"V07", "R3r", "A3"}, {"V08", "N34", "A3"},
    {"V09", "N34", "A4"}, {"V10", "S12", "B1"}, {"V11", "S12", "B2"}, {"V12", "R2r", "B2"},
    {"V13", "S23", "B3"}, {"V14", "R3r", "B3"}, {"V15", "S34", "B4"}, {"V16", "T2", "B4"},
    {"V17", "E2", "Y1"}};

PipeNetwork ladder(const QSet<QString> &closed = {})
{
    HandNetwork hand;
    for (const LadderPipe &pipe : ladderPipes) {
        hand.addPipe(QLatin1String(pipe.name), QLatin1String(pipe.from), QLatin1String(pipe.to));
        hand.addServices(QLatin1String(pipe.name), pipe.customers);
    }
    for (const LadderValve &valve : ladderValves) {
        const QString number = QLatin1String(valve.number);
        hand.addValve(number, QLatin1String(valve.pipe), QLatin1String(valve.node),
                      closed.contains(number));
    }
    hand.addSource(u"R1"_s, u"R1"_s);
    hand.addSource(u"TK"_s, u"TK"_s);
    return *hand.build();
}

ShutPlan planFor(const PipeNetwork &network, const char *pipe, const QSet<QString> &stuck = {})
{
    const ValveStates states = statesFrom(network, [&](const NetValve &valve) {
        return ValveState{stuck.contains(valve.number) ? Holds::DoesNotTurn : Holds::Works,
                          valve.normallyClosed, QString()};
    });
    return planShut(network, states,
                    *breakOnMain(network, QLatin1String(pipe), {}, UnitSystem::Us));
}

QString numbers(const PipeNetwork &network, const std::vector<ShutStep> &steps)
{
    QStringList list;
    for (const ShutStep &step : steps)
        list << network.valves[step.valve].number;
    list.sort();
    return list.join(QLatin1Char(' '));
}

QString pipes(const PipeNetwork &network, const std::vector<NetIndex> &pieces)
{
    QSet<QString> names;
    for (const NetIndex piece : pieces)
        names << network.mains[network.pipes[network.pieces[piece].pipe].main].number;
    QStringList list(names.begin(), names.end());
    list.sort();
    return list.join(QLatin1Char(' '));
}

QString nodes(const PipeNetwork &network, const std::vector<NetIndex> &segments)
{
    QStringList list;
    for (const NetIndex segment : segments) {
        for (const NetIndex node : network.nodesOf.of(segment))
            list << network.nodes[node].name;
    }
    list.sort();
    return list.join(QLatin1Char(' '));
}

} // namespace

class TestShutCases : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void ringHasItsPublishedSegments();
    void fourHasItsPublishedSegments();
    void breaks_data();
    void breaks();
    void oneValveOfTheLadder();
    void oneValveWithTwoClosed();
    void ladderIfOneSticks();
    void ladderInWords();
    void wrongNamesAreRefused();
};

void TestShutCases::ringHasItsPublishedSegments()
{
    const PipeNetwork network = ring();
    QCOMPARE(network.segmentCount, NetIndex{4});
    std::size_t largest = 0;
    for (NetIndex i = 0; i < network.segmentCount; ++i)
        largest = std::max(largest, network.piecesOf.of(i).size() + network.nodesOf.of(i).size());
    QCOMPARE(largest, std::size_t{11});
    // The largest has v1 inside: it closes nothing.
    QVERIFY(network.valves[network.valve(u"v1"_s)].closesNothing());
    QVERIFY(!network.valves[network.valve(u"v0"_s)].closesNothing());
}

void TestShutCases::fourHasItsPublishedSegments()
{
    const PipeNetwork network = four();
    QStringList found;
    for (NetIndex i = 0; i < network.segmentCount; ++i) {
        const auto pieces = network.piecesOf.of(i);
        const QString names = pipes(network, {pieces.begin(), pieces.end()});
        found << names + QLatin1Char('|') + nodes(network, {i});
    }
    found.sort();
    // Four with pipes as published, and node 1 by itself, which that test does not count.
    QCOMPARE(found.join(QLatin1Char(';')), u"p1|;p2|2 4;p3|;p4|3;|1"_s);
}

void TestShutCases::breaks_data()
{
    QTest::addColumn<QString>("net");
    QTest::addColumn<QString>("broken");
    QTest::addColumn<QString>("stuck");
    QTest::addColumn<QString>("closed");
    QTest::addColumn<QString>("segPipes");
    QTest::addColumn<QString>("segNodes");
    QTest::addColumn<QString>("close");
    QTest::addColumn<QString>("deadSide");
    QTest::addColumn<QString>("already");
    QTest::addColumn<QString>("beyondNodes");
    QTest::addColumn<QString>("beyondPipes");
    QTest::addColumn<int>("out");
    QTest::addColumn<int>("outBeyond");
    const auto row = [](const char *name, const char *net, const char *broken, const char *stuck,
                        const char *closed, const char *segPipes, const char *segNodes,
                        const char *close, const char *dead, const char *already,
                        const char *beyondNodes, const char *beyondPipes, int out, int beyond) {
        QTest::newRow(name) << QString(QLatin1String(net)) << QString(QLatin1String(broken))
                            << QString(QLatin1String(stuck)) << QString(QLatin1String(closed))
                            << QString(QLatin1String(segPipes)) << QString(QLatin1String(segNodes))
                            << QString(QLatin1String(close)) << QString(QLatin1String(dead))
                            << QString(QLatin1String(already))
                            << QString(QLatin1String(beyondNodes))
                            << QString(QLatin1String(beyondPipes)) << out << beyond;
    };
    row("ring, p4", "ring", "p4", "", "", "p2 p3 p4 p5 p6 p8", "n1 n2 n3 n4 n5", "v0", "v2 v4", "",
        "n6", "p7", 0, 0);
    row("ring, p7", "ring", "p7", "", "", "p7", "", "v2 v3", "", "", "", "", 0, 0);
    row("ring, p7, v2 stuck", "ring", "p7", "v2", "", "p2 p3 p4 p5 p6 p7 p8", "n1 n2 n3 n4 n5",
        "v0", "v3 v4", "", "n6", "", 0, 0);
    // Demands 2 and 4 in the segment, 3 beyond it: 9 in the published count.
    row("four, p2", "four", "p2", "", "", "p2", "2 4", "v2", "v3 v5", "", "3", "p3 p4", 6, 3);
    row("four, p4, v2 and v5 stuck", "four", "p4", "v2 v5", "", "p1 p2 p4", "2 3 4", "v1", "v3 v4",
        "", "", "p3", 9, 0);
    row("ladder, S23", "ladder", "S23", "", "", "E1 S23", "B2 Y1", "V11 V12 V13", "V17", "", "Y2",
        "E2", 36, 13);
    row("ladder, S23, V13 stuck", "ladder", "S23", "V13", "", "E1 S23 S34", "B2 B3 Y1",
        "V11 V12 V14 V15", "V17", "", "Y2", "E2", 44, 13);
    row("ladder, N23", "ladder", "N23", "", "", "N23", "A2", "V04 V05 V06", "", "", "", "", 11, 0);
    row("ladder, S12", "ladder", "S12", "", "", "S12", "", "V10 V11", "", "", "", "", 12, 0);
    row("ladder, S23, V13 stuck, V15 closed", "ladder", "S23", "V13", "V15", "E1 S23 S34",
        "B2 B3 Y1", "V11 V12 V14", "V17", "V15", "Y2", "E2", 44, 13);
}

void TestShutCases::breaks()
{
    const auto list = [](const QString &text) {
        const QStringList words = text.split(QLatin1Char(' '), Qt::SkipEmptyParts);
        return QSet<QString>(words.begin(), words.end());
    };
    QFETCH(QString, net);
    QFETCH(QString, broken);
    QFETCH(QString, stuck);
    QFETCH(QString, closed);
    const PipeNetwork network = net == u"ring"_s   ? ring()
                                : net == u"four"_s ? four()
                                                   : ladder(list(closed));
    const ShutPlan plan = planFor(network, broken.toLatin1().constData(), list(stuck));
    QTEST(pipes(network, plan.piecesOut), "segPipes");
    QTEST(nodes(network, plan.segments), "segNodes");
    QTEST(numbers(network, plan.close), "close");
    QTEST(numbers(network, plan.closeDeadSide), "deadSide");
    QTEST(numbers(network, plan.alreadyClosed), "already");
    QTEST(numbers(network, plan.passedOver), "stuck");
    QTEST(nodes(network, plan.segmentsBeyond), "beyondNodes");
    QTEST(pipes(network, plan.piecesBeyond), "beyondPipes");
    QTEST(plan.out.services, "out");
    QTEST(plan.outBeyond.services, "outBeyond");
    QVERIFY(plan.sourcesLost.empty());
    QCOMPARE(static_cast<int>(plan.servicesOut.size()), plan.out.services);
    QCOMPARE(static_cast<int>(plan.servicesBeyond.size()), plan.outBeyond.services);
    QCOMPARE(plan.reopen.size(), plan.close.size() + plan.closeDeadSide.size());
}

void TestShutCases::oneValveOfTheLadder()
{
    const PipeNetwork network = ladder();
    const ValveStates states = statesAsDesigned(network);
    const SingleShuts all(network, states);
    for (NetIndex i = 0; i < network.valves.size(); ++i) {
        const int wanted = network.valves[i].number == u"V17"_s ? 13 : 0;
        QCOMPARE(all.of(i).services, wanted);
        QCOMPARE(shutOne(network, states, i).out.services, wanted);
    }
    const SingleShut last = shutOne(network, states, network.valve(u"V17"_s));
    QCOMPARE(nodes(network, last.segments), u"Y2"_s);
    QCOMPARE(static_cast<int>(last.services.size()), 13);
}

void TestShutCases::oneValveWithTwoClosed()
{
    const PipeNetwork network = ladder({u"V15"_s, u"V16"_s});
    const ValveStates states = statesAsDesigned(network);
    const SingleShuts all(network, states);
    const QHash<QString, int> wanted{
        {u"V01"_s, 124}, {u"V08"_s, 11}, {u"V09"_s, 2}, {u"V17"_s, 13}};
    for (NetIndex i = 0; i < network.valves.size(); ++i) {
        QCOMPARE(all.of(i).services, wanted.value(network.valves[i].number));
        QCOMPARE(shutOne(network, states, i).out.services, wanted.value(network.valves[i].number));
    }
}

void TestShutCases::ladderIfOneSticks()
{
    struct Row
    {
        const char *valve;
        int pipeSide, nodeSide, ifStuck, extra;
    };
    constexpr Row rows[] = {{"V01", 0, 0, 0, 0},     {"V02", 14, 0, 14, 0},   {"V03", 3, 0, 3, 0},
                            {"V04", 14, 11, 25, 11}, {"V05", 4, 11, 15, 4},   {"V06", 11, 7, 18, 7},
                            {"V07", 5, 7, 12, 5},    {"V08", 9, 7, 16, 7},    {"V09", 9, 2, 11, 2},
                            {"V10", 12, 3, 15, 3},   {"V11", 12, 49, 61, 12}, {"V12", 4, 49, 53, 4},
                            {"V13", 49, 8, 57, 8},   {"V14", 5, 8, 13, 5},    {"V15", 8, 2, 10, 2},
                            {"V16", 0, 2, 2, 0},     {"V17", 13, 49, 49, 0}};
    const PipeNetwork network = ladder();
    const std::vector<ValveImportance> all = valveImportance(network, statesAsDesigned(network));
    for (const Row &row : rows) {
        const NetIndex index = network.valve(QLatin1String(row.valve));
        const ValveImportance &one = all[index];
        const NetValve &valve = network.valves[index];
        // The node's side is the valve's `from` side where the valve sits at the pipe's first end.
        const bool nodeFirst = valve.along == 0.0;
        QCOMPARE(nodeFirst ? one.outTo.services : one.outFrom.services, row.pipeSide);
        QCOMPARE(nodeFirst ? one.outFrom.services : one.outTo.services, row.nodeSide);
        QCOMPARE(one.outIfStuck.services, row.ifStuck);
        QCOMPARE(one.more, row.extra);
        QCOMPARE(one.moreAtMost, row.ifStuck - std::min(row.pipeSide, row.nodeSide));
    }
    const std::vector<LargeShut> largest = largestShuts(network, statesAsDesigned(network), 3);
    QCOMPARE(largest.size(), std::size_t{3});
    QCOMPARE(largest.front().out.services, 49); // a break of S23: 36 and 13
    QCOMPARE(largest.front().valves.size(), std::size_t{4});
}

void TestShutCases::ladderInWords()
{
    const PipeNetwork network = ladder({u"V15"_s});
    const ValveStates states = statesFrom(network, [](const NetValve &valve) {
        ValveState state{Holds::Works, valve.normallyClosed, QString()};
        if (valve.number == u"V12"_s)
            state = {Holds::Unknown, false, QString()};
        if (valve.number == u"V13"_s)
            state = {Holds::DoesNotTurn, false, u"tried on 2025-04-02"_s};
        return state;
    });
    const ShutPlan plan =
        planShut(network, states, *breakOnMain(network, u"S23"_s, {}, UnitSystem::Us));
    QCOMPARE(numbers(network, plan.passedOver), u"V13"_s);
    QCOMPARE(plan.passedOver.front().why, u"does not turn (tried on 2025-04-02)"_s);
    QCOMPARE(plan.ifFails.size(), std::size_t{1});
    QCOMPARE(plan.ifFails.front().words,
             u"If V12 does not hold: close V05, 4 more services without water."_s);
    QCOMPARE(plan.ifFails.front().more.services, 4);
    ShutPlan ordered = plan;
    orderByTravel(ordered, [&](NetIndex valve) -> std::optional<double> {
        const QString number = network.valves[valve].number;
        return number == u"V14"_s   ? std::optional<double>(60)
               : number == u"V11"_s ? std::optional<double>(90)
                                    : std::nullopt;
    });
    QCOMPARE(network.valves[ordered.close.front().valve].number, u"V14"_s);
    QCOMPARE(network.valves[ordered.close.back().valve].number, u"V12"_s);
}

void TestShutCases::wrongNamesAreRefused()
{
    HandNetwork hand;
    hand.addPipe(u"1"_s, u"1"_s, u"2"_s);
    HandNetwork both = hand;
    both.addServices(u"1"_s, 3);
    QVERIFY(!both.build());
    QVERIFY(both.build().error().message.contains(u"a pipe and a node"_s));
    HandNetwork nowhere = hand;
    nowhere.addHydrant(u"H"_s, u"9"_s);
    QVERIFY(nowhere.build().error().message.contains(u"neither a pipe nor a node"_s));
    HandNetwork apart = hand;
    apart.addNode(u"3"_s);
    apart.addValve(u"V"_s, u"1"_s, u"3"_s);
    QVERIFY(apart.build().error().message.contains(u"do not meet"_s));
    HandNetwork twice = hand;
    twice.addPipe(u"1"_s, u"2"_s, u"3"_s);
    QVERIFY(twice.build().error().message.contains(u"entered twice"_s));
    hand.addSource(u"T"_s, u"1"_s);
    QVERIFY(hand.build());
}

QTEST_GUILESS_MAIN(TestShutCases)
#include "test_shut_cases.moc"
