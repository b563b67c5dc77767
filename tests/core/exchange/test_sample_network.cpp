// SPDX-License-Identifier: GPL-3.0-or-later
// The invented town's pipe network, from its files as they are: everybody on a main, every main
// fed, nothing in the report that the town's README does not explain.
#include "core/exchange/read_layer.h"
#include "core/mains/build_network.h"
#include "core/mains/valve_importance.h"

#include <QFile>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QTest>

using namespace keyround;
using Kind = NetworkNoteKind;

namespace {

QString pathOf(const char *name)
{
    return QStringLiteral(KEYROUND_SOURCE_DIR "/sample-project/data/") + QLatin1String(name);
}

std::vector<Source> sources()
{
    QFile file(pathOf("sources.geojson"));
    std::vector<Source> rows;
    if (!file.open(QIODevice::ReadOnly))
        return rows;
    const QJsonArray features =
        QJsonDocument::fromJson(file.readAll()).object().value(QLatin1String("features")).toArray();
    for (const QJsonValue &feature : features) {
        const QJsonValue properties = feature[QLatin1String("properties")];
        const QJsonValue place = feature[QLatin1String("geometry")][QLatin1String("coordinates")];
        Source source;
        source.number = properties[QLatin1String("SOURCE_NO")].toString();
        source.name = properties[QLatin1String("NAME")].toString();
        source.kind = properties[QLatin1String("KIND")].toString() == QLatin1String("Tank")
                          ? SourceKind::Tank
                          : SourceKind::Plant;
        source.place = {place[1].toDouble(), place[0].toDouble()};
        rows.push_back(std::move(source));
    }
    return rows;
}

QString told(const NetworkReport &report)
{
    QStringList lines;
    for (const NetworkNote &note : report.notes)
        lines << note.message;
    return lines.mid(0, 20).join(QLatin1Char('\n'));
}

} // namespace

class TestSampleNetwork : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase();
    void sourcesAreWhereTheReadmeSays();
    void everybodyIsOnAMain();
    void reportHoldsOnlyWhatIsMeant();
    void everyZoneIsFed();
    void singleShutsOfTheTown();
    void aBreakWithAStuckValve();
    void whatMattersMost();

private:
    NetworkInput m_input;
    BuiltNetwork m_built;
    ValveStates m_states;
};

void TestSampleNetwork::initTestCase()
{
    constexpr int townEpsg = 3422; // sample-project/README.md
    auto valves = readValves({.path = pathOf("valves.csv"), .epsg = townEpsg});
    auto mains = readMains({.path = pathOf("mains.gpkg")});
    auto hydrants = readHydrants({.path = pathOf("hydrants.geojson")});
    auto services = readServices({.path = pathOf("services.csv"), .epsg = townEpsg});
    QVERIFY(valves && mains && hydrants && services);
    for (ValveRow &row : valves->rows)
        m_input.valves.push_back(std::move(row.valve));
    m_input.mains = std::move(mains->rows);
    m_input.hydrants = std::move(hydrants->rows);
    m_input.services = std::move(services->rows);
    m_input.sources = sources();
    auto built = buildNetwork(m_input, NetworkOptions{}, NetworkFixes{});
    QVERIFY(built);
    m_built = std::move(*built);
    m_states = statesAsDesigned(m_built.network);
}

void TestSampleNetwork::sourcesAreWhereTheReadmeSays()
{
    QCOMPARE(m_input.sources.size(), std::size_t{4});
    const auto stands = [this](const char *name, GeoPoint place) {
        return std::any_of(m_input.sources.begin(), m_input.sources.end(),
                           [&](const Source &source) {
                               return source.name.startsWith(QLatin1String(name)) &&
                                      distanceBetween(source.place, place).value < 2.0;
                           });
    };
    QVERIFY(stands("Treatment Plant", {38.72063, -116.07467}));
    QVERIFY(stands("North Tank", {38.73238, -116.06230}));
    QVERIFY(stands("East Tank", {38.73169, -116.03584}));
    QVERIFY(stands("South Tank", {38.70379, -116.05729}));
}

