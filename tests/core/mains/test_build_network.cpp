// SPDX-License-Identifier: GPL-3.0-or-later
// The pipe network from layers: how mains meet, where valves, hydrants, services and sources go,
// what people decide by hand, and what is said of layers that are bad. Lengths are metres east and
// north of an invented origin.
#include "core/mains/build_network.h"
#include "core/mains/shut.h"

#include <QSet>
#include <QTest>

using namespace keyround;
using namespace Qt::Literals::StringLiterals;
using Kind = NetworkNoteKind;

namespace {

const GeoPoint origin{38.7, -116.0};

GeoPoint at(double east, double north)
{
    return LocalPlane(origin).toGeo({east, north});
}

Main mainOf(const QString &number, const std::vector<PlanePoint> &line, int inches = 8)
{
    Main main;
    main.number = number;
    main.size = NominalSize::ofInches(inches);
    main.line.reserve(line.size());
    for (const PlanePoint &point : line)
        main.line.push_back(at(point.x, point.y));
    return main;
}

Valve valveAt(const QString &number, double east, double north, int inches = 8,
              ValveRole role = ValveRole::MainLine)
{
    Valve valve;
    valve.number = number;
    valve.place = at(east, north);
    valve.size = NominalSize::ofInches(inches);
    valve.role = role;
    return valve;
}

Service serviceAt(const QString &number, double east, double north, const QString &main = {})
{
    Service service;
    service.number = number;
    service.place = at(east, north);
    service.mainNumber = main;
    return service;
}

Hydrant hydrantAt(const QString &number, double east, double north)
{
    return {{}, number, at(east, north), {}};
}

Source sourceAt(const QString &number, double east, double north)
{
    return {{}, number, {}, SourceKind::Tank, at(east, north)};
}

BuiltNetwork built(const NetworkInput &input, const NetworkFixes &fixes = {},
                   const NetworkOptions &options = {})
{
    auto result = buildNetwork(input, options, fixes);
    return result ? std::move(*result) : BuiltNetwork{};
}

/// A main of 100 m from a tank, with a branch north at its middle; a valve well along each part.
NetworkInput tee()
{
    NetworkInput input;
    input.mains = {mainOf(u"M1"_s, {{0, 0}, {50, 0}, {100, 0}}),
                   mainOf(u"M2"_s, {{50, 0}, {50, 60}}, 6)};
    input.valves = {valveAt(u"V1"_s, 20, 0.1), valveAt(u"V2"_s, 50, 10, 6),
                    valveAt(u"V3"_s, 80, 0)};
    input.services = {serviceAt(u"S1"_s, 10, 20), serviceAt(u"S2"_s, 40, 20, u"M1"_s),
                      serviceAt(u"S3"_s, 55, 50), serviceAt(u"S4"_s, 95, 10)};
    input.hydrants = {hydrantAt(u"H1"_s, 50, 60)};
    input.sources = {sourceAt(u"T"_s, 0, 1)};
    return input;
}

const NetworkNote *noteOf(const BuiltNetwork &network, Kind kind, const QString &number = {})
{
    for (const NetworkNote &note : network.report.notes) {
        if (note.kind == kind && (number.isEmpty() || note.number == number))
            return &note;
    }
    return nullptr;
}

QString messages(const BuiltNetwork &network)
{
    QStringList lines;
    for (const NetworkNote &note : network.report.notes)
        lines << note.message;
    return lines.join(QLatin1Char('\n'));
}

NetIndex segmentOf(const BuiltNetwork &net, const QString &service)
{
    for (const NetService &one : net.network.services) {
        if (one.number == service)
            return one.segment;
    }
    return noIndex;
}

int outBy(const BuiltNetwork &net, const QString &valve)
{
    return shutOne(net.network, statesAsDesigned(net.network), net.network.valve(valve))
        .out.services;
}

} // namespace

