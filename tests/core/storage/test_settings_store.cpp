// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/connection.h"
#include "core/storage/settings_store.h"
#include "core/storage/truck_json.h"
#include "tests/core/storage/fixtures.h"

#include <QTest>

#include <cmath>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

std::vector<Crew> twoCrews()
{
    std::vector<Crew> crews(2);
    Crew &plain = crews.front();
    plain.name = QStringLiteral("Crew <A>");
    Crew &own = crews.back();
    own.name = awkwardText();
    own.yard = GeoPoint{40.1, -88.2};
    own.shift = Shift{QTime(6, 0), QTime(14, 0, 0, 7)};
    own.skills = {QStringLiteral("geared gate"), awkwardText()};
    own.weekdays = {2, 3, 6};
    own.daysOff = {QDate(2026, 7, 3), QDate(2026, 7, 6)};
    return crews;
}

LearnedTimes someLearned()
{
    LearnedTimes learned;
    learned.secondsPerTurn = {3.5, 40, 3.25, 4.125, std::nullopt};
    learned.stops = {{{ValveType::Gate, SizeClass::UpTo8, StreetClass::Residential},
                      {11.5, 12, 9.5, 14.25, 10.0}},
                     {{ValveType::Butterfly, SizeClass::From16, StreetClass::Unknown},
                      {std::nullopt, 3, 40, 80, std::nullopt}}};
    learned.driving = {{StreetClass::Arterial, 7, {1.375, 20, 1.25, 1.5, std::nullopt}},
                       {StreetClass::Unknown, -1, {std::nullopt, 0, 0, 0, 1.125}}};
    return learned;
}

} // namespace

