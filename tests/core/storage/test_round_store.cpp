// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/round_store.h"
#include "tests/core/storage/fixtures.h"

#include <QTest>

#include <limits>

using namespace keyround;
using namespace keyround::fixtures;

class TestRoundStore : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void init();
    void everyFieldSurvivesReopening();
    void putRewritesWithItsStops();
    void finishedRoundStays();
    void onlyAnUntouchedRoundCanGo();
    void whatCannotBeARoundIsRefused();

private:
    [[nodiscard]] Round someRound(const QDate &date) const;

    std::unique_ptr<QTemporaryDir> m_folder;
    QString m_path;
    std::vector<Valve> m_valves;
    std::unique_ptr<Project> m_project;
};

void TestRoundStore::init()
{
    m_project.reset();
    m_folder = std::make_unique<QTemporaryDir>();
    m_path = m_folder->filePath(QStringLiteral("town.keyround"));
    auto project = Project::create(m_path, UnitSystem::Us);
    VERIFY_OK(project);
    m_project = std::move(*project);
    m_valves = {plainValve(QStringLiteral("1")), plainValve(QStringLiteral("2")),
                plainValve(QStringLiteral("3"))};
    VERIFY_OK(m_project->valves().addAll(m_valves, author(), moment(), QString()));
}

Round TestRoundStore::someRound(const QDate &date) const
{
    Round round;
    round.id = RoundId{newUuid7(someDay)};
    round.date = date;
    round.crew = QStringLiteral("Crew <1>");
    round.shift = Shift{QTime(6, 45), QTime(15, 15, 30, 5)};
    round.start = GeoPoint{40.1, -88.2};
    round.stops = {m_valves[2].id, m_valves[0].id, m_valves[1].id};
    round.breaks = {ShiftBreak{QTime(9, 0), QTime(9, 30), 10.5}, ShiftBreak{}};
    round.mustGo = {m_valves[0].id};
    round.heldToNext = {m_valves[2].id, m_valves[0].id};
    round.lastIsPinned = true;
    return round;
}

void TestRoundStore::everyFieldSurvivesReopening()
{
    const Round early = someRound(QDate(2024, 2, 29));
    Round late = someRound(QDate(2025, 6, 16));
    late.state = RoundState::UnderWay;
    late.stops.clear();
    late.mustGo.clear();
    late.heldToNext.clear();
    late.breaks.clear();
    late.firstIsPinned = true;
    late.lastIsPinned = false;
    late.isTold = true;
    VERIFY_OK(m_project->rounds().put(early));
    VERIFY_OK(m_project->rounds().put(late));
    m_project.reset();
    const auto project = Project::open(m_path);
    VERIFY_OK(project);
    QVERIFY((*project)->rounds().all().value() == (std::vector{late, early})); // newest first
    QVERIFY((*project)->rounds().byId(early.id).value() == early);
    const auto none = (*project)->rounds().byId(RoundId{newUuid7(someDay)});
    QVERIFY(!none);
    QCOMPARE(none.error().code, ErrorCode::NotFound);
}

void TestRoundStore::putRewritesWithItsStops()
{
    Round round = someRound(QDate(2025, 6, 16));
    VERIFY_OK(m_project->rounds().put(round));
    round.stops = {m_valves[1].id, m_valves[2].id};
    round.crew = QStringLiteral("Crew 2");
    round.finish = GeoPoint{41, -89};
    round.breaks.pop_back();
    round.firstIsPinned = true;
    round.lastIsPinned = false;
    round.isTold = true;
    round.mustGo = {m_valves[1].id};
    round.heldToNext = {m_valves[1].id};
    VERIFY_OK(m_project->rounds().put(round));
    QVERIFY(m_project->rounds().all().value() == std::vector{round});

    // What was decided of a stop that is taken out goes with it.
    round.stops = {m_valves[2].id};
    VERIFY_OK(m_project->rounds().put(round));
    round.mustGo.clear();
    round.heldToNext.clear();
    QVERIFY(m_project->rounds().all().value() == std::vector{round});
}

void TestRoundStore::finishedRoundStays()
{
    Round round = someRound(QDate(2025, 6, 16));
    VERIFY_OK(m_project->rounds().put(round));
    VERIFY_OK(m_project->rounds().setState(round.id, RoundState::UnderWay));
    VERIFY_OK(m_project->rounds().setState(round.id, RoundState::Finished));
    VERIFY_OK(m_project->rounds().setState(round.id, RoundState::Finished));
    for (const Status &refused : {m_project->rounds().put(round),
                                  m_project->rounds().setState(round.id, RoundState::Planned),
                                  m_project->rounds().remove(round.id)}) {
        QVERIFY(!refused);
        QCOMPARE(refused.error().code, ErrorCode::Refused);
    }
    round.state = RoundState::Finished;
    QVERIFY(m_project->rounds().byId(round.id).value() == round);
    const Status unknown =
        m_project->rounds().setState(RoundId{newUuid7(someDay)}, RoundState::Planned);
    QVERIFY(!unknown);
    QCOMPARE(unknown.error().code, ErrorCode::NotFound);
}

void TestRoundStore::onlyAnUntouchedRoundCanGo()
{
    const Round round = someRound(QDate(2025, 6, 16));
    VERIFY_OK(m_project->rounds().put(round));
    VERIFY_OK(m_project->visits().saveDraft({round.id, m_valves[0].id, {}, moment()}));
    QVERIFY(!m_project->rounds().remove(round.id)); // something is typed
    VERIFY_OK(m_project->visits().dropDraft(round.id, m_valves[0].id));
    Visit visit = plainVisit(m_valves[0].id, 1);
    visit.round = round.id;
    VERIFY_OK(m_project->visits().add(visit));
    QVERIFY(!m_project->rounds().remove(round.id)); // something is recorded

    const Round untouched = someRound(QDate(2025, 6, 17));
    VERIFY_OK(m_project->rounds().put(untouched));
    VERIFY_OK(m_project->rounds().remove(untouched.id));
    QVERIFY(m_project->rounds().all().value() == std::vector{round});
}

void TestRoundStore::whatCannotBeARoundIsRefused()
{
    Round noId = someRound(QDate(2025, 6, 16));
    noId.id = {};
    const Round noDate = someRound(QDate());
    Round noShift = someRound(QDate(2025, 6, 16));
    noShift.shift.from = QTime();
    Round twice = someRound(QDate(2025, 6, 16));
    twice.stops.push_back(twice.stops.front());
    Round stranger = someRound(QDate(2025, 6, 16));
    stranger.stops.push_back(ValveId{newUuid7(someDay)});
    Round offTheGlobe = someRound(QDate(2025, 6, 16));
    offTheGlobe.start = GeoPoint{0, 200};
    Round backwardBreak = someRound(QDate(2025, 6, 16));
    backwardBreak.breaks.front().earliest = QTime(10, 0);
    Round endlessBreak = someRound(QDate(2025, 6, 16));
    endlessBreak.breaks.front().minutes = std::numeric_limits<double>::infinity();
    for (const Round &round :
         {noId, noDate, noShift, twice, stranger, offTheGlobe, backwardBreak, endlessBreak}) {
        const Status refused = m_project->rounds().put(round);
        QVERIFY(!refused);
        QCOMPARE(refused.error().code, ErrorCode::BadInput);
    }
    QVERIFY(m_project->rounds().all()->empty());
}

QTEST_GUILESS_MAIN(TestRoundStore)
#include "test_round_store.moc"
