// SPDX-License-Identifier: GPL-3.0-or-later
// A day in the Truck, by keys alone and by clicks alone; nothing typed is ever lost.
#include "core/storage/visit_store.h"
#include "tests/support/truck_bench.h"

#include <QElapsedTimer>
#include <QFileInfo>
#include <QJsonArray>
#include <QSignalSpy>

#include <algorithm>

using namespace keyround;

namespace {

int draftQuarters(Session &session)
{
    const auto drafts = session.project().visits().drafts();
    if (!drafts || drafts->empty()) {
        return -1;
    }
    const QJsonArray passes = drafts->front().content.value(QStringLiteral("passes")).toArray();
    return passes.last().toObject().value(QStringLiteral("quarters")).toInt(-1);
}

/// Opens a copy of what is on the disk at this moment, with nothing closed or flushed.
std::unique_ptr<Session> afterPowerCut(const TruckBench &bench, const QString &name)
{
    const QString copy = bench.town->folder.filePath(name);
    if (!QFile::copy(bench.town->path, copy)) {
        qFatal("the project could not be copied");
    }
    auto session = std::make_unique<Session>(smallTownClock());
    if (const Status opened = session->openProject(copy); !opened) {
        qFatal("%s", qPrintable(opened.error().message));
    }
    return session;
}

std::unique_ptr<TruckPlace> shownPlace(Session &session)
{
    auto place = std::make_unique<TruckPlace>(session);
    place->resize(1366, 680);
    place->show();
    place->activateWindow();
    if (!QTest::qWaitForWindowActive(place.get())) {
        qFatal("the window does not become active");
    }
    return place;
}

} // namespace