class TestBuildNetwork : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void teeWithinTheLine();
    void meetings_data();
    void meetings();
    void crossingsStayApart();
    void apartAndJoinedByHand();
    void valveAtATee_data();
    void valveAtATee();
    void valveChosenByHand();
    void valveAtAJointIsNotDoubted();
    void valvesInSeries();
    void servicesFollowTheirMain();
    void sources();
    void badLayers_data();
    void badLayers();
    void valvesThatCloseNothing();
    void fixesThatNoLongerFit();
    void everythingIsPlacedOrTold();
    void sameInputSameNetwork();
    void emptyLayers();
    void cancelling();
    void breakPlaces();
};

void TestBuildNetwork::teeWithinTheLine()
{
    const BuiltNetwork net = built(tee());
    QVERIFY2(net.report.notes.empty(), qPrintable(messages(net)));
    QCOMPARE(net.network.nodes.size(), std::size_t{4});
    QCOMPARE(net.network.pipes.size(), std::size_t{3});
    QCOMPARE(net.network.pieces.size(), std::size_t{6});
    QCOMPARE(net.network.segmentCount, NetIndex{4});
    QCOMPARE(net.network.sources.front().segment, segmentOf(net, u"S1"_s));
    QVERIFY(segmentOf(net, u"S1"_s) != segmentOf(net, u"S2"_s));
    QVERIFY(segmentOf(net, u"S2"_s) != segmentOf(net, u"S3"_s));
    QCOMPARE(net.network.hydrants.front().segment, segmentOf(net, u"S3"_s));
    QCOMPARE(outBy(net, u"V1"_s), 3);
    QCOMPARE(outBy(net, u"V2"_s), 1);
    QCOMPARE(outBy(net, u"V3"_s), 1);
    // Positions along come out in metres of the ellipsoid.
    const NetValve &valve = net.network.valves[net.network.valve(u"V3"_s)];
    QVERIFY(std::abs(valve.along - 80.0) < 0.01);
    double length = 0;
    for (const NetPiece &piece : net.network.pieces)
        length += lengthOf(net.network.lineOf(piece)).value;
    QVERIFY2(std::abs(length - 160.0) < 0.01, qPrintable(QString::number(length)));
}

void TestBuildNetwork::meetings_data()
{
    QTest::addColumn<double>("gap");
    QTest::addColumn<double>("east");
    QTest::addColumn<bool>("joined");
    QTest::newRow("end on end") << 0.0 << 100.0 << true;
    QTest::newRow("end near end") << 0.25 << 100.0 << true;
    QTest::newRow("end off end") << 0.4 << 100.0 << false;
    QTest::newRow("end on a point within") << 0.0 << 50.0 << true;
    QTest::newRow("end near a point within") << 0.25 << 50.0 << true;
    QTest::newRow("end on the line between points") << 0.0 << 70.0 << true;
    QTest::newRow("end near the line between points") << 0.29 << 70.0 << true;
    QTest::newRow("end off the line") << 0.5 << 70.0 << false;
}

void TestBuildNetwork::meetings()
{
    QFETCH(double, gap);
    QFETCH(double, east);
    QFETCH(bool, joined);
    NetworkInput input = tee();
    input.valves.clear();
    input.mains[1] = mainOf(u"M2"_s, {{east, 60}, {east, gap}});
    input.hydrants.clear();
    input.services = {serviceAt(u"S"_s, east, 59)};
    const BuiltNetwork net = built(input);
    QCOMPARE(net.network.segmentCount, NetIndex(joined ? 1 : 2));
    QCOMPARE(noteOf(net, Kind::EndStopsShort) == nullptr, joined);
    QCOMPARE(noteOf(net, Kind::PieceWithoutSource) == nullptr, joined);
    if (!joined) {
        const NetworkNote *note = noteOf(net, Kind::EndStopsShort, u"M2"_s);
        QVERIFY(note != nullptr);
        QVERIFY(std::abs(note->metres - gap) < 0.01);
        QCOMPARE(note->other, u"M1"_s);
        QVERIFY(note->message.contains(u"last end of main M2"_s));
    }
}

