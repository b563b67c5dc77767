// SPDX-License-Identifier: GPL-3.0-or-later
// The invented town's valves age by a law that is known (sample-project/README.md, with its figures
// in generator/ageing_law.h): what is worked out from its visits must have that law inside its
// band.
#include "core/condition/ageing.h"
#include "core/exchange/read_layer.h"
#include "core/schedule/life_law.h"
#include "sample-project/generator/ageing_law.h"
#include "tests/support/band_at.h"

#include <QHash>
#include <QTest>

#include <cmath>
#include <cstdio>

using namespace keyround;

namespace {

ReadRequest requestFor(const char *name)
{
    ReadRequest request;
    request.path =
        QStringLiteral(KEYROUND_SOURCE_DIR "/sample-project/data/") + QLatin1String(name);
    request.epsg = 3422; // the state plane of the tables (sample-project/README.md)
    return request;
}

} // namespace

class TestSampleAgeing : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase();
    void lawIsInsideTheBand_data();
    void lawIsInsideTheBand();

private:
    std::vector<Valve> m_valves;
    Histories m_histories;
};

void TestSampleAgeing::initTestCase()
{
    const auto valves = readValves(requestFor("valves.csv"));
    ReadRequest request = requestFor("visits.csv");
    request.epsg = {};
    const auto visits = readVisits(request);
    QVERIFY(valves.has_value() && visits.has_value());
    QHash<QString, ValveId> byNumber;
    for (const ValveRow &row : valves->rows) {
        Valve valve = row.valve;
        valve.id = ValveId{uuidFromContent(valve.number.toUtf8())};
        byNumber.insert(valve.number, valve.id);
        m_valves.push_back(std::move(valve));
    }
    std::vector<Visit> read;
    for (const VisitRow &row : visits->rows) {
        Visit visit = row.visit;
        visit.valve = byNumber.value(row.valveNumber);
        read.push_back(std::move(visit));
    }
    m_histories = readHistories(m_valves, read, {}, Tolerance{});
}

void TestSampleAgeing::lawIsInsideTheBand_data()
{
    QTest::addColumn<int>("type");
    QTest::addColumn<int>("fromInches");
    QTest::addColumn<int>("toInches");
    QTest::addColumn<double>("shape");
    QTest::addColumn<double>("scale");
    const auto row = [](const char *name, ValveType type, sample::Kind kind, int from, int to) {
        const sample::WeibullLaw law = sample::lifeOf(kind, from);
        QTest::newRow(name) << static_cast<int>(type) << from << to << law.shape << law.scale;
    };
    row("gates up to 8 in", ValveType::Gate, sample::Kind::Gate, 1, 8);
    row("gates from 10 in", ValveType::Gate, sample::Kind::Gate, 10, 60);
    row("geared gates", ValveType::GearedGate, sample::Kind::GearedGate, 1, 60);
    row("butterflies", ValveType::Butterfly, sample::Kind::Butterfly, 1, 60);
}

/// Of those that hold where enough come under watch, at each fifth year.
void TestSampleAgeing::lawIsInsideTheBand()
{
    QFETCH(int, type);
    QFETCH(int, fromInches);
    QFETCH(int, toInches);
    QFETCH(double, shape);
    QFETCH(double, scale);
    std::vector<Valve> taken;
    for (const Valve &valve : m_valves) {
        if (static_cast<int>(valve.type) == type &&
            valve.size >= NominalSize::ofInches(fromInches) &&
            valve.size <= NominalSize::ofInches(toInches)) {
            taken.push_back(valve);
        }
    }
    const Ageing figure = ageingOf(taken, m_histories, AgeingBy::All, UnitSystem::Us);
    const AgeingGroup &group = figure.groups.at(0);
    std::printf("%s\n", qPrintable(group.reading));
    if (!group.curve) {
        QVERIFY(group.failed < fewestFailures || group.isTooFew);
        return; // it says that it cannot tell
    }
    const auto holds = [&](double years, double ofScale) {
        return std::exp(std::pow(group.fromYears / ofScale, shape) -
                        std::pow(years / ofScale, shape));
    };
    int asked = 0;
    int wrongInside = 0;
    const double last = group.band.empty() ? 0.0 : group.band.back().years;
    for (double years = group.fromYears + 5; years <= last; years += 5) {
        const Interval at = test::bandAt(group.band, years);
        const double told = holds(years, scale);
        std::printf("  %.0f years: law %.3f, band %.3f to %.3f\n", years, told, at.from, at.to);
        QVERIFY2(at.from <= told && told <= at.to, qPrintable(QString::number(years)));
        // Twice the scale is near what one gets who takes valves that were mended for old ones.
        const double wrong = holds(years, 2 * scale);
        wrongInside += at.from <= wrong && wrong <= at.to ? 1 : 0;
        ++asked;
    }
    QVERIFY(asked >= 3);
    if (fromInches == 1 && toInches == 8) {
        QVERIFY(wrongInside < asked / 3); // many valves: the band is narrow enough to refuse it
        const LifeLaws laws = fitLifeLaws(taken, m_histories);
        std::printf("  smooth law: shape %.2f, scale %.1f years (true: %.1f and %.0f)\n",
                    laws.all.shape, laws.all.scale, shape, scale);
        QVERIFY(std::abs(std::log(laws.all.scale / scale)) < 3 * std::sqrt(laws.all.scaleVariance));
        QVERIFY(std::abs(std::log(laws.all.shape / shape)) < 3 * std::sqrt(laws.all.shapeVariance));
    }
}

QTEST_GUILESS_MAIN(TestSampleAgeing)
#include "test_sample_ageing.moc"
