// SPDX-License-Identifier: GPL-3.0-or-later
// Counting that never drops a tap and never doubles one; the counting window of the second person;
// a torque; a search; a list that is corrected from the truck.
#include "app/truck/ladder.h"
#include "core/storage/valve_store.h"
#include "core/storage/visit_store.h"
#include "tests/support/truck_bench.h"

#include <QElapsedTimer>
#include <QJsonArray>
#include <QMouseEvent>
#include <QTouchEvent>

#include <ctime>

using namespace keyround;

namespace {

int quartersOnDisk(Session &session)
{
    const auto drafts = session.project().visits().drafts();
    if (!drafts || drafts->empty()) {
        return -1;
    }
    const QJsonArray passes = drafts->front().content.value(QStringLiteral("passes")).toArray();
    return passes.last().toObject().value(QStringLiteral("quarters")).toInt(-1);
}

/// A press as a screen reports it, at its own time.
void press(QWidget *target, quint64 at, QEvent::Type type = QEvent::MouseButtonPress,
           Qt::MouseButton button = Qt::LeftButton)
{
    QMouseEvent down(type, QPointF(20, 20), target->mapToGlobal(QPointF(20, 20)), button, button,
                     {});
    down.setTimestamp(at);
    QApplication::sendEvent(target, &down);
    QMouseEvent up(QEvent::MouseButtonRelease, QPointF(20, 20),
                   target->mapToGlobal(QPointF(20, 20)), button, Qt::NoButton, {});
    up.setTimestamp(at + 1);
    QApplication::sendEvent(target, &up);
}

double processorSeconds()
{
    timespec time{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return static_cast<double>(time.tv_sec) + static_cast<double>(time.tv_nsec) * 1e-9;
}

} // namespace

class TestTruckCount : public QObject
{
    Q_OBJECT
private:
    /// A valve that was listed with 27 turns is counted with 33 both ways, and the crew says that
    /// the list is to be corrected.
    static void acceptTheOfferedCount(TruckBench &bench, Valve &listed)
    {
        listed = *bench.session.valveByNumber(bench.town->neverVisited);
        listed.listedTurns = QuarterTurns::ofTurns(27);
        QVERIFY(bench.session.project()
                    .valves()
                    .update(listed, bench.session.author(), bench.session.now(), QString())
                    .has_value());
        Q_EMIT bench.session.notifier().valvesChanged();
        bench.addRound({listed.number});
        bench.show();
        goToCounting();
        for (const Qt::Key direction : {Qt::Key_C, Qt::Key_O}) {
            TruckBench::key(direction);
            TruckBench::key(Qt::Key_NumberSign);
            TruckBench::type("33");
            TruckBench::key(Qt::Key_Return);
        }
        TruckBench::key(Qt::Key_Return);
        QVERIFY(bench.shows("list-offer"));
        QVERIFY(bench.text("list-offer-words").contains(QStringLiteral("27")));
        TruckBench::key(Qt::Key_5);
        QVERIFY(bench.find<QAbstractButton>("list-offer")->isChecked());
    }

private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
    }

