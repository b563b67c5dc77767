// SPDX-License-Identifier: GPL-3.0-or-later
// What a stop needs on a day, the coming days of two crews, rounds that were told, and learned
// times, through the commands and undone, on the small invented town.
#include "app/commands/coming_days.h"
#include "app/commands/learn_times.h"
#include "core/storage/layer_store.h"
#include "core/storage/round_store.h"
#include "tests/support/test_town.h"

#include <QTest>

#include <map>

using namespace keyround;

namespace {

const QDate monday(2026, 3, 16);

QByteArray messageOf(const Status &status)
{
    return status ? QByteArray() : status.error().message.toUtf8();
}

} // namespace

class TestComingDays : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase() { keepSettingsApart(); }
    void init();
    void stopTakesItsStreetsHours();
    void stopTakesSkillsAndMust();
    void daysAreDrawnUpAndStoredAsOneStep();
    void holidaysAndDaysOffCount();
    void toldDaysKeepTheirStops();
    void unfinishedStopsFlowBack();
    void timesAreLearnedAndUndone();
    void drivingIsPlannedWithWhatWasLearned();

private:
    void change(const std::function<void(ProjectSettings &)> &how);
    [[nodiscard]] Result<ComingDays> drawUp(int days)
    {
        return drawUpComingDays(*m_session, {monday, days, {}});
    }
    [[nodiscard]] RoundId finishedRound(const QDate &date, std::size_t count, double minutes);

    std::unique_ptr<Session> m_session;
    std::unique_ptr<SmallTown> m_town;
};

void TestComingDays::init()
{
    m_session = std::make_unique<Session>(smallTownClock());
    m_town = makeSmallTown(*m_session);
}

void TestComingDays::change(const std::function<void(ProjectSettings &)> &how)
{
    ProjectSettings settings = m_session->settings();
    how(settings);
    m_session->undoStack().push(
        new ChangeSettings(*m_session, std::move(settings), QStringLiteral("test")));
}

/// A round of the first valves, each visited for so many minutes, 10 minutes apart.
RoundId TestComingDays::finishedRound(const QDate &date, std::size_t count, double minutes)
{
    Round round = emptyRound(m_session->settings(), QStringLiteral("Crew 1"), date);
    round.id = RoundId{newUuid7(m_session->now().utcMilliseconds)};
    Moment clock = Moment::from(QDateTime(date, QTime(7, 30), Qt::OffsetFromUTC, -5 * 3600));
    std::vector<Visit> visits;
    for (const Valve &valve : m_session->valves()) {
        if (visits.size() == count || !valve.place.isValid()) {
            continue;
        }
        round.stops.push_back(valve.id);
        Visit visit;
        visit.id = VisitId{newUuid7(clock.utcMilliseconds)};
        visit.valve = valve.id;
        visit.round = round.id;
        visit.arrived = clock;
        clock.utcMilliseconds += static_cast<std::int64_t>(minutes * 60000);
        visit.finished = clock;
        clock.utcMilliseconds += 600000;
        visit.stamp = m_session->project().nextStamp(clock).value();
        visits.push_back(visit);
    }
    const Status stored = m_session->project().rounds().put(round).and_then([&] {
        for (const Visit &visit : visits) {
            if (const auto added = m_session->project().visits().add(visit); !added) {
                return Status(tl::unexpected(added.error()));
            }
        }
        return m_session->project().rounds().setState(round.id, RoundState::Finished);
    });
    Q_ASSERT(stored);
    Q_EMIT m_session->notifier().visitsChanged();
    Q_EMIT m_session->notifier().roundsChanged();
    return round.id;
}

void TestComingDays::stopTakesItsStreetsHours()
{
    const Valve &valve = m_session->valves().front();
    const StreetAt street = m_session->streetAt(valve.id);
    QVERIFY(!street.name.isEmpty());
    Round round = emptyRound(m_session->settings(), QStringLiteral("Crew 1"), monday);
    QVERIFY(candidateFor(*m_session, valve, round).hours.closedBy.empty());

    const BusyHours rule{street.name, {}, {1}, QTime(7, 0), QTime(9, 30), QStringLiteral("school")};
    change([&](ProjectSettings &settings) { settings.busyHours = {rule}; });
    const StopCandidate stop = candidateFor(*m_session, valve, round);
    QVERIFY(stop.hours.closedBy == std::vector{rule});
    QCOMPARE(stop.hours.open.back().from, QTime(9, 30));
    round.date = monday.addDays(1); // the rule is for Mondays
    QVERIFY(candidateFor(*m_session, valve, round).hours.closedBy.empty());
    // A valve that is known by its address only stands in no street.
    QVERIFY(m_session->streetAt(m_session->valveByNumber(m_town->withoutPlace)->id).name.isEmpty());
}

