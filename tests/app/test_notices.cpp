// SPDX-License-Identifier: GPL-3.0-or-later
// Who loses water by a valve, and what that means for planning: a main from a tank to a dead end
// with one valve and three customers behind it, drawn on open ocean.
#include "app/commands/coming_days.h"
#include "app/commands/notice_commands.h"
#include "app/commands/round_commands.h"
#include "app/dialogs/valve_card.h"
#include "app/models/due_model.h"
#include "app/models/notice_words.h"
#include "core/storage/layer_store.h"
#include "core/storage/valve_store.h"
#include "tests/support/test_town.h"

#include <QLabel>
#include <QPushButton>
#include <QTemporaryDir>
#include <QTest>

using namespace keyround;

namespace {

FeatureId newId()
{
    return FeatureId{newUuid7(1)};
}

GeoPoint east(double metres)
{
    return {40.0, -150.0 + metres / 85000.0};
}

} // namespace

class TestNotices : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase();
    void init();
    void theDueListSaysWhoLosesWater();
    void aValveWithoutNoticeIsLeftOutWithThatReason();
    void noticeInTimeLetsItIn();
    void mustGoGoesAllTheSame();
    void theCardTakesTheNotice();
    void theComingDaysWaitForTheLeadTime();
    void aHigherWeightRaisesItsPriority();

private:
    Round roundOn(const QDate &date);
    ValveId m_valve;
    QTemporaryDir m_folder;
    int m_count = 0;
    std::unique_ptr<Session> m_session;
};

void TestNotices::initTestCase()
{
    keepSettingsApart();
}

void TestNotices::init()
{
    m_session = std::make_unique<Session>(smallTownClock()); // Monday 2026-03-16, 06:45
    const QString path = m_folder.filePath(QStringLiteral("%1.keyround").arg(++m_count));
    QVERIFY(m_session->createProject(path, UnitSystem::Us));
    Project &project = m_session->project();
    Valve valve;
    valve.id = ValveId{newUuid7(1)};
    valve.number = QStringLiteral("V1");
    valve.place = east(50);
    valve.size = NominalSize::ofInches(8);
    m_valve = valve.id;
    QVERIFY(project.valves().add(valve, m_session->author(), m_session->now(), {}));
    Valve free = valve; // a second one that takes nobody's water: it stands on no main
    free.id = ValveId{newUuid7(1)};
    free.number = QStringLiteral("V2");
    free.place = {40.01, -150.0};
    QVERIFY(project.valves().add(free, m_session->author(), m_session->now(), {}));
    QVERIFY(project.layers().put(std::vector<Main>{{newId(),
                                                    QStringLiteral("M1"),
                                                    NominalSize::ofInches(8),
                                                    {},
                                                    {},
                                                    {},
                                                    {east(0), east(100)}}}));
    QVERIFY(project.layers().put(
        std::vector<Source>{{newId(), QStringLiteral("T"), {}, SourceKind::Tank, east(0)}}));
    std::vector<Service> services;
    for (int i = 0; i < 3; ++i) {
        services.push_back({newId(),
                            QStringLiteral("S%1").arg(i),
                            east(60 + 10 * i),
                            {},
                            {},
                            {},
                            QStringLiteral("M1"),
                            i == 0});
    }
    QVERIFY(project.layers().put(services));
    ProjectSettings settings = m_session->settings();
    settings.yard = east(0);
    QVERIFY(project.settings().save(settings));
    for (const auto change :
         {&Notifier::valvesChanged, &Notifier::layersChanged, &Notifier::settingsChanged}) {
        Q_EMIT(m_session->notifier().*change)();
    }
}

Round TestNotices::roundOn(const QDate &date)
{
    return emptyRound(m_session->settings(), QStringLiteral("Crew 1"), date);
}

void TestNotices::theDueListSaysWhoLosesWater()
{
    DueModel model(*m_session);
    const int row = model.rowOf(m_valve);
    QVERIFY(row >= 0);
    QCOMPARE(model.index(row, DueModel::WithoutWater).data().toString(), QStringLiteral("3"));
    QVERIFY2(model.reasonAt(row).contains(QStringLiteral("3 services (1 critical)")),
             qPrintable(model.reasonAt(row)));
}