void TestBuildNetwork::crossingsStayApart()
{
    NetworkInput input = tee();
    // Over M1 without a point in common, and over it at its own inner point.
    input.mains.push_back(mainOf(u"OVER"_s, {{30, -40}, {30, 40}}));
    input.mains.push_back(mainOf(u"SHARED"_s, {{20, -40}, {50, 0}, {90, 40}}));
    BuiltNetwork net = built(input);
    QCOMPARE(net.report.count(Kind::PieceWithoutSource), 1);
    // A branch ends where M1 and SHARED have their point in common, but SHARED is cut there too:
    // an end at a place joins everything that lies there.
    QCOMPARE(noteOf(net, Kind::PieceWithoutSource, u"OVER"_s) == nullptr, false);

    input.mains[3] = mainOf(u"SHARED"_s, {{20, -40}, {75, 0}, {90, 40}});
    input.mains[0] = mainOf(u"M1"_s, {{0, 0}, {50, 0}, {75, 0}, {100, 0}});
    net = built(input);
    const NetworkNote *note = noteOf(net, Kind::CrossingApart);
    QVERIFY(note != nullptr);
    QVERIFY(note->message.contains(u"M1"_s) && note->message.contains(u"SHARED"_s));
    QVERIFY(noteOf(net, Kind::PieceWithoutSource, u"SHARED"_s) != nullptr);

    NetworkFixes fixes;
    fixes.crosses = {{u"SHARED"_s, u"M1"_s}};
    net = built(input, fixes);
    QVERIFY(noteOf(net, Kind::CrossingApart) == nullptr);
    QVERIFY(noteOf(net, Kind::PieceWithoutSource, u"SHARED"_s) == nullptr);
}

void TestBuildNetwork::apartAndJoinedByHand()
{
    NetworkInput input = tee();
    NetworkFixes fixes;
    fixes.aparts = {{u"M2"_s, LineEnd::First, u"M1"_s}};
    BuiltNetwork net = built(input, fixes);
    QVERIFY(noteOf(net, Kind::PieceWithoutSource, u"M2"_s) != nullptr);
    QVERIFY(noteOf(net, Kind::EndStopsShort) == nullptr); // somebody has said so

    input.mains[1] = mainOf(u"M2"_s, {{50, 7}, {50, 60}}, 6);
    net = built(input);
    QVERIFY(noteOf(net, Kind::PieceWithoutSource, u"M2"_s) != nullptr);
    fixes = {};
    fixes.joins = {{u"M2"_s, LineEnd::First, u"M1"_s}};
    net = built(input, fixes);
    QVERIFY2(net.report.notes.empty(), qPrintable(messages(net)));
    QCOMPARE(outBy(net, u"V2"_s), 1);
}

void TestBuildNetwork::valveAtATee_data()
{
    QTest::addColumn<int>("inches");
    QTest::addColumn<int>("role");
    QTest::addColumn<int>("out");
    QTest::addColumn<bool>("told");
    const auto role = [](ValveRole one) { return static_cast<int>(one); };
    // On the branch it cuts off S3 alone.
    QTest::newRow("by its size") << 6 << role(ValveRole::MainLine) << 1 << false;
    QTest::newRow("by its role") << 8 << role(ValveRole::HydrantLead) << 1 << false;
    QTest::newRow("size of two branches") << 8 << role(ValveRole::MainLine) << 1 << true;
    QTest::newRow("size of none") << 12 << role(ValveRole::MainLine) << 1 << true;
}