void TestSampleNetwork::everybodyIsOnAMain()
{
    const auto allPlaced = [](const auto &things) {
        return std::all_of(things.begin(), things.end(),
                           [](const auto &thing) { return thing.segment != noIndex; });
    };
    QVERIFY(allPlaced(m_built.network.services));
    QVERIFY(allPlaced(m_built.network.hydrants));
    QVERIFY(allPlaced(m_built.network.sources));
    const auto retired = std::count_if(m_input.valves.begin(), m_input.valves.end(),
                                       [](const Valve &valve) { return valve.retired; });
    // Two valves have no coordinates, on purpose; one of them might be retired as well.
    QCOMPARE(m_built.network.valves.size() + static_cast<std::size_t>(retired) +
                 static_cast<std::size_t>(m_built.report.count(Kind::ValveWithoutPlace)),
             m_input.valves.size());
    QCOMPARE(m_built.report.count(Kind::ValveRetired), static_cast<int>(retired));
}

void TestSampleNetwork::reportHoldsOnlyWhatIsMeant()
{
    QCOMPARE(m_built.report.count(Kind::ValveWithoutPlace), 2);
    const int explained =
        m_built.report.count(Kind::ValveWithoutPlace) + m_built.report.count(Kind::ValveRetired);
    QVERIFY2(static_cast<int>(m_built.report.notes.size()) == explained,
             qPrintable(told(m_built.report)));
}

void TestSampleNetwork::everyZoneIsFed()
{
    // With the boundary valves closed each source feeds its own part and everybody is served.
    QCOMPARE(m_built.report.count(Kind::PieceWithoutSource), 0);
    const NetIndex any = m_built.network.services.front().segment;
    const ShutPlan plan = planShut(m_built.network, m_states, breakInSegment(m_built.network, any));
    QCOMPARE(plan.servicesDryBefore, 0);
    int dry = 0;
    for (NetIndex segment = 0; segment < m_built.network.segmentCount; ++segment) {
        if (m_built.network.loads[segment].services == 0)
            continue;
        dry += planShut(m_built.network, m_states, breakInSegment(m_built.network, segment))
                   .servicesDryBefore;
    }
    QCOMPARE(dry, 0);
}

void TestSampleNetwork::singleShutsOfTheTown()
{
    const SingleShuts all(m_built.network, m_states);
    int cutting = 0;
    for (NetIndex i = 0; i < m_built.network.valves.size(); ++i) {
        QCOMPARE(all.of(i), shutOne(m_built.network, m_states, i).out);
        cutting += all.of(i).services > 0 ? 1 : 0;
    }
    qInfo("%d valves of %zu cut somebody off alone", cutting, m_built.network.valves.size());
    QVERIFY(cutting > 20);
    // The valve on the only main to the lane beyond the wash, and every hydrant's own.
    QVERIFY(std::count_if(m_input.valves.begin(), m_input.valves.end(), [&](const Valve &valve) {
                const NetIndex index = m_built.network.valve(valve.number);
                return index != noIndex && valve.role == ValveRole::HydrantLead &&
                       all.of(index).hydrants == 1;
            }) >= 290);
}

void TestSampleNetwork::aBreakWithAStuckValve()
{
    // Where every 97th service is tapped: a valve that sticks never makes the shut smaller, and a
    // plan's "if it fails" is what the trace with that valve stuck says.
    const ValveStates unknown = statesAsDesigned(m_built.network, Holds::Unknown);
    int grew = 0;
    for (std::size_t i = 0; i < m_input.services.size(); i += 97) {
        const BreakAt at = breakInSegment(m_built.network, m_built.network.services[i].segment);
        const ShutPlan plan = planShut(m_built.network, unknown, at);
        QVERIFY(plan.out.services > 0);
        for (const IfItFails &fails : plan.ifFails) {
            ValveStates stuck = unknown;
            stuck[fails.valve].holds = Holds::DoesNotTurn;
            const ShutPlan then = planShut(m_built.network, stuck, at);
            QCOMPARE(then.outAltogether(), plan.outAltogether() + fails.more);
            grew += fails.more.services > 0 ? 1 : 0;
        }
    }
    QVERIFY(grew > 20);
}

void TestSampleNetwork::whatMattersMost()
{
    const auto all = valveImportance(m_built.network, m_states);
    const auto most = std::max_element(all.begin(), all.end(), [](const auto &a, const auto &b) {
        return a.moreAtMost < b.moreAtMost;
    });
    QVERIFY(most != all.end() && most->moreAtMost > 20);
    const auto shuts = largestShuts(m_built.network, m_states, 3);
    QCOMPARE(shuts.size(), std::size_t{3});
    qInfo("worst to stick: %s, %d more; largest shut %d services",
          qPrintable(m_built.network.valves[static_cast<std::size_t>(most - all.begin())].number),
          most->moreAtMost, shuts.front().out.services);
}

QTEST_GUILESS_MAIN(TestSampleNetwork)
#include "test_sample_network.moc"
