// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/settings_store.h"
#include "tests/core/storage/fixtures.h"

#include <QTest>

#include <cmath>

using namespace keyround;
using namespace keyround::fixtures;

class TestSettingsStore : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void newProjectHasTheDefaults();
    void everySettingSurvivesReopening();
    void whatCannotBeReadBackIsRefused();
    void columnMatchesAreKeptByLayout();
};

void TestSettingsStore::newProjectHasTheDefaults()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    const auto loaded = (*project)->settings().load();
    VERIFY_OK(loaded);
    const ProjectSettings defaults;
    QCOMPARE(loaded->units, UnitSystem::Us);
    QVERIFY(!loaded->yard);
    QCOMPARE(loaded->crews, defaults.crews);
    QVERIFY(loaded->shift == defaults.shift);
    QVERIFY(loaded->stopTimes == defaults.stopTimes);
    QVERIFY(loaded->policy == defaults.policy);

    ProjectSettings withoutPolicy = defaults;
    withoutPolicy.policy = Policy{};
    VERIFY_OK((*project)->settings().save(withoutPolicy));
    QVERIFY((*project)->settings().load()->policy == Policy{});
}

void TestSettingsStore::everySettingSurvivesReopening()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    ProjectSettings wanted;
    wanted.units = UnitSystem::Metric;
    wanted.utility = awkwardText();
    wanted.yard = GeoPoint{40.123456789012345, -88.98765432109876};
    wanted.crews = {QStringLiteral("Crew <A>"), QStringLiteral("Crew 2")};
    wanted.shift = Shift{QTime(22, 0, 0, 1), QTime(6, 30)};
    wanted.stopTimes = StopTimes{1.1, 2.2, 3, 4.4, NominalSize{55}, 6.6};
    wanted.travel = TravelSettings{1.0 / 3.0, 8.5, 123.25};
    wanted.tolerance = Tolerance{QuarterTurns{7}, 0.123};
    PolicyRule rule;
    rule.name = QStringLiteral("Large");
    rule.source = QStringLiteral("utility's own");
    rule.sizeFrom = NominalSize::ofInches(16);
    rule.types = {ValveType::Gate, ValveType::Butterfly};
    rule.roles = {ValveRole::BlowOff};
    rule.zones = {QStringLiteral("High")};
    rule.criticalOnly = true;
    rule.intervalMonths = 12;
    wanted.policy.name = QStringLiteral("Ours");
    wanted.policy.rules = {rule};
    wanted.policy.dueSoonDays = 30;
    {
        const auto project = Project::create(path, UnitSystem::Us);
        VERIFY_OK(project);
        VERIFY_OK((*project)->settings().save(wanted));
    }
    const auto project = Project::open(path);
    VERIFY_OK(project);
    const auto loaded = (*project)->settings().load();
    VERIFY_OK(loaded);
    QCOMPARE(loaded->units, wanted.units);
    QCOMPARE(loaded->utility, wanted.utility);
    QVERIFY(loaded->yard == wanted.yard);
    QCOMPARE(loaded->crews, wanted.crews);
    QVERIFY(loaded->shift == wanted.shift);
    QVERIFY(loaded->stopTimes == wanted.stopTimes);
    QCOMPARE(loaded->travel.detourFactor, wanted.travel.detourFactor);
    QCOMPARE(loaded->travel.estimateMetresPerSecond, wanted.travel.estimateMetresPerSecond);
    QCOMPARE(loaded->travel.snapMetres, wanted.travel.snapMetres);
    QCOMPARE(loaded->tolerance.turns.value, wanted.tolerance.turns.value);
    QCOMPARE(loaded->tolerance.share, wanted.tolerance.share);
    QVERIFY(loaded->policy == wanted.policy);
}

void TestSettingsStore::whatCannotBeReadBackIsRefused()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    ProjectSettings offTheGlobe;
    offTheGlobe.yard = GeoPoint{std::nan(""), 0};
    ProjectSettings noShift;
    noShift.shift.to = QTime();
    ProjectSettings namelessPolicy;
    namelessPolicy.policy = Policy{};
    namelessPolicy.policy.rules.resize(1);
    for (const ProjectSettings &wrong : {offTheGlobe, noShift, namelessPolicy}) {
        const Status refused = (*project)->settings().save(wrong);
        QVERIFY(!refused);
        QCOMPARE(refused.error().code, ErrorCode::BadInput);
        VERIFY_OK((*project)->settings().load());
    }
}

void TestSettingsStore::columnMatchesAreKeptByLayout()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    const QMap<QString, QString> match{{QStringLiteral("number"), QStringLiteral("VALVE \"ID\"")},
                                       {QStringLiteral("size"), awkwardText()}};
    {
        const auto project = Project::create(path, UnitSystem::Us);
        VERIFY_OK(project);
        VERIFY_OK((*project)->settings().saveColumnMatch(QStringLiteral("layout a"), {}));
        VERIFY_OK((*project)->settings().saveColumnMatch(QStringLiteral("layout a"), match));
    }
    const auto project = Project::open(path);
    VERIFY_OK(project);
    QVERIFY((*project)->settings().columnMatch(QStringLiteral("layout a")).value() == match);
    QVERIFY((*project)->settings().columnMatch(QStringLiteral("layout b"))->isEmpty());
}

QTEST_GUILESS_MAIN(TestSettingsStore)
#include "test_settings_store.moc"