void TestBuildNetwork::valveAtATee()
{
    QFETCH(int, inches);
    QFETCH(int, role);
    NetworkInput input = tee();
    input.valves = {valveAt(u"V"_s, 50.1, 0.1, inches, static_cast<ValveRole>(role))};
    const BuiltNetwork net = built(input);
    const NetworkNote *note = noteOf(net, Kind::ValveAmbiguous, u"V"_s);
    QTEST(note != nullptr, "told");
    QTEST(outBy(net, u"V"_s), "out");
    if (note != nullptr) {
        QCOMPARE(note->choices.size(), std::size_t{3});
        QCOMPARE(std::count_if(note->choices.begin(), note->choices.end(),
                               [](const BranchChoice &choice) { return choice.taken; }),
                 1);
        QVERIFY(note->message.contains(u"M2 (6 in)"_s));
        QVERIFY(note->message.contains(u"M1 (8 in), towards its first point"_s));
    }
}

void TestBuildNetwork::valveChosenByHand()
{
    NetworkInput input = tee();
    input.valves = {valveAt(u"V"_s, 50.1, 0.1, 8)};
    NetworkFixes fixes;
    // Every choice that the report offers can be taken, and each parts something else.
    const BuiltNetwork doubtful = built(input);
    const std::vector<BranchChoice> choices = noteOf(doubtful, Kind::ValveAmbiguous)->choices;
    QSet<int> outs;
    for (const BranchChoice &choice : choices) {
        fixes.valves = {choice.fix};
        const BuiltNetwork net = built(input, fixes);
        QVERIFY2(net.report.count(Kind::ValveAmbiguous) == 0, qPrintable(messages(net)));
        QVERIFY(net.report.count(Kind::FixNotUsed) == 0);
        outs << outBy(net, u"V"_s);
    }
    // Towards the source all but S1 and S2 go dry, S4 towards the far end, S3 up the branch.
    fixes.valves = {{u"V"_s, u"M1"_s, Branch::TowardsFirst}};
    QCOMPARE(outBy(built(input, fixes), u"V"_s), 2);
    fixes.valves = {{u"V"_s, u"M1"_s, Branch::TowardsLast}};
    QCOMPARE(outBy(built(input, fixes), u"V"_s), 1);
    QVERIFY(outs.contains(2) && outs.contains(1));
}

void TestBuildNetwork::valveAtAJointIsNotDoubted()
{
    NetworkInput input;
    input.mains = {mainOf(u"M1"_s, {{0, 0}, {50, 0}}), mainOf(u"M2"_s, {{50, 0}, {100, 0}})};
    input.valves = {valveAt(u"V"_s, 50, 0, 8)};
    input.services = {serviceAt(u"S1"_s, 40, 5), serviceAt(u"S2"_s, 60, 5)};
    input.sources = {sourceAt(u"T"_s, 0, 0)};
    const BuiltNetwork net = built(input);
    QVERIFY2(net.report.notes.empty(), qPrintable(messages(net)));
    QCOMPARE(outBy(net, u"V"_s), 1);
}

void TestBuildNetwork::valvesInSeries()
{
    NetworkInput input = tee();
    input.valves = {valveAt(u"V1"_s, 20, 0), valveAt(u"V2"_s, 20, 0), valveAt(u"V3"_s, 21, 0)};
    const BuiltNetwork net = built(input);
    QCOMPARE(net.network.segmentCount, NetIndex{4});
    for (const NetValve &valve : net.network.valves) {
        QVERIFY(!valve.closesNothing());
        QCOMPARE(outBy(net, valve.number), 3);
    }
}