class TestSettingsStore : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void newProjectHasTheDefaults();
    void everySettingSurvivesReopening();
    void crewsOfSchemaOneAreRead();
    void emptyRoundTakesTheCrewsOwn();
    void whatCannotBeReadBackIsRefused();
    void anOwnProblemThatTheTradeKnowsByNowIsLeftOut();
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
    QCOMPARE(crewNames(*loaded), QStringList{QStringLiteral("Crew 1")});
    QVERIFY(loaded->breaks == (std::vector{ShiftBreak{QTime(11, 30), QTime(13, 0), 30}}));
    QVERIFY(loaded->busyHours.empty() && loaded->skillNeeds.empty() && loaded->holidays.empty());
    QVERIFY(loaded->learned == LearnedTimes{});
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
    wanted.crews = twoCrews();
    wanted.breaks = {ShiftBreak{QTime(9, 0), QTime(9, 45), 12.5}, ShiftBreak{}};
    wanted.busyHours = {
        BusyHours{QString(),
                  {StreetClass::Arterial, StreetClass::Motorway},
                  {1, 2, 7},
                  QTime(7, 0),
                  QTime(9, 0),
                  QStringLiteral("commuters")},
        BusyHours{awkwardText(), {}, {}, QTime(0, 0), QTime(23, 59, 59, 999), QString()}};
    wanted.skillNeeds = {
        SkillNeed{QStringLiteral("large valves"), NominalSize::ofInches(16), {}},
        SkillNeed{awkwardText(), std::nullopt, {ValveType::GearedGate, ValveType::Butterfly}}};
    wanted.holidays = {QDate(2026, 12, 25), QDate(2028, 2, 29)};
    wanted.notice = {5, 4, 20};
    wanted.shutWeight = 0.25;
    wanted.turns.drivingSide = DrivingSide::Left;
    wanted.turns.straightSeconds = 1.5;
    wanted.turns.nearTurnSeconds = 3.5;
    wanted.turns.farTurnSeconds = 9.5;
    wanted.turns.uTurnSeconds = 33;
    wanted.turns.deadEndSeconds = 17;
    wanted.turns.straightDegrees = 40;
    wanted.turns.middleMetres = 0.5;
    wanted.turns.ofClass[3] = {true, false, true};
    wanted.learned = someLearned();
    wanted.shift = Shift{QTime(22, 0, 0, 1), QTime(6, 30)};
    wanted.stopTimes = StopTimes{1.1, 2.2, 3, 4.4, NominalSize{55}, 6.6};
    wanted.travel = TravelSettings{1.0 / 3.0, 8.5, 123.25};
    wanted.tolerance = Tolerance{QuarterTurns{7}, 0.123};
    wanted.truckHabits = TruckHabits{Metres{12.5},
                                     QuarterTurns{2},
                                     TorqueUnit::NewtonMetres,
                                     {{QStringLiteral("Ants (invented)"), ProblemGroup::Box, true},
                                      {QStringLiteral("Flood"), ProblemGroup::Reach, false}},
                                     awkwardText()};
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
    wanted.setUpHabits = {Feet{55.5}, 3, 1.25, 0.2};
    wanted.loadHabits = {Metres{1.1}, 5, 2};
    SetUpOverride saved;
    saved.name = QStringLiteral("Main Street");
    saved.cones = 18;
    saved.taper = Feet{75};
    saved.by = awkwardText();
    wanted.savedSetUps = {saved};
    wanted.urbanLowSpeedTo = 35;
    wanted.noticeTemplates.list = {{awkwardText(), NoticeForm::Letter, QStringLiteral("es-US"),
                                    QStringLiteral("{date}"), QStringLiteral("{why} {{x}}")}};
    wanted.noticeTemplates.contact = awkwardText();
    wanted.noticeTemplates.senderAddress = QStringLiteral("1 Invented Way\nNowhere");
    wanted.noticeTemplates.keepContactDays = 90;
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
    QVERIFY(loaded->crews == wanted.crews);
    QVERIFY(loaded->breaks == wanted.breaks);
    QVERIFY(loaded->busyHours == wanted.busyHours);
    QVERIFY(loaded->skillNeeds == wanted.skillNeeds);
    QCOMPARE(loaded->holidays, wanted.holidays);
    QCOMPARE(loaded->notice, wanted.notice);
    QCOMPARE(loaded->shutWeight, wanted.shutWeight);
    QVERIFY(loaded->learned == wanted.learned);
    QVERIFY(loaded->turns == wanted.turns);
    QVERIFY(loaded->shift == wanted.shift);
    QVERIFY(loaded->stopTimes == wanted.stopTimes);
    QCOMPARE(loaded->travel.detourFactor, wanted.travel.detourFactor);
    QCOMPARE(loaded->travel.estimateMetresPerSecond, wanted.travel.estimateMetresPerSecond);
    QCOMPARE(loaded->travel.snapMetres, wanted.travel.snapMetres);
    QCOMPARE(loaded->tolerance.turns.value, wanted.tolerance.turns.value);
    QCOMPARE(loaded->tolerance.share, wanted.tolerance.share);
    QVERIFY(loaded->policy == wanted.policy);
    QVERIFY(loaded->setUpHabits == wanted.setUpHabits);
    QVERIFY(loaded->loadHabits == wanted.loadHabits);
    QVERIFY(loaded->savedSetUps == wanted.savedSetUps);
    QCOMPARE(loaded->urbanLowSpeedTo, wanted.urbanLowSpeedTo);
    QVERIFY(loaded->noticeTemplates == wanted.noticeTemplates);
    QVERIFY(loaded->truckHabits == wanted.truckHabits);
}

// A file of schema 1 holds the crews' names alone, and no breaks: it takes the usual ones.
void TestSettingsStore::crewsOfSchemaOneAreRead()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    std::vector<Migration> first{shippedMigrations().front()};
    first.front().statements << QStringLiteral("INSERT INTO settings (name, content) VALUES "
                                               "('crews', '{\"names\":[\"North\",\"South\"]}')");
    {
        VERIFY_OK(Connection::create(path, first));
    }
    const auto project = Project::open(path);
    VERIFY_OK(project);
    const auto loaded = (*project)->settings().load();
    VERIFY_OK(loaded);
    QCOMPARE(crewNames(*loaded), (QStringList{QStringLiteral("North"), QStringLiteral("South")}));
    QCOMPARE(loaded->crews.front().weekdays, (QList<int>{1, 2, 3, 4, 5}));
    QCOMPARE(loaded->breaks.size(), size_t{1});
    VERIFY_OK((*project)->settings().save(*loaded));
    QVERIFY((*project)->settings().load()->crews == loaded->crews);
}

void TestSettingsStore::emptyRoundTakesTheCrewsOwn()
{
    ProjectSettings settings;
    settings.yard = GeoPoint{40, -88};
    settings.crews = twoCrews();
    const QDate day(2026, 7, 6);
    const Round plain = emptyRound(settings, QStringLiteral("crew <a>"), day);
    QCOMPARE(plain.crew, QStringLiteral("Crew <A>"));
    QCOMPARE(plain.date, day);
    QVERIFY(plain.shift == settings.shift && plain.breaks == settings.breaks);
    QVERIFY(plain.start == settings.yard && plain.finish == settings.yard);
    const Round own = emptyRound(settings, settings.crews[1].name, day);
    QVERIFY(own.shift == settings.crews[1].shift && own.start == settings.crews[1].yard);
    const Round stranger = emptyRound(settings, QStringLiteral("Night"), day);
    QCOMPARE(stranger.crew, QStringLiteral("Night"));
    QVERIFY(stranger.shift == settings.shift && stranger.stops.empty() && stranger.id.isNull());
}

