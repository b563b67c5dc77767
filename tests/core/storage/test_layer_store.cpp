// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/layer_store.h"
#include "core/storage/line_text.h"
#include "tests/core/storage/fixtures.h"

#include <QTest>

#include <rapidcheck.h>

#include <cmath>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

FeatureId newId()
{
    return FeatureId{newUuid7(someDay)};
}

Street someStreet(const QString &key)
{
    Street street;
    street.id = newId();
    street.key = key;
    street.name = QString::fromUtf8("Stra\xC3\x9F"
                                    "e <i>1</i>");
    street.kind = StreetClass::Collector;
    street.oneWay = OneWay::Backward;
    street.metresPerSecond = 0.1 + 0.2;
    street.drivable = false;
    street.junctions = JunctionRule::SharedNodes;
    street.line = {{40.1, -88.1}, {1.0 / 3.0, -1e-9}, {-89.999999999999986, 179.99999999999997}};
    return street;
}

} // namespace

class TestLayerStore : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void everyFieldSurvivesReopening();
    void putRewritesKnownRowsAndDeletesNothing();
    void putIsAllOrNone();
    void everyKindHasItsKey();
    void linesReadBackTheSame();
    void brokenLinesAreNamed_data();
    void brokenLinesAreNamed();
};

void TestLayerStore::everyFieldSurvivesReopening()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    const Street street = someStreet(QStringLiteral("s-1"));
    Street plainStreet;
    plainStreet.id = newId();
    plainStreet.key = QStringLiteral("s-2");
    const Main main{newId(),
                    QStringLiteral("M1"),
                    NominalSize{32},
                    awkwardText(),
                    1950,
                    QStringLiteral("Low"),
                    {{40.1, -88.1}, {40.2, -88.2}}};
    const Main plainMain{newId(), QStringLiteral("M2"), {}, {}, {}, {}, {}};
    const Hydrant hydrant{newId(), QStringLiteral("H1"), {40.1, -88.1}, awkwardText()};
    const Hydrant plainHydrant{newId(), QStringLiteral("H2"), {}, {}};
    const Service service{newId(),
                          QStringLiteral("S1"),
                          {40.1, -88.1},
                          awkwardText(),
                          QStringLiteral("Mx"),
                          QStringLiteral("555 0100"),
                          QStringLiteral("M1"),
                          true};
    const Service plainService{newId(), QStringLiteral("S2"), {}, {}, {}, {}, {}, false};
    {
        const auto project = Project::create(path, UnitSystem::Metric);
        VERIFY_OK(project);
        LayerStore &layers = (*project)->layers();
        VERIFY_OK(layers.put(std::vector{street, plainStreet}));
        VERIFY_OK(layers.put(std::vector{main, plainMain}));
        VERIFY_OK(layers.put(std::vector{hydrant, plainHydrant}));
        VERIFY_OK(layers.put(std::vector{service, plainService}));
    }
    const auto project = Project::open(path);
    VERIFY_OK(project);
    const LayerStore &layers = (*project)->layers();
    QVERIFY(layers.streets().value() == (std::vector{street, plainStreet}));
    QVERIFY(layers.mains().value() == (std::vector{main, plainMain}));
    QVERIFY(layers.hydrants().value() == (std::vector{hydrant, plainHydrant}));
    QVERIFY(layers.services().value() == (std::vector{service, plainService}));
}

void TestLayerStore::putRewritesKnownRowsAndDeletesNothing()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    LayerStore &layers = (*project)->layers();
    const Hydrant first{newId(), QStringLiteral("H1"), {40, -88}, QStringLiteral("old")};
    const Hydrant second{newId(), QStringLiteral("H2"), {40, -88}, QStringLiteral("stays")};
    VERIFY_OK(layers.put(std::vector{first, second}));
    Hydrant again{newId(), QStringLiteral("H1"), {41, -89}, QStringLiteral("new")};
    VERIFY_OK(layers.put(std::vector{again}));
    again.id = first.id; // others may refer to the row, so its id is kept
    QVERIFY(layers.hydrants().value() == (std::vector{again, second}));
}

void TestLayerStore::putIsAllOrNone()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    LayerStore &layers = (*project)->layers();
    const Main good{newId(), QStringLiteral("M1"), {}, {}, {}, {}, {{40, -88}}};
    const Main bad{newId(), QStringLiteral("M2"), {}, {}, {}, {}, {{40, -88}, {std::nan(""), 1}}};
    const Main nameless{newId(), {}, {}, {}, {}, {}, {}};
    for (const Main &wrong : {bad, nameless}) {
        const Status refused = layers.put(std::vector{good, wrong});
        QVERIFY(!refused);
        QCOMPARE(refused.error().code, ErrorCode::BadInput);
        QVERIFY(layers.mains()->empty());
    }
}

void TestLayerStore::everyKindHasItsKey()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    std::vector<Street> streets;
    for (int kind = 0; kind <= static_cast<int>(StreetClass::Path); ++kind) {
        for (int way = 0; way <= static_cast<int>(OneWay::Backward); ++way) {
            Street street = someStreet(QStringLiteral("%1-%2").arg(kind).arg(way));
            street.kind = static_cast<StreetClass>(kind);
            street.oneWay = static_cast<OneWay>(way);
            streets.push_back(street);
        }
    }
    VERIFY_OK((*project)->layers().put(streets));
    QVERIFY((*project)->layers().streets().value() == streets);

    std::vector<Valve> valves;
    for (int kind = 0; kind <= static_cast<int>(ValveRole::Other); ++kind) {
        Valve valve = plainValve(QString::number(kind));
        valve.role = static_cast<ValveRole>(kind);
        valve.type = static_cast<ValveType>(std::min(kind, static_cast<int>(ValveType::Other)));
        valves.push_back(valve);
    }
    VERIFY_OK((*project)->valves().addAll(valves, author(), moment(), QString()));
    QVERIFY((*project)->valves().all().value() == valves);
}

void TestLayerStore::linesReadBackTheSame()
{
    QVERIFY(rc::check("a line reads back bit for bit", [] {
        const auto numbers = *rc::gen::arbitrary<std::vector<std::pair<double, double>>>();
        GeoLine line;
        for (const auto &[latitude, longitude] : numbers) {
            if (std::isfinite(latitude) && std::isfinite(longitude)) {
                line.push_back({latitude, longitude});
            }
        }
        const auto read = lineFromText(lineText(line));
        RC_ASSERT(read.has_value());
        RC_ASSERT(*read == line);
    }));
    QCOMPARE(lineText({{40.5, -88.25}, {41, -89}}),
             QStringLiteral("LINESTRING (-88.25 40.5, -89 41)"));
}

void TestLayerStore::brokenLinesAreNamed_data()
{
    QTest::addColumn<QString>("text");
    QTest::newRow("empty") << QString();
    QTest::newRow("word") << QStringLiteral("POINT (1 2)");
    QTest::newRow("one number") << QStringLiteral("LINESTRING (1)");
    QTest::newRow("no end") << QStringLiteral("LINESTRING (1 2");
    QTest::newRow("more") << QStringLiteral("LINESTRING (1 2) 3");
    QTest::newRow("letters") << QStringLiteral("LINESTRING (a b)");
    QTest::newRow("comma at the end") << QStringLiteral("LINESTRING (1 2, )");
}

void TestLayerStore::brokenLinesAreNamed()
{
    QFETCH(QString, text);
    const auto read = lineFromText(text);
    QVERIFY(!read);
    QCOMPARE(read.error().code, ErrorCode::Damaged);
}

QTEST_GUILESS_MAIN(TestLayerStore)
#include "test_layer_store.moc"