void TestBuildNetwork::servicesFollowTheirMain()
{
    NetworkInput input = tee();
    input.services = {serviceAt(u"NAMED"_s, 48, 55, u"M1"_s), serviceAt(u"NEAREST"_s, 48, 55),
                      serviceAt(u"WRONG"_s, 48, 55, u"M9"_s),
                      serviceAt(u"FAR"_s, 100, 900, u"M1"_s), serviceAt(u"LOST"_s, 100, 900)};
    Service unmeasured;
    unmeasured.number = u"NOWHERE"_s;
    input.services.push_back(unmeasured);
    unmeasured.number = u"NAMED ONLY"_s;
    unmeasured.mainNumber = u"M2"_s;
    input.services.push_back(unmeasured);
    BuiltNetwork net = built(input);
    QVERIFY(segmentOf(net, u"NAMED"_s) != segmentOf(net, u"NEAREST"_s));
    QCOMPARE(segmentOf(net, u"WRONG"_s), segmentOf(net, u"NEAREST"_s));
    QCOMPARE(segmentOf(net, u"LOST"_s), noIndex);
    QCOMPARE(segmentOf(net, u"NOWHERE"_s), noIndex);
    QCOMPARE(segmentOf(net, u"NAMED ONLY"_s), segmentOf(net, u"NEAREST"_s));
    QVERIFY(
        noteOf(net, Kind::ServiceMainUnknown, u"WRONG"_s)->message.contains(u"names main M9"_s));
    QVERIFY(std::abs(noteOf(net, Kind::ServiceFarFromItsMain, u"FAR"_s)->metres - 900) < 1);
    QVERIFY(std::abs(noteOf(net, Kind::ServiceNotPlaced, u"LOST"_s)->metres - 841.5) < 1);
    QVERIFY(noteOf(net, Kind::ServiceNotPlaced, u"NOWHERE"_s) != nullptr);
    QVERIFY(noteOf(net, Kind::ServiceNotPlaced, u"NAMED ONLY"_s)->message.contains(u"middle"_s));

    NetworkFixes fixes;
    fixes.services = {{u"NAMED"_s, u"M2"_s}, {u"LOST"_s, u"M2"_s}};
    net = built(input, fixes);
    QCOMPARE(segmentOf(net, u"NAMED"_s), segmentOf(net, u"NEAREST"_s));
    QCOMPARE(segmentOf(net, u"LOST"_s), segmentOf(net, u"NEAREST"_s));
    QVERIFY(noteOf(net, Kind::ServiceNotPlaced, u"LOST"_s) == nullptr);
}

void TestBuildNetwork::sources()
{
    NetworkInput input = tee();
    // Beside the dead end of M2, though M1's middle is nearer than that would need to be.
    input.sources = {sourceAt(u"END"_s, 60, 60), sourceAt(u"MIDDLE"_s, 30, -8),
                     sourceAt(u"AWAY"_s, 30, -300)};
    BuiltNetwork net = built(input);
    QCOMPARE(net.network.sources[0].segment, segmentOf(net, u"S3"_s));
    QCOMPARE(net.network.sources[1].segment, segmentOf(net, u"S2"_s));
    QCOMPARE(net.network.sources[2].segment, noIndex);
    QVERIFY(std::abs(noteOf(net, Kind::SourceNotPlaced, u"AWAY"_s)->metres - 300) < 0.5);
    NetworkFixes fixes;
    fixes.sources = {{u"AWAY"_s, u"M2"_s}};
    net = built(input, fixes);
    QCOMPARE(net.network.sources[2].segment != noIndex, true);
}

void TestBuildNetwork::badLayers_data()
{
    QTest::addColumn<QString>("what");
    QTest::addColumn<int>("kind");
    QTest::addColumn<QString>("number");
    QTest::addColumn<QString>("says");
    const auto row = [](const char *what, Kind kind, const char *number, const char *says) {
        QTest::newRow(what) << QString(QLatin1String(what)) << static_cast<int>(kind)
                            << QString(QLatin1String(number)) << QString(QLatin1String(says));
    };
    row("zero-length main", Kind::MainNotUsable, "Z", "Main Z has no length and was left out");
    row("main of one point", Kind::MainNotUsable, "Z", "has fewer than two places");
    row("points that are no place", Kind::MainPlacesLeftOut, "M1", "1 points of its line");
    row("main twice", Kind::MainTwice, "Z", "is the very line of main M2");
    row("main beside itself", Kind::MainTwice, "Z", "side by side");
    row("number twice", Kind::NumberTwice, "M2", "Main M2 is there more than once");
    row("several parts", Kind::MainInParts, "M2", "came in as 2 lines (M2, M2-2)");
    row("no source", Kind::NoSource, "", "No source is joined to the mains");
    row("piece without source", Kind::PieceWithoutSource, "Z", "no source reaches it");
    row("valve a mile away", Kind::ValveNotPlaced, "V9", "is 1.0 mi from the nearest main, M1");
    row("valve without place", Kind::ValveWithoutPlace, "V9", "Valve V9 has no place");
    row("retired valve", Kind::ValveRetired, "V9", "is retired and was left out");
    row("valve twice", Kind::NumberTwice, "V1", "Valve V1 is there more than once");
    row("hydrant away", Kind::HydrantNotPlaced, "H9", "164 ft from the nearest main");
    row("no mains", Kind::NoMains, "", "There are no mains");
}