void TestComingDays::stopTakesSkillsAndMust()
{
    const Valve &valve = m_session->valves().front();
    change([&](ProjectSettings &settings) {
        settings.skillNeeds = {{QStringLiteral("any valve"), std::nullopt, {}}};
        settings.crews[1].skills = {QStringLiteral("Any Valve")};
    });
    Round round = emptyRound(m_session->settings(), QStringLiteral("Crew 1"), monday);
    round.mustGo = {valve.id};
    const StopCandidate lacking = candidateFor(*m_session, valve, round);
    QVERIFY(lacking.mustGo);
    QCOMPARE(lacking.lacking, QStringList{QStringLiteral("any valve")});
    round.crew = QStringLiteral("Crew 2");
    QVERIFY(candidateFor(*m_session, valve, round).lacking.isEmpty());
    QCOMPARE(candidateFor(*m_session, valve, round).skills.size(), qsizetype{1});
}

void TestComingDays::daysAreDrawnUpAndStoredAsOneStep()
{
    const auto days = drawUp(2);
    QVERIFY2(days, days ? "" : qPrintable(days.error().message));
    QCOMPARE(days->days.size(), size_t{4}); // two crews, two days
    QVERIFY(m_session->rounds().empty());   // nothing is stored yet
    std::map<QString, int> times;
    std::size_t stops = 0;
    for (const ComingDay &day : days->days) {
        QVERIFY(day.round.date >= monday && day.round.date <= monday.addDays(1));
        stops += day.round.stops.size();
        for (const ValveId &id : day.round.stops) {
            QCOMPARE(++times[id.text()], 1);
            QVERIFY(wantsVisit(m_session->dueEntry(id)->state));
        }
    }
    QVERIFY(stops > 10);
    const int before = m_session->undoStack().count();
    const Status kept = keepComingDays(*m_session, *days);
    QVERIFY2(kept, messageOf(kept));
    QCOMPARE(m_session->undoStack().count(), before + 1);
    std::size_t stored = 0;
    for (const Round &round : m_session->rounds()) {
        QVERIFY(!round.id.isNull() && round.state == RoundState::Planned);
        stored += round.stops.size();
    }
    QCOMPARE(stored, stops);
    m_session->undoStack().undo();
    QVERIFY(m_session->rounds().empty());
    m_session->undoStack().redo();
    QVERIFY(!m_session->rounds().empty());
}

void TestComingDays::holidaysAndDaysOffCount()
{
    change([&](ProjectSettings &settings) {
        settings.holidays = {monday};
        settings.crews[0].daysOff = {monday.addDays(1)};
        settings.crews[1].weekdays = {3};
    });
    const auto days = drawUp(1);
    QVERIFY2(days, days ? "" : qPrintable(days.error().message));
    QCOMPARE(days->days.size(), size_t{2});
    for (const ComingDay &day : days->days) {
        QCOMPARE(day.round.date, monday.addDays(2)); // Wednesday, for both
    }
    change([&](ProjectSettings &settings) {
        settings.crews[0].weekdays.clear();
        settings.crews[1].weekdays.clear();
    });
    QVERIFY(!drawUp(1));
}