void TestNotices::aValveWithoutNoticeIsLeftOutWithThatReason()
{
    const auto drawn = drawUpRound(*m_session, roundOn(QDate(2026, 3, 20)), {});
    QVERIFY(drawn);
    QCOMPARE(drawn->plan.stops.size(), std::size_t{1});
    QCOMPARE(drawn->plan.leftOut.size(), std::size_t{1});
    const LeftOut &left = drawn->plan.leftOut.front();
    QVERIFY(left.valve == m_valve);
    QVERIFY2(left.reason.contains(QStringLiteral("Notice needed: 3 services")) &&
                 left.reason.contains(QStringLiteral("2026-03-18")), // two working days before
             qPrintable(left.reason));
}

void TestNotices::noticeInTimeLetsItIn()
{
    QVERIFY(giveNotice(*m_session, m_valve, {}, QStringLiteral("door hangers")));
    // Given on Monday: too late for Tuesday, in time for Wednesday.
    const auto tuesday = drawUpRound(*m_session, roundOn(QDate(2026, 3, 17)), {});
    QCOMPARE(tuesday->plan.stops.size(), std::size_t{1});
    const auto wednesday = drawUpRound(*m_session, roundOn(QDate(2026, 3, 18)), {});
    QCOMPARE(wednesday->plan.stops.size(), std::size_t{2});
    const NoticeStanding standing =
        noticeStanding(*m_session, m_valve, QDateTime(QDate(2026, 3, 18), QTime(7, 0)));
    QVERIFY(standing.state == NoticeState::Given);
    QVERIFY(standing.words.contains(QStringLiteral("door hangers")));
}

void TestNotices::mustGoGoesAllTheSame()
{
    Round day = roundOn(QDate(2026, 3, 17));
    day.mustGo.insert(m_valve);
    const auto drawn = drawUpRound(*m_session, day, {});
    QCOMPARE(drawn->plan.stops.size(), std::size_t{2});
    QVERIFY2(drawn->plan.notes.join(QLatin1Char(' ')).contains(QStringLiteral("Notice")),
             qPrintable(drawn->plan.notes.join(QLatin1Char(' '))));
}

void TestNotices::theCardTakesTheNotice()
{
    ValveCard card(*m_session);
    card.showValve(m_valve);
    auto *button = card.findChild<QPushButton *>(QStringLiteral("cardNotice"));
    auto *water = card.findChild<QLabel *>(QStringLiteral("cardWater"));
    QVERIFY(!button->isHidden());
    QVERIFY(water->text().contains(QStringLiteral("3 services")));
    button->click();
    QCOMPARE(m_session->notices().size(), std::size_t{1});
    QCOMPARE(m_session->notices().front().services, 3);
    QVERIFY(button->isHidden());
    QVERIFY2(water->text().contains(QStringLiteral("Notice given")), qPrintable(water->text()));
}

void TestNotices::theComingDaysWaitForTheLeadTime()
{
    const auto days =
        drawUpComingDays(*m_session, {QDate(2026, 3, 16), 5, {QStringLiteral("Crew 1")}});
    QVERIFY(days);
    QDate planned;
    for (const ComingDay &day : days->days) {
        if (std::ranges::find(day.round.stops, m_valve) != day.round.stops.end()) {
            planned = day.round.date;
        }
    }
    QVERIFY2(planned >= QDate(2026, 3, 18), qPrintable(planned.toString(Qt::ISODate)));
}

void TestNotices::aHigherWeightRaisesItsPriority()
{
    const double before = m_session->dueEntry(m_valve)->priority;
    ProjectSettings settings = m_session->settings();
    settings.shutWeight = 0;
    QVERIFY(m_session->project().settings().save(settings));
    Q_EMIT m_session->notifier().settingsChanged();
    const DueEntry &plain = *m_session->dueEntry(m_valve);
    QVERIFY(plain.priority < before);
    QVERIFY(!plain.reason.contains(QStringLiteral("sticks")));
    QCOMPARE(before, plain.priority * 1.5); // the one that costs most, weight 0.5
}

QTEST_MAIN(TestNotices)
#include "test_notices.moc"