class TestTruck : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
    }

    void recordsAStopByKeysAlone()
    {
        TruckBench bench;
        const RoundId round = bench.addRound({QStringLiteral("V-001"), QStringLiteral("V-002")});
        bench.show();
        goToCounting();
        QCOMPARE(TruckBench::focus(), QStringLiteral("count-turn"));
        countByKey(27);
        TruckBench::key(Qt::Key_Q);
        TruckBench::key(Qt::Key_Backspace);
        TruckBench::key(Qt::Key_O);
        TruckBench::key(Qt::Key_NumberSign);
        QCOMPARE(TruckBench::focus(), QStringLiteral("typed-count"));
        TruckBench::type("26x");
        TruckBench::key(Qt::Key_Return); // refused: stays, says why
        QVERIFY(bench.find<QLineEdit>("typed-count")->property("refused").toBool());
        TruckBench::key(Qt::Key_Backspace);
        TruckBench::type(" 1/2");
        TruckBench::key(Qt::Key_Return);
        QCOMPARE(TruckBench::focus(), QStringLiteral("count-turn"));
        TruckBench::key(Qt::Key_Return);
        QVERIFY2(bench.text("verdict").contains(QStringLiteral("27 turns: Full")),
                 qPrintable(bench.text("verdict")));
        QVERIFY(bench.text("basis").contains(QStringLiteral("27 turns, counted on")));
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Space); // the first problem on, and off again
        TruckBench::key(Qt::Key_Space);
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return); // how it was left is not said: it is not recorded
        QCOMPARE(bench.text("missing"), QStringLiteral("Say how the valve was left."));
        TruckBench::key(Qt::Key_Return); // leads back to the question
        QCOMPARE(TruckBench::focus(), QStringLiteral("left-open"));
        TruckBench::key(Qt::Key_1);
        for (int i = 0; i < 6 && TruckBench::focus() != QLatin1String("remarks"); ++i) {
            TruckBench::key(Qt::Key_Tab);
        }
        TruckBench::type("lid painted");
        TruckBench::key(Qt::Key_Return);
        QVERIFY(bench.shows("sentence")); // one Enter, one step
        QVERIFY(bench.text("sentence").contains(QStringLiteral("left open")));
        TruckBench::key(Qt::Key_Return);

        const ReadVisit &read = bench.history("V-001").visits.back();
        QVERIFY(read.visit.round == round);
        QVERIFY((read.visit.passes == std::vector<Pass>{{PassDirection::Closing, {108}},
                                                        {PassDirection::Opening, {106}}}));
        QVERIFY(read.visit.problems.isEmpty());
        QCOMPARE(read.visit.remarks, QStringLiteral("lid painted"));
        QCOMPARE(read.visit.crew, QStringLiteral("Crew 1"));
        QVERIFY(read.fullCycle);
        QVERIFY(bench.session.drafts().empty());
        QVERIFY(bench.text("stop-title").contains(QStringLiteral("V-002"))); // the next stop
        QVERIFY(bench.session.round(round)->state == RoundState::UnderWay);
    }

    void recordsAStopByClicksAlone()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-005")}); // closes the other way
        bench.show();
        bench.click("round-1");
        QCOMPARE(bench.text("closingDirection"), QStringLiteral("Closes counterclockwise"));
        bench.click("next");
        bench.click("next"); // the work zone is asked about later
        bench.click("found-part-open");
        QTest::keyClicks(bench.find<QLineEdit>("found-turns"), QStringLiteral("20"));
        bench.click("next");
        QCOMPARE(bench.find<QAbstractButton>("pass-closing")->text(),
                 QStringLiteral("Closing: counterclockwise"));
        QCOMPARE(bench.find<QAbstractButton>("pass-opening")->text(),
                 QStringLiteral("Opening: clockwise"));
        for (int turn = 0; turn < 11; ++turn) {
            bench.click("count-turn");
        }
        bench.click("count-back");
        bench.click("count-quarter");
        bench.click("pass-opening");
        bench.click("count-turn");
        bench.click("pass-closing");
        bench.click("count-turn");
        bench.click("remove-pass-3");
        bench.click("next");
        QVERIFY2(bench.text("verdict").contains(QStringLiteral("10 1/4 turns: Short")),
                 qPrintable(bench.text("verdict")));
        QVERIFY(bench.text("advice").contains(QStringLiteral("never a longer bar")));
        bench.click("next");
        bench.click("problem-did_not_close");
        bench.click("problem-hard_to_turn");
        bench.click("problem-hard_to_turn"); // off again
        bench.click("next");
        bench.click("left-closed");
        QVERIFY(bench.text("left-note").contains(QStringLiteral("every screen")));
        bench.click("next");
        QVERIFY(bench.shows("left-warning"));
        bench.click("next");

        const ReadVisit &read = bench.history("V-005").visits.back();
        QVERIFY(read.visit.found.position == Position::PartOpen);
        QCOMPARE(read.visit.found.turnsFromClosed->value, 80);
        QVERIFY((read.visit.passes ==
                 std::vector<Pass>{{PassDirection::Closing, {41}}, {PassDirection::Opening, {4}}}));
        QVERIFY(read.visit.problems == QList<Problem>{Problem::DidNotClose});
        QVERIFY(read.after == Condition::DoesNotShut);
        const auto left = bench.session.leftOtherThanNormal();
        QVERIFY(std::ranges::find(left, read.visit.valve) != left.end());
        QVERIFY(bench.shows("list-title")); // no stop waits: the list
    }

    void clockwiseClosingIsTheRule()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        goToCounting();
        QCOMPARE(bench.find<QAbstractButton>("pass-closing")->text(),
                 QStringLiteral("Closing: clockwise"));
        QVERIFY(bench.find<QAbstractButton>("pass-closing")->isChecked());
        TruckBench::key(Qt::Key_O);
        QVERIFY(bench.find<QAbstractButton>("pass-opening")->isChecked());
        QCOMPARE(bench.find<QAbstractButton>("pass-opening")->text(),
                 QStringLiteral("Opening: counterclockwise"));
    }

    void countsAHundredTapsExactlyAndEachIsOnDisk()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        goToCounting();
        QWidget *target = bench.find("count-turn");
        QElapsedTimer timer;
        timer.start();
        qint64 slowest = 0;
        for (int tap = 1; tap <= 100; ++tap) {
            QElapsedTimer one;
            one.start();
            switch (tap % 3) {
            case 0:
                QTest::mouseClick(target, Qt::LeftButton);
                break;
            case 1: // a hand that slides off the target has counted
                QTest::mousePress(target, Qt::LeftButton);
                QTest::mouseRelease(target, Qt::LeftButton, {}, QPoint(-50, -50));
                break;
            default:
                TruckBench::key(Qt::Key_Space);
            }
            slowest = std::max(slowest, one.elapsed());
            if (bench.text("saved").contains(QStringLiteral("✓"))) {
                QCOMPARE(draftQuarters(bench.session), tap * 4);
            }
        }
        qInfo("100 taps: %lld ms; the slowest, with its save: %lld ms", timer.elapsed(), slowest);
        QTRY_VERIFY(bench.text("saved").contains(QStringLiteral("✓")));
        QCOMPARE(draftQuarters(bench.session), 400);
        // A key held down is one tap, a double click is two.
        QKeyEvent held(QEvent::KeyPress, Qt::Key_Space, {}, QStringLiteral(" "), true);
        QApplication::sendEvent(target, &held);
        QTest::mousePress(target, Qt::LeftButton);
        QTest::mouseRelease(target, Qt::LeftButton);
        QMouseEvent second(QEvent::MouseButtonDblClick, QPointF(20, 20),
                           target->mapToGlobal(QPointF(20, 20)), Qt::LeftButton, Qt::LeftButton,
                           {});
        QApplication::sendEvent(target, &second);
        QTRY_COMPARE(draftQuarters(bench.session), 408);
    }

    void spaceCountsWhereverTheKeyboardStands()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        goToCounting();
        QSet<QString> stood;
        for (int i = 0; i < 12; ++i) {
            TruckBench::key(Qt::Key_Tab);
            stood << TruckBench::focus();
            TruckBench::key(Qt::Key_Space);
        }
        QTRY_COMPARE(draftQuarters(bench.session), 48);
        QVERIFY2(stood.size() >= 8, qPrintable(QStringList(stood.values()).join(u' ')));
    }

    void comesBackToTheSameFieldAfterAPowerCut()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001"), QStringLiteral("V-002")});
        bench.show();
        goToCounting();
        countByKey(5);
        QTRY_VERIFY(bench.text("saved").contains(QStringLiteral("✓")));
        {
            const auto later = afterPowerCut(bench, QStringLiteral("counting.keyround"));
            const auto place = shownPlace(*later);
            QVERIFY(place->hasStopUnderWay());
            QCOMPARE(TruckBench::focus(), QStringLiteral("count-turn"));
            const auto *title = place->findChild<QLabel *>(QStringLiteral("stop-title"));
            QVERIFY(title->text().contains(QStringLiteral("V-001")));
            TruckBench::key(Qt::Key_Space);
            QTRY_COMPARE(draftQuarters(*later), 24);
        }
        bench.place->activateWindow();
        QVERIFY(QTest::qWaitForWindowActive(bench.place.get()));
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return);
        bench.find("other-problem")->setFocus();
        TruckBench::type("a nest of w");
        QTRY_VERIFY(bench.text("saved").contains(QStringLiteral("✓")));
        {
            const auto later = afterPowerCut(bench, QStringLiteral("words.keyround"));
            const auto place = shownPlace(*later);
            QCOMPARE(TruckBench::focus(), QStringLiteral("other-problem"));
            TruckBench::type("asps");
            QCOMPARE(qobject_cast<QLineEdit *>(QApplication::focusWidget())->text(),
                     QStringLiteral("a nest of wasps"));
        }
    }

    void skipsGoesOnAndFinishesTheRound()
    {
        TruckBench bench;
        const RoundId round = bench.addRound(
            {QStringLiteral("V-001"), QStringLiteral("V-002"), QStringLiteral("V-004")});
        bench.show();
        goToCounting();
        countByKey(27);
        goToFinish(Qt::Key_2); // left closed
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_S); // V-002
        QVERIFY(bench.text("stop-title").contains(QStringLiteral("V-004")));
        TruckBench::key(Qt::Key_Return); // at V-004: half typed from here
        TruckBench::key(Qt::Key_L);
        const auto state = [&bench](const char *name) {
            return bench.find(name)->accessibleDescription();
        };
        QVERIFY(state("stop-V-001").startsWith(QStringLiteral("done")));
        QVERIFY(state("stop-V-002").startsWith(QStringLiteral("skipped")));
        QVERIFY(state("stop-V-004").startsWith(QStringLiteral("half typed")));
        bench.click("to-finish-round");
        QVERIFY(bench.text("outcome-done").contains(QStringLiteral("V-001")));
        QVERIFY(bench.text("outcome-not-done").contains(QStringLiteral("V-002, V-004")));
        QVERIFY(
            bench.text("outcome-left").contains(QStringLiteral("V-001 (closed, normally open)")));
        bench.click("finish-round");
        QVERIFY(bench.text("outcome").contains(QStringLiteral("V-004")));
        QVERIFY(bench.session.round(round)->state == RoundState::UnderWay);
        TruckBench::key(Qt::Key_Escape);
        bench.click("stop-V-004");
        bench.click("next");        // the work zone is asked about later
        TruckBench::key(Qt::Key_4); // not seen
        TruckBench::key(Qt::Key_Return);
        bench.click("problem-could_not_operate");
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_4);
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_L);
        bench.click("to-finish-round");
        QVERIFY2(bench.text("outcome-bad").contains(QStringLiteral("V-004")),
                 qPrintable(bench.text("outcome-bad")));
        QSignalSpy said(&bench.session.notifier(), &Notifier::said);
        bench.click("finish-round");
        QVERIFY(bench.session.round(round)->state == RoundState::Finished);
        QVERIFY(bench.session.drafts().empty());
        const QString words = bench.text("outcome");
        const QString path = words.mid(words.indexOf(QLatin1String(": ")) + 2);
        QVERIFY2(QFileInfo::exists(path), qPrintable(words));
        QCOMPARE(said.count(), 1);
    }

    void savesWhatWaitsWhenTheProjectChanges()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        goToCounting();
        TruckBench::key(Qt::Key_Space);
        bench.session.closeProject();
        QVERIFY(bench.text("choose-title").contains(QStringLiteral("No project")));
        QVERIFY(bench.session.openProject(bench.town->path).has_value());
        QVERIFY(bench.place->hasStopUnderWay());
        QCOMPARE(draftQuarters(bench.session), 4);
    }
};

QTEST_MAIN(TestTruck)
#include "test_truck.moc"
