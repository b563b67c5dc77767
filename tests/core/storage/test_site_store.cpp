// SPDX-License-Identifier: GPL-3.0-or-later
// What people say of streets and valves survives reopening, is forgotten when it is empty, and is
// refused without a name.
#include "core/storage/layer_store.h"
#include "core/storage/settings_store.h"
#include "core/storage/site_store.h"
#include "core/storage/valve_store.h"
#include "tests/core/storage/fixtures.h"

#include <QTest>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

SetUpOverride someChange()
{
    return {QStringLiteral("school"),     18,           14, 2, 5, Feet{120}, Feet{250.5},
            QStringLiteral("A. Foreman"), awkwardText()};
}

KnownStreet someStreet()
{
    return {{35.5, 4, Feet{11}, Feet{0}, false, true, RoadSetting::Rural, false}, someChange()};
}

} // namespace

class TestSiteStore : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void survivesReopening();
    void everyAnswerIsKept();
    void emptyIsForgotten();
    void namelessChangeIsRefused();
    void habitsAndLanesAreKept();
};

void TestSiteStore::survivesReopening()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    const ValveId valve{newUuid7(someDay)};
    KnownSites said;
    said.streets.insert(QStringLiteral("main street"), someStreet());
    said.streets.insert(QStringLiteral("segment 12"), {{25, {}, {}, {}, {}, {}, {}, {}}, {}});
    said.valves.insert(valve, {{LidPlace::IntersectionMiddle, false}, {}});
    {
        const auto project = Project::create(path, UnitSystem::Us);
        VERIFY_OK(project);
        for (auto street = said.streets.cbegin(); street != said.streets.cend(); ++street) {
            VERIFY_OK((*project)->sites().put(street.key(), street.value()));
        }
        VERIFY_OK((*project)->sites().put(valve, said.valves.value(valve)));
    }
    const auto project = Project::open(path);
    VERIFY_OK(project);
    const auto read = (*project)->sites().load();
    VERIFY_OK(read);
    QVERIFY(*read == said);
    QVERIFY((*project)->verify()->isEmpty());
}

void TestSiteStore::everyAnswerIsKept()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("town.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    for (int i = 0; i < siteQuestionCount; ++i) {
        const auto question = static_cast<SiteQuestion>(i);
        for (const SiteAnswer &answer : answersTo(question, UnitSystem::Metric)) {
            SiteFacts facts;
            VERIFY_OK(setAnswer(facts, question, answer.value));
            const ValveId valve{newUuid7(someDay)};
            VERIFY_OK((*project)->sites().put(QStringLiteral("a street"), {facts.street, {}}));
            VERIFY_OK((*project)->sites().put(valve, {facts.valve, {}}));
            const KnownSites read = *(*project)->sites().load();
            const SiteFacts back{read.streets.value(QStringLiteral("a street")).facts,
                                 read.valves.value(valve).facts};
            QVERIFY(answerIn(back, question) == answer.value);
        }
    }
}

void TestSiteStore::emptyIsForgotten()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("town.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    VERIFY_OK((*project)->sites().put(QStringLiteral("main street"), someStreet()));
    VERIFY_OK((*project)->sites().put(QStringLiteral("main street"), KnownStreet{}));
    QVERIFY(*(*project)->sites().load() == KnownSites{});
}

void TestSiteStore::namelessChangeIsRefused()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("town.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    KnownStreet street = someStreet();
    street.change->by = QStringLiteral("  ");
    QVERIFY(!(*project)->sites().put(QStringLiteral("main street"), street));
    QVERIFY(*(*project)->sites().load() == KnownSites{});
}

void TestSiteStore::habitsAndLanesAreKept()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    ProjectSettings settings;
    settings.setUpHabits = {Feet{55}, 3, 1.5, 0.2};
    settings.loadHabits = {Metres{1.25}, 4, 2};
    settings.savedSetUps = {someChange()};
    settings.urbanLowSpeedTo = 30;
    settings.stopTimes.baseZoneMinutes = 6;
    Street street;
    street.id = FeatureId{newUuid7(someDay)};
    street.key = QStringLiteral("s-1");
    street.lanes = 4;
    street.laneWidth = Metres{3.3528};
    street.isDivided = true;
    street.line = {{40.1, -88.1}, {40.2, -88.1}};
    Valve valve = plainValve(QStringLiteral("17"));
    valve.nut = QStringLiteral("2 in square");
    valve.lid = awkwardText();
    {
        const auto project = Project::create(path, UnitSystem::Us);
        VERIFY_OK(project);
        VERIFY_OK((*project)->settings().save(settings));
        VERIFY_OK((*project)->layers().put(std::vector{street}));
        VERIFY_OK((*project)->valves().add(valve, author(), moment(), QString()));
    }
    const auto project = Project::open(path);
    VERIFY_OK(project);
    const auto read = (*project)->settings().load();
    VERIFY_OK(read);
    QVERIFY(read->setUpHabits == settings.setUpHabits);
    QVERIFY(read->loadHabits == settings.loadHabits);
    QVERIFY(read->savedSetUps == settings.savedSetUps);
    QCOMPARE(read->urbanLowSpeedTo, 30.0);
    QCOMPARE(read->stopTimes.baseZoneMinutes, 6.0);
    QVERIFY((*project)->layers().streets()->front() == street);
    QVERIFY((*project)->valves().all()->front() == valve);
}

QTEST_GUILESS_MAIN(TestSiteStore)
#include "test_site_store.moc"