void TestBuildNetwork::badLayers()
{
    QFETCH(QString, what);
    QFETCH(int, kind);
    NetworkInput input = tee();
    const auto is = [&](const char *name) { return what == QLatin1String(name); };
    if (is("zero-length main"))
        input.mains.push_back(mainOf(u"Z"_s, {{70, 0}, {70, 0}}));
    if (is("main of one point"))
        input.mains.push_back(mainOf(u"Z"_s, {{70, 0}}));
    if (is("points that are no place"))
        input.mains[0].line.insert(input.mains[0].line.begin() + 1, GeoPoint{0, 0});
    if (is("main twice"))
        input.mains.push_back(mainOf(u"Z"_s, {{50, 60}, {50, 0}}));
    if (is("main beside itself"))
        input.mains.push_back(mainOf(u"Z"_s, {{50, 0}, {50.4, 30}, {50, 60}}));
    if (is("number twice"))
        input.mains.push_back(mainOf(u"M2"_s, {{50, 60}, {90, 60}}, 6));
    if (is("several parts"))
        input.mains.push_back(mainOf(u"M2-2"_s, {{50, 60}, {90, 60}}, 6));
    if (is("no source"))
        input.sources.clear();
    if (is("piece without source"))
        input.mains.push_back(mainOf(u"Z"_s, {{0, 200}, {90, 200}}));
    if (is("valve a mile away"))
        input.valves.push_back(valveAt(u"V9"_s, 100 + metresPerMile, 0));
    if (is("valve without place")) {
        input.valves.push_back(valveAt(u"V9"_s, 10, 0));
        input.valves.back().place = {};
    }
    if (is("retired valve")) {
        input.valves.push_back(valveAt(u"V9"_s, 10, 0));
        input.valves.back().retired = true;
    }
    if (is("valve twice"))
        input.valves.push_back(valveAt(u"V1"_s, 30, 0));
    if (is("hydrant away"))
        input.hydrants.push_back(hydrantAt(u"H9"_s, 20, -50));
    if (is("no mains"))
        input.mains.clear();
    const BuiltNetwork net = built(input);
    QFETCH(QString, number);
    const NetworkNote *note = noteOf(net, static_cast<Kind>(kind), number);
    QVERIFY2(note != nullptr, qPrintable(messages(net)));
    QFETCH(QString, says);
    QVERIFY2(note->message.contains(says), qPrintable(note->message));
    QVERIFY(!headingFor(note->kind).isEmpty() && !keyFor(note->kind).isEmpty());
    // What is left still works: a retired valve, a twin or a wrong point changes no answer.
    if (!is("no mains") && !is("no source") && !is("main beside itself"))
        QCOMPARE(outBy(net, u"V2"_s), 1);
}