void TestSettingsStore::whatCannotBeReadBackIsRefused()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    ProjectSettings twice;
    twice.truckHabits.ownProblems = {{QStringLiteral("Ants")}, {QStringLiteral("ants")}};
    QVERIFY(!(*project)->settings().save(twice));
    ProjectSettings tradesOwn;
    tradesOwn.truckHabits.ownProblems = {{QStringLiteral("Hard to turn")}};
    QVERIFY(!(*project)->settings().save(tradesOwn));
    ProjectSettings farAway;
    farAway.truckHabits.arrivalDistance = Metres{2000};
    QVERIFY(!(*project)->settings().save(farAway));
    ProjectSettings offTheGlobe;
    offTheGlobe.yard = GeoPoint{std::nan(""), 0};
    ProjectSettings noShift;
    noShift.shift.to = QTime();
    ProjectSettings namelessPolicy;
    namelessPolicy.policy = Policy{};
    namelessPolicy.policy.rules.resize(1);
    ProjectSettings sameCrewTwice;
    sameCrewTwice.crews = {Crew{.name = QStringLiteral("Crew 1")},
                           Crew{.name = QStringLiteral("crew 1 ")}};
    ProjectSettings namelessCrew;
    namelessCrew.crews.resize(2);
    ProjectSettings eighthWeekday;
    eighthWeekday.crews.front().weekdays = {8};
    ProjectSettings crewOffTheGlobe;
    crewOffTheGlobe.crews.front().yard = GeoPoint{91, 0};
    ProjectSettings noMinutes;
    noMinutes.breaks.front().minutes = 0;
    ProjectSettings backwardHours;
    backwardHours.busyHours = {BusyHours{{}, {}, {}, QTime(9, 0), QTime(7, 0), {}}};
    ProjectSettings noWorkSpace;
    noWorkSpace.setUpHabits.workSpace = Feet{0};
    ProjectSettings nobodysSetUp;
    nobodysSetUp.savedSetUps.resize(1);
    ProjectSettings unknownField;
    unknownField.noticeTemplates.list.front().text = QStringLiteral("On {day}");
    ProjectSettings sameWordingTwice;
    sameWordingTwice.noticeTemplates.list[1].name =
        sameWordingTwice.noticeTemplates.list[0].name.toUpper();
    ProjectSettings namelessSkill;
    namelessSkill.skillNeeds.resize(1);
    ProjectSettings noDay;
    noDay.holidays = {QDate()};
    ProjectSettings turnedBack;
    turnedBack.turns.uTurnSeconds = -1;
    ProjectSettings noNumber;
    noNumber.learned.secondsPerTurn.set = std::nan("");
    for (const ProjectSettings &wrong :
         {offTheGlobe, noShift, namelessPolicy, sameCrewTwice, namelessCrew, eighthWeekday,
          crewOffTheGlobe, noMinutes, backwardHours, namelessSkill, noDay, turnedBack, noNumber,
          noWorkSpace, nobodysSetUp, unknownField, sameWordingTwice}) {
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

// A later program's list of problems may hold what a utility had added for itself.
void TestSettingsStore::anOwnProblemThatTheTradeKnowsByNowIsLeftOut()
{
    TruckHabits habits;
    habits.arrivalDistance = Metres{12.5};
    habits.backOff = QuarterTurns{4};
    habits.stuckProcedure = QStringLiteral("call the yard");
    const OwnProblem ants{QStringLiteral("Ants"), ProblemGroup::Box, false};
    const OwnProblem wasps{QStringLiteral("Wasps"), ProblemGroup::Reach, true};
    habits.ownProblems = {ants, {QStringLiteral("Hard to turn"), ProblemGroup::Turn}, wasps};
    const TruckHabits read = truckHabitsFromJson(toJson(habits));
    habits.ownProblems = {ants, wasps};
    QVERIFY(read == habits);
}

QTEST_GUILESS_MAIN(TestSettingsStore)
#include "test_settings_store.moc"