void TestComingDays::toldDaysKeepTheirStops()
{
    QVERIFY(keepComingDays(*m_session, drawUp(3).value()));
    const Round told = *std::ranges::find_if(
        m_session->rounds(), [](const Round &round) { return !round.stops.empty(); });
    const Status marked = setTold(*m_session, told.id, true);
    QVERIFY2(marked, messageOf(marked));
    QVERIFY(m_session->round(told.id)->isTold);

    // Now nothing small can be worked on by the other crew, and the town is drawn up anew.
    change([&](ProjectSettings &settings) { settings.stopTimes.baseMinutes = 55; });
    const auto again = drawUp(3);
    QVERIFY2(again, again ? "" : qPrintable(again.error().message));
    QVERIFY(keepComingDays(*m_session, *again));
    const Round *now = m_session->round(told.id);
    QVERIFY(now != nullptr && now->isTold);
    for (const ValveId &id : told.stops) {
        QVERIFY(std::ranges::find(now->stops, id) != now->stops.end());
    }
    QVERIFY(setTold(*m_session, told.id, false));
    QVERIFY(!m_session->round(told.id)->isTold);
    m_session->undoStack().undo();
    QVERIFY(m_session->round(told.id)->isTold);
}

void TestComingDays::unfinishedStopsFlowBack()
{
    QVERIFY(keepComingDays(*m_session, drawUp(1).value()));
    const Round broken = *std::ranges::find_if(
        m_session->rounds(), [](const Round &round) { return round.stops.size() > 2; });
    QVERIFY(m_session->project().rounds().setState(broken.id, RoundState::Finished));
    Q_EMIT m_session->notifier().roundsChanged();
    // Finished without a visit: every stop is wanted again on the next day of somebody.
    const auto next = drawUpComingDays(*m_session, {monday.addDays(1), 5, {}});
    QVERIFY2(next, next ? "" : qPrintable(next.error().message));
    QSet<ValveId> known;
    for (const ComingDay &day : next->days) {
        known += QSet<ValveId>(day.round.stops.begin(), day.round.stops.end());
    }
    for (const LeftOut &left : next->leftOut) {
        known.insert(left.valve);
    }
    for (const ValveId &id : broken.stops) {
        QVERIFY(known.contains(id));
    }
}

void TestComingDays::timesAreLearnedAndUndone()
{
    const Status none = learnTimesFromRounds(*m_session);
    QVERIFY(!none && none.error().code == ErrorCode::NotFound);
    (void)finishedRound(monday.addDays(-7), 12, 20);
    const Valve valve = m_session->valves().front();
    const Round round = emptyRound(m_session->settings(), QStringLiteral("Crew 1"), monday);
    const double before = candidateFor(*m_session, valve, round).minutes;
    const Status learned = learnTimesFromRounds(*m_session);
    QVERIFY2(learned, messageOf(learned));
    const LearnedTimes &times = m_session->settings().learned;
    const auto all = std::ranges::find(times.stops, StopKind{}, &LearnedTimes::Minutes::kind);
    QVERIFY(all != times.stops.end());
    QCOMPARE(all->minutes.from, 12);
    QCOMPARE(all->minutes.learned.value(), 20.0); // no turns were counted: all of it is still
    QVERIFY(candidateFor(*m_session, valve, round).minutes != before);
    m_session->undoStack().undo();
    QVERIFY(m_session->settings().learned == LearnedTimes{});
    QCOMPARE(candidateFor(*m_session, valve, round).minutes, before);
}

void TestComingDays::drivingIsPlannedWithWhatWasLearned()
{
    const auto secondsAcross = [this] {
        const DriveGraph &graph = m_session->driveGraph();
        const Way way = graph.wayBetween(*graph.snap(smallTownCorner(0, 0)),
                                         *graph.snap(smallTownCorner(5, 4)));
        return std::pair(way.seconds - way.turnSeconds, way.turnSeconds);
    };
    const auto [driving, turning] = secondsAcross();
    QVERIFY(driving > 30);
    change([](ProjectSettings &settings) {
        settings.learned.driving = {{StreetClass::Unknown, -1, {std::nullopt, 0, 0, 0, 1.5}}};
    });
    QVERIFY(qAbs(secondsAcross().first / driving - 1.5) < 0.01);
    m_session->undoStack().undo();
    QCOMPARE(secondsAcross().first, driving);
    if (turning > 0) {
        change([](ProjectSettings &settings) {
            settings.turns.nearTurnSeconds *= 3;
            settings.turns.farTurnSeconds *= 3;
            settings.turns.straightSeconds *= 3;
        });
        QVERIFY(secondsAcross().second > turning);
    }
}

QTEST_MAIN(TestComingDays)
#include "test_coming_days.moc"
