// SPDX-License-Identifier: GPL-3.0-or-later
// Shut tracing on a published network of 97 nodes and 119 links: EPANET's third example (Net3),
// with two valve layers published with the USEPA's WNTR (commit 388958845c32, Revised BSD,
// wntr/tests/networks_for_testing): the one with a valve less than links at every node, and the one
// at random. Sources are its two reservoirs and three tanks; pumps count as pipes and what is said
// of a pipe's status is set aside. Two independent tracers agree on the answers. Demands are the
// example's own, here as customers of 0.1 gallons a minute.
#include "core/mains/shut.h"

#include <QTest>

using namespace keyround;
using namespace Qt::Literals::StringLiterals;

namespace {

/// Links as number, node, node.
const char *const links =
    "20 3 20,40 1 40,50 2 50,60 River 60,101 10 101,103 101 103,105 101 105,107 105 107,"
    "109 103 109,111 109 111,112 115 111,113 111 113,114 115 113,115 107 115,116 113 193,"
    "117 263 105,119 115 117,120 119 120,121 120 117,122 121 120,123 121 119,125 123 121,"
    "129 121 125,131 125 127,133 20 127,135 127 129,137 129 131,145 129 139,147 139 141,"
    "149 143 141,151 15 143,153 145 141,155 147 145,159 147 149,161 149 151,163 151 153,"
    "169 125 153,171 119 151,173 119 157,175 157 159,177 159 161,179 161 163,180 163 164,"
    "181 164 166,183 265 169,185 167 169,186 187 204,187 169 171,189 171 173,191 271 171,"
    "193 35 181,195 181 177,197 177 179,199 179 183,201 40 179,202 185 184,203 183 185,"
    "204 184 205,205 204 185,207 189 183,209 189 187,211 169 269,213 191 187,215 267 189,"
    "217 191 193,219 193 195,221 161 195,223 197 191,225 111 197,229 173 199,231 199 201,"
    "233 201 203,235 199 273,237 205 207,238 207 206,239 275 207,240 206 208,241 208 209,"
    "243 209 211,245 211 213,247 213 215,249 215 217,251 217 219,257 217 225,261 213 229,"
    "263 229 231,269 211 237,271 237 229,273 237 239,275 239 241,277 241 243,281 241 247,"
    "283 239 249,285 247 249,287 247 255,289 50 255,291 255 253,293 255 251,295 249 251,"
    "297 120 257,299 257 259,301 259 263,303 257 261,305 117 261,307 261 263,309 265 267,"
    "311 193 267,313 269 189,315 181 271,317 273 275,319 273 205,321 163 265,323 201 275,"
    "325 269 271,329 61 123,330 60 601,333 601 61,10 Lake 10,335 60 61";

/// Valves as link, node; they are numbered from 0 in this order.
const char *const oneLess =
    "10 10,20 20,201 40,289 50,330 60,335 60,333 601,329 61,335 61,101 101,103 101,103 103,105 105,"
    "107 105,115 107,109 109,225 111,111 111,112 111,114 113,113 113,112 115,115 115,114 115,"
    "119 117,121 117,123 119,171 119,173 119,297 120,122 120,121 120,123 121,122 121,125 121,"
    "125 123,131 125,129 125,135 127,133 127,145 129,137 129,145 139,149 141,153 141,151 143,"
    "155 145,155 147,159 147,163 151,161 151,163 153,175 157,175 159,179 161,221 161,179 163,"
    "180 163,181 164,185 169,183 169,187 169,189 171,187 171,189 173,197 177,201 179,199 179,"
    "315 181,193 181,203 183,199 183,204 184,202 185,205 185,209 187,186 187,207 189,209 189,"
    "313 189,223 191,217 191,116 193,217 193,219 193,219 195,223 197,229 199,231 199,323 201,"
    "231 201,205 204,319 205,237 205,240 206,237 207,238 207,240 208,241 209,269 211,245 211,"
    "261 213,245 213,249 215,257 217,249 217,261 229,271 229,273 237,269 237,275 239,283 239,"
    "275 241,277 241,285 247,281 247,295 249,283 249,295 251,287 255,289 255,293 255,303 257,"
    "297 257,301 259,307 261,305 261,117 263,307 263,321 265,183 265,311 267,215 267,325 269,"
    "211 269,191 271,315 271,319 273,317 273,239 275,323 275";

const char *const atRandom =
    "105 105,161 149,113 111,295 249,197 177,333 601,115 115,313 269,321 265,101 101,189 173,"
    "225 197,233 203,180 164,181 166,317 273,333 61,123 121,120 119,181 164,319 205,319 273,"
    "275 241,153 145,123 119,20 3,202 184,297 120,330 601,240 206,189 171,109 109,20 20,177 159,"
    "285 249,204 184,115 107,103 103,113 113,263 229";

QList<QStringList> rowsOf(const char *text)
{
    QList<QStringList> rows;
    for (const QString &row : QString(QLatin1String(text)).split(QLatin1Char(',')))
        rows << row.split(QLatin1Char(' '));
    return rows;
}

/// The example gives links and nodes the same numbers.
QString linkName(const QString &number)
{
    return u"link "_s + number;
}

HandNetwork withoutValves()
{
    HandNetwork hand;
    for (const QStringList &link : rowsOf(links))
        hand.addPipe(linkName(link[0]), link[1], link[2]);
    for (const char *source : {"River", "Lake", "1", "2", "3"})
        hand.addSource(QLatin1String(source), QLatin1String(source));
    // Of the nodes that the cases ask about.
    hand.addServices(u"109"_s, 2314);
    hand.addServices(u"103"_s, 1332);
    hand.addServices(u"166"_s, 26);
    return hand;
}

PipeNetwork withValves(const char *layer, QChar letter)
{
    HandNetwork hand = withoutValves();
    int number = 0;
    for (const QStringList &valve : rowsOf(layer))
        hand.addValve(letter + QString::number(number++), linkName(valve[0]), valve[1]);
    return *hand.build();
}

} // namespace