void TestBuildNetwork::valvesThatCloseNothing()
{
    NetworkInput input = tee();
    // A loop round V3 without a valve; nobody behind V4; a blow-off at a dead end has its use.
    input.mains.push_back(mainOf(u"LOOP"_s, {{70, 0}, {80, -20}, {90, 0}}));
    input.mains.push_back(mainOf(u"LEAD"_s, {{30, 0}, {30, -6}}, 6));
    input.valves.push_back(valveAt(u"V4"_s, 20, 0));
    input.valves.push_back(valveAt(u"END"_s, 99, 0));
    input.valves.push_back(valveAt(u"BLOW"_s, 50, 59, 6, ValveRole::BlowOff));
    input.valves.push_back(valveAt(u"LV"_s, 30, -2, 6, ValveRole::HydrantLead));
    input.services.erase(input.services.begin() + 3);
    input.hydrants = {hydrantAt(u"H1"_s, 50, 55)};
    const BuiltNetwork net = built(input);
    QCOMPARE(net.report.count(Kind::ValveClosesNothing), 3);
    QVERIFY(noteOf(net, Kind::ValveClosesNothing, u"V3"_s)->message.contains(u"lead round it"_s));
    QVERIFY(
        noteOf(net, Kind::ValveClosesNothing, u"END"_s)
            ->message.contains(u"only 3.3 ft of main"_s) ||
        noteOf(net, Kind::ValveClosesNothing, u"END"_s)->message.contains(u"only 3 ft of main"_s));
    QVERIFY(noteOf(net, Kind::ValveClosesNothing, u"LV"_s)->message.contains(u"no hydrant"_s));
}

void TestBuildNetwork::fixesThatNoLongerFit()
{
    NetworkFixes fixes;
    fixes.valves = {{u"V7"_s, u"M1"_s, Branch::Nearest}, {u"V1"_s, u"M7"_s, Branch::Nearest}};
    fixes.joins = {{u"M7"_s, LineEnd::First, u"M1"_s}};
    fixes.aparts = {{u"M1"_s, LineEnd::First, u"M7"_s}};
    fixes.crosses = {{u"M1"_s, u"M7"_s}, {u"M1"_s, u"M2"_s}};
    fixes.services = {{u"S1"_s, u"M7"_s}, {u"S7"_s, u"M1"_s}};
    fixes.hydrants = {{u"H7"_s, u"M1"_s}};
    fixes.sources = {{u"T7"_s, u"M1"_s}};
    const BuiltNetwork net = built(tee(), fixes);
    // M1 and M2 do have a point in common, so that one of the ten is used.
    QCOMPARE(net.report.count(Kind::FixNotUsed), 9);
    for (const NetworkNote &note : net.report.notes)
        QVERIFY2(note.message.startsWith(u"Decided by hand, but not used: "_s),
                 qPrintable(note.message));
    QCOMPARE(outBy(net, u"V1"_s), 3); // as without them
}

void TestBuildNetwork::everythingIsPlacedOrTold()
{
    NetworkInput input = tee();
    for (int i = 0; i < 300; ++i) {
        const double east = (i * 37) % 400 - 150;
        const double north = (i * 53) % 300 - 120;
        input.valves.push_back(valveAt(u"X%1"_s.arg(i), east, north / 20));
        input.services.push_back(serviceAt(u"Y%1"_s.arg(i), east, north));
        input.hydrants.push_back(hydrantAt(u"Z%1"_s.arg(i), east, north));
    }
    const BuiltNetwork net = built(input);
    const auto placed = [](const auto &things) {
        return std::count_if(things.begin(), things.end(),
                             [](const auto &thing) { return thing.segment != noIndex; });
    };
    QCOMPARE(net.network.valves.size() +
                 static_cast<std::size_t>(net.report.count(Kind::ValveNotPlaced)),
             input.valves.size());
    QVERIFY(net.report.count(Kind::ValveNotPlaced) > 50);
    QCOMPARE(placed(net.network.services) + net.report.count(Kind::ServiceNotPlaced), 304);
    QVERIFY(net.report.count(Kind::ServiceNotPlaced) > 50);
    QCOMPARE(placed(net.network.hydrants) + net.report.count(Kind::HydrantNotPlaced), 301);
    Load all;
    for (const Load &load : net.network.loads)
        all += load;
    QCOMPARE(all.services, static_cast<int>(placed(net.network.services)));
}