    // 5 taps a second for 60 s. With KEYROUND_LONG set they come at that pace; else without a
    // pause, which is harder.
    void threeHundredTapsAreThreeHundredTurns()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        goToCounting();
        QWidget *target = bench.find("count-turn");
        const bool paced = qEnvironmentVariableIsSet("KEYROUND_LONG");
        double slowest = 0;
        int savedInBetween = 0;
        const double begun = processorSeconds();
        for (int tap = 1; tap <= 300; ++tap) {
            const double before = processorSeconds();
            if (tap % 2 == 0) {
                TruckBench::key(Qt::Key_Space);
            } else {
                QTest::mouseClick(target, Qt::LeftButton);
            }
            slowest = std::max(slowest, processorSeconds() - before);
            if (bench.text("saved").contains(QStringLiteral("✓"))) {
                ++savedInBetween;
                QCOMPARE(quartersOnDisk(bench.session), tap * 4); // said saved: on the disk
            }
            if (paced) {
                QTest::qWait(200);
            }
        }
        qInfo("300 taps: %.2f s of processor time with their saves; the slowest %.1f ms; %d of "
              "them on disk at once",
              processorSeconds() - begun, slowest * 1000, savedInBetween);
        QVERIFY(savedInBetween > 0);
        QTRY_VERIFY(bench.text("saved").contains(QStringLiteral("✓")));
        QCOMPARE(quartersOnDisk(bench.session), 1200);
        QCOMPARE(bench.find("count-turn")->isVisible(), true);
    }

    void whatIsReportedTwiceCountsOnce()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        goToCounting();
        QWidget *target = bench.find("count-turn");
        const auto turns = [&bench] { return quartersOnDisk(bench.session) / 4; };
        press(target, 1000);
        press(target, 1003); // the mouse's copy of a touch
        QTRY_COMPARE(turns(), 1);
        press(target, 1200, QEvent::MouseButtonDblClick); // two quick taps are two
        QTRY_COMPARE(turns(), 2);
        press(target, 1300, QEvent::MouseButtonPress, Qt::RightButton);
        press(target, 1400, QEvent::MouseButtonPress, Qt::MiddleButton);
        QTest::qWait(1);
        QCOMPARE(turns(), 2);
        // Both buttons at once: the left one counts, once.
        QTest::mousePress(target, Qt::RightButton);
        QTest::mousePress(target, Qt::LeftButton);
        QTest::mouseRelease(target, Qt::LeftButton);
        QTest::mouseRelease(target, Qt::RightButton);
        QTRY_COMPARE(turns(), 3);
        // Taps that waited behind a slow save come at once, each with its own time.
        for (const quint64 at : {90000ULL, 90200ULL, 90400ULL}) {
            press(target, at);
        }
        QTRY_COMPARE(turns(), 6);
    }

    void aHeldKeyCountsOnce()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        goToCounting();
        QWidget *target = bench.find("count-turn");
        for (const int key : {int(Qt::Key_Space), int(Qt::Key_Q)}) {
            QKeyEvent down(QEvent::KeyPress, key, {}, QStringLiteral(" "), false);
            QApplication::sendEvent(target, &down);
            for (int i = 0; i < 40; ++i) {
                QKeyEvent again(QEvent::KeyPress, key, {}, QStringLiteral(" "), true);
                QApplication::sendEvent(target, &again);
                QKeyEvent release(QEvent::KeyRelease, key, {}, QStringLiteral(" "), true);
                QApplication::sendEvent(target, &release);
            }
        }
        QTRY_COMPARE(quartersOnDisk(bench.session), 5);
        for (int i = 0; i < 10; ++i) { // a held C begins one pass, a held # opens one line
            QKeyEvent again(QEvent::KeyPress, Qt::Key_O, {}, QStringLiteral("o"), true);
            QApplication::sendEvent(target, &again);
            QKeyEvent number(QEvent::KeyPress, Qt::Key_NumberSign, {}, QStringLiteral("#"), true);
            QApplication::sendEvent(target, &number);
        }
        QVERIFY(!bench.shows("typed-count"));
        QCOMPARE(quartersOnDisk(bench.session), 5);
    }

    void fingersCountOnceEach()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        goToCounting();
        QWidget *target = bench.find("count-turn");
        QPointingDevice *screen = QTest::createTouchDevice();
        for (int tap = 0; tap < 10; ++tap) {
            QTest::touchEvent(bench.place.get(), screen)
                .press(0, target->mapTo(bench.place.get(), QPoint(40, 40)), bench.place.get());
            QTest::touchEvent(bench.place.get(), screen)
                .release(0, target->mapTo(bench.place.get(), QPoint(40, 40)), bench.place.get());
            QTest::qWait(40); // quicker than any finger
        }
        QTRY_COMPARE(quartersOnDisk(bench.session), 40);
    }

    void theSecondPersonCountsWhileTheFirstLooksElsewhere()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        goToCounting();
        TruckBench::key(Qt::Key_Space);
        TruckBench::key(Qt::Key_W);
        auto *window = bench.find("count-window");
        QVERIFY(window != nullptr && window->isWindow());
        QVERIFY(QTest::qWaitForWindowActive(window));
        QVERIFY(bench.text("window-title").contains(QStringLiteral("V-001")));
        TruckBench::key(Qt::Key_Space); // in the window
        bench.click("window-count-turn");
        bench.click("window-count-quarter");
        TruckBench::key(Qt::Key_Backspace); // the quarter
        QTRY_COMPARE(quartersOnDisk(bench.session), 12);
        // The first person goes on to another step in the main window; F8 counts from there.
        bench.place->activateWindow();
        QVERIFY(QTest::qWaitForWindowActive(bench.place.get()));
        bench.click("next");
        QVERIFY(bench.text("verdict").contains(QStringLiteral("3 turns")));
        TruckBench::key(Qt::Key_F8);
        TruckBench::key(Qt::Key_F8);
        TruckBench::key(Qt::Key_F7);
        QVERIFY2(bench.text("verdict").contains(QStringLiteral("4 turns")),
                 qPrintable(bench.text("verdict")));
        QTRY_COMPARE(quartersOnDisk(bench.session), 16);
        bench.click("stops"); // no stop is open: nothing is counted
        QVERIFY(bench.text("window-title").contains(QStringLiteral("No stop")));
        TruckBench::key(Qt::Key_F8);
        QCOMPARE(quartersOnDisk(bench.session), 16);
        window->close();
        bench.place->activateWindow();
        QVERIFY(QTest::qWaitForWindowActive(bench.place.get()));
        bench.click("stop-V-001");
        TruckBench::key(Qt::Key_F8); // closed: the key is the program's again
        QCOMPARE(quartersOnDisk(bench.session), 16);
    }

    void takesATorqueAndRefusesNonsense()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        goToCounting();
        TruckBench::key(Qt::Key_T); // of no pass there is no torque
        QVERIFY(!bench.shows("typed-torque"));
        TruckBench::key(Qt::Key_Space);
        TruckBench::key(Qt::Key_T);
        QCOMPARE(TruckBench::focus(), QStringLiteral("typed-torque"));
        TruckBench::type("12000");
        TruckBench::key(Qt::Key_Return);
        QVERIFY(bench.find<QLineEdit>("typed-torque")->property("refused").toBool());
        QVERIFY(bench.text("typed-torque-message").contains(QStringLiteral("1000 ft-lb")));
        bench.find<QLineEdit>("typed-torque")->selectAll();
        TruckBench::type("120");
        TruckBench::key(Qt::Key_Return);
        QCOMPARE(TruckBench::focus(), QStringLiteral("count-turn"));
        TruckBench::key(Qt::Key_NumberSign);
        TruckBench::type("27");
        TruckBench::key(Qt::Key_Return);
        for (int i = 0; i < 3; ++i) {
            TruckBench::key(Qt::Key_Return);
        }
        TruckBench::key(Qt::Key_1);
        TruckBench::key(Qt::Key_Return);
        QVERIFY2(bench.text("sentence").contains(QStringLiteral("at most 120 ft-lb")),
                 qPrintable(bench.text("sentence")));
        TruckBench::key(Qt::Key_Return);
        const Visit &visit = bench.history("V-001").visits.back().visit;
        QVERIFY(visit.passes.front().torque.has_value());
        QVERIFY(qAbs(visit.passes.front().torque->newtonMetres - 120 * newtonMetresPerFootPound) <
                1e-9);
    }

    void aLidThatIsNotFoundEndsInItsProblem()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-002")});
        bench.show();
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_F);
        QVERIFY(bench.text("search-title").contains(QStringLiteral("V-002")));
        TruckBench::key(Qt::Key_1); // measured
        TruckBench::key(Qt::Key_3); // detector
        TruckBench::key(Qt::Key_7); // given up
        QVERIFY(bench.find<QAbstractButton>("problem-not_found")->isChecked());
        TruckBench::key(Qt::Key_Return);
        QVERIFY(bench.find<QAbstractButton>("left-not-seen")->isChecked());
        TruckBench::key(Qt::Key_Return);
        QVERIFY2(bench.text("sentence").contains(QStringLiteral("measured, detector: not found")),
                 qPrintable(bench.text("sentence")));
        TruckBench::key(Qt::Key_Return);
        const ReadVisit &read = bench.history("V-002").visits.back();
        QVERIFY(
            (read.visit.search == SearchRecord{true, false, true, false, SearchOutcome::NotFound}));
        QVERIFY(read.after == Condition::CannotReach);
        QVERIFY(read.visit.found.position == Position::NotSeen);
    }

    void lidBoxAndOwnProblemsAreKept()
    {
        TruckBench bench;
        ProjectSettings settings = bench.session.settings();
        settings.truckHabits.ownProblems = {{QStringLiteral("Ants (invented)")},
                                            {QStringLiteral("Old one"), ProblemGroup::Box, false}};
        QVERIFY(bench.session.project().settings().save(settings).has_value());
        Q_EMIT bench.session.notifier().settingsChanged();
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        for (int i = 0; i < 3; ++i) {
            TruckBench::key(Qt::Key_Return);
        }
        TruckBench::key(Qt::Key_1);
        bench.click("lid-broken");
        bench.click("box-full");
        bench.click("box-dirty"); // another answer takes the first one's problem back
        bench.click("next");
        bench.click("next"); // no turn
        bench.click("next");
        QVERIFY(bench.find<QAbstractButton>("problem-lid_missing")->isChecked());
        QVERIFY(!bench.find<QAbstractButton>("problem-box_full")->isChecked());
        QVERIFY(bench.find("own-problem-2") == nullptr); // no longer in use
        bench.click("own-problem-1");
        bench.click("next");
        bench.click("left-open");
        bench.click("next");
        bench.click("next");
        const ReadVisit &read = bench.history("V-001").visits.back();
        QVERIFY(read.visit.lid == LidCondition::Broken);
        QVERIFY(read.visit.box == BoxCondition::Dirty);
        QCOMPARE(read.visit.ownProblems, QStringList{QStringLiteral("Ants (invented)")});
        QVERIFY(read.visit.problems == QList<Problem>{Problem::LidMissing});
    }

    void correctsTheListAndKeepsTheOldCount()
    {
        TruckBench bench;
        Valve listed;
        acceptTheOfferedCount(bench, listed);
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_1);
        TruckBench::key(Qt::Key_Return);
        QVERIFY(bench.text("sentence").contains(QStringLiteral("from 27 to 33 turns")));
        QVERIFY(bench.session.valve(listed.id)->listedTurns == QuarterTurns::ofTurns(27));
        TruckBench::key(Qt::Key_Return);
        QVERIFY(bench.session.valve(listed.id)->listedTurns == QuarterTurns::ofTurns(33));
        const auto edits = bench.session.project().valves().edits(listed.id);
        QVERIFY(edits.has_value() && !edits->empty());
        const auto isCount = [](const ValveEdit &edit) {
            return edit.field == ValveField::ListedTurns;
        };
        const auto edit = std::ranges::find_if(edits->rbegin(), edits->rend(), isCount);
        QVERIFY(edit != edits->rend());
        QCOMPARE(edit->before, QStringLiteral("27"));
        QVERIFY2(edit->why.contains(QStringLiteral("close 33, open 33")), qPrintable(edit->why));
    }

    void anAcceptedCorrectionFallsWithItsCounts()
    {
        TruckBench bench;
        Valve listed;
        acceptTheOfferedCount(bench, listed);
        TruckBench::key(Qt::Key_Escape); // back to the turns: five more one way than the other
        for (int quarter = 0; quarter < 20; ++quarter) {
            TruckBench::key(Qt::Key_Q);
        }
        auto *ladder = bench.place->findChild<Ladder *>();
        Q_EMIT ladder->chosen(StopStep::Leave); // past the judgement
        TruckBench::key(Qt::Key_1);
        Q_EMIT ladder->chosen(StopStep::Finish);
        QVERIFY2(!bench.text("sentence").contains(QStringLiteral("from 27")),
                 qPrintable(bench.text("sentence")));
        TruckBench::key(Qt::Key_Return);
        QVERIFY(bench.session.valve(listed.id)->listedTurns == QuarterTurns::ofTurns(27));
    }
};

QTEST_MAIN(TestTruckCount)
#include "test_truck_count.moc"