class TestNet3Cases : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void rulesGiveTheirCounts();
    void breaks_data();
    void breaks();
};

/// A valve on all but so many links of every node: counts as published with the layers.
void TestNet3Cases::rulesGiveTheirCounts()
{
    const PipeNetwork plain = *withoutValves().build();
    QCOMPARE(plain.nodes.size(), std::size_t{97});
    QCOMPARE(plain.pipes.size(), std::size_t{119});
    QCOMPARE(plain.segmentCount, NetIndex{1});
    const std::vector<std::size_t> published{238, 141, 60, 9, 0};
    for (std::size_t less = 0; less < published.size(); ++less) {
        HandNetwork hand = withoutValves();
        for (NetIndex node = 0; node < plain.nodes.size(); ++node) {
            const auto pipes = plain.pipesOfNode.of(node);
            for (std::size_t i = less; i < pipes.size(); ++i)
                hand.addValve(QStringLiteral("%1/%2").arg(node).arg(i),
                              plain.mains[plain.pipes[pipes[i]].main].number,
                              plain.nodes[node].name);
        }
        const PipeNetwork network = *hand.build();
        QCOMPARE(network.valves.size(), published[less]);
        // A valve at every contact leaves each node and pipe alone; one less joins each node to
        // just one pipe.
        if (less == 0)
            QCOMPARE(network.segmentCount, NetIndex{97 + 119});
        if (less == 1)
            QCOMPARE(network.segmentCount, NetIndex{119});
    }
    QCOMPARE(withValves(oneLess, u'v').segmentCount, NetIndex{119});
    QCOMPARE(withValves(oneLess, u'v').valves.size(), published[1]);
}

void TestNet3Cases::breaks_data()
{
    QTest::addColumn<bool>("random");
    QTest::addColumn<QString>("broken");
    QTest::addColumn<QString>("stuck");
    QTest::addColumn<QString>("segment");
    QTest::addColumn<QString>("close");
    QTest::addColumn<QString>("deadSide");
    QTest::addColumn<QString>("beyond");
    QTest::addColumn<QString>("sourceLost");
    QTest::addColumn<int>("out");
    QTest::addColumn<int>("outBeyond");
    QTest::newRow("111") << false << u"111"_s << QString() << u"109"_s << u"v15 v17"_s << QString()
                         << QString() << QString() << 2314 << 0;
    QTest::newRow("111, v15 stuck") << false << u"111"_s << u"v15"_s << u"103 109"_s << u"v11 v17"_s
                                    << QString() << QString() << QString() << 3646 << 0;
    QTest::newRow("20") << false << u"20"_s << QString() << u"3"_s << u"v1"_s << QString()
                        << QString() << u"3"_s << 0 << 0;
    QTest::newRow("181, valves at random") << true << u"181"_s << QString() << QString() << u"r19"_s
                                           << u"r14"_s << u"166"_s << QString() << 0 << 26;
}

void TestNet3Cases::breaks()
{
    QFETCH(bool, random);
    QFETCH(QString, broken);
    QFETCH(QString, stuck);
    const PipeNetwork network = random ? withValves(atRandom, u'r') : withValves(oneLess, u'v');
    const ValveStates states = statesFrom(network, [&](const NetValve &valve) {
        return ValveState{valve.number == stuck ? Holds::DoesNotTurn : Holds::Works, false, {}};
    });
    const ShutPlan plan =
        planShut(network, states, *breakOnMain(network, linkName(broken), {}, UnitSystem::Us));
    const auto numbers = [&](const std::vector<ShutStep> &steps) {
        QStringList list;
        for (const ShutStep &step : steps)
            list << network.valves[step.valve].number;
        return list.join(QLatin1Char(' '));
    };
    const auto nodes = [&](const std::vector<NetIndex> &segments) {
        QStringList list;
        for (const NetIndex segment : segments) {
            for (const NetIndex node : network.nodesOf.of(segment))
                list << network.nodes[node].name;
        }
        list.sort();
        return list.join(QLatin1Char(' '));
    };
    QStringList lost;
    for (const NetIndex source : plan.sourcesLost)
        lost << network.sources[source].number;
    QTEST(nodes(plan.segments), "segment");
    QTEST(numbers(plan.close), "close");
    QTEST(numbers(plan.closeDeadSide), "deadSide");
    QTEST(numbers(plan.passedOver), "stuck");
    QTEST(nodes(plan.segmentsBeyond), "beyond");
    QTEST(lost.join(QLatin1Char(' ')), "sourceLost");
    QTEST(plan.out.services, "out");
    QTEST(plan.outBeyond.services, "outBeyond");
}

QTEST_GUILESS_MAIN(TestNet3Cases)
#include "test_net3_cases.moc"