void TestBuildNetwork::sameInputSameNetwork()
{
    NetworkInput input = tee();
    input.valves.push_back(valveAt(u"V9"_s, 50.1, 0.1, 12));
    const BuiltNetwork a = built(input);
    const BuiltNetwork b = built(input);
    QCOMPARE(messages(a), messages(b));
    QCOMPARE(a.network.valves.size(), b.network.valves.size());
    for (std::size_t i = 0; i < a.network.valves.size(); ++i) {
        QCOMPARE(a.network.valves[i].sideFrom, b.network.valves[i].sideFrom);
        QCOMPARE(a.network.valves[i].sideTo, b.network.valves[i].sideTo);
        QCOMPARE(a.network.valves[i].pipe, b.network.valves[i].pipe);
    }
}

void TestBuildNetwork::emptyLayers()
{
    const BuiltNetwork net = built({});
    QCOMPARE(net.network.segmentCount, NetIndex{0});
    QCOMPARE(net.report.notes.size(), std::size_t{1});
    QCOMPARE(net.report.notes.front().kind, Kind::NoMains);
    QVERIFY(!breakNear(net.network, origin, Metres{30}, UnitSystem::Us));
    const SingleShuts all(net.network, {});
    QVERIFY(!breakOnMain(net.network, u"M1"_s, {}, UnitSystem::Us));
}

void TestBuildNetwork::cancelling()
{
    int calls = 0;
    const auto result = buildNetwork(tee(), {}, {}, [&](double, const QString &) {
        ++calls;
        return calls < 2;
    });
    QVERIFY(!result);
    QCOMPARE(result.error().code, ErrorCode::Cancelled);
}

void TestBuildNetwork::breakPlaces()
{
    const BuiltNetwork net = built(tee());
    const auto near = breakNear(net.network, at(90, 5), Metres{30}, UnitSystem::Metric);
    QVERIFY(near);
    QCOMPARE(near->segments, std::vector<NetIndex>{segmentOf(net, u"S4"_s)});
    QCOMPARE(near->words, u"on main M1, 90 m from its first point"_s);
    const auto far = breakNear(net.network, at(90, 500), Metres{30}, UnitSystem::Metric);
    QVERIFY(!far);
    QVERIFY(far.error().message.contains(u"M2"_s));
    QCOMPARE(breakOnMain(net.network, u"M1"_s, Metres{30}, UnitSystem::Us)->segments,
             std::vector<NetIndex>{segmentOf(net, u"S2"_s)});
    // Without a place: the stretch between V1 and V3, the longest, and the plan says so.
    const auto onMain = breakOnMain(net.network, u"M1"_s, {}, UnitSystem::Us);
    QVERIFY(onMain && onMain->hasOtherStretches);
    QCOMPARE(onMain->segments, std::vector<NetIndex>{segmentOf(net, u"S2"_s)});
    const ShutPlan plan = planShut(net.network, statesAsDesigned(net.network), *onMain);
    QCOMPARE(plan.close.size(), std::size_t{1});
    QCOMPARE(plan.closeDeadSide.size(), std::size_t{2});
    QCOMPARE(plan.out.services, 1);
    QCOMPARE(plan.outBeyond.services, 2);
    QVERIFY(plan.notes.join(QLatin1Char(' ')).contains(u"longest stretch"_s));
    const auto atTank = breakOnMain(net.network, u"M1"_s, Metres{1}, UnitSystem::Us);
    const ShutPlan first = planShut(net.network, statesAsDesigned(net.network), *atTank);
    QCOMPARE(first.sourcesLost.size(), std::size_t{1});
    QVERIFY(first.notes.join(QLatin1Char(' ')).contains(u"The tank T lies inside the shut"_s));
    QVERIFY(breakAtNode(net.network, 0).place.isValid());
}

QTEST_GUILESS_MAIN(TestBuildNetwork)
#include "test_build_network.moc"
