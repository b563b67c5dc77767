// SPDX-License-Identifier: GPL-3.0-or-later
// A day in the Truck, by keys alone and by clicks alone; nothing typed is ever lost.
#include "app/commands/photo_commands.h"
#include "core/storage/visit_store.h"
#include "tests/support/truck_bench.h"

#include <QElapsedTimer>
#include <QFileInfo>
#include <QJsonArray>
#include <QSignalSpy>

#include <algorithm>

using namespace keyround;

namespace {

/// From the choice of rounds to the counting of its first stop, by keys.
void goToCounting()
{
    TruckBench::key(Qt::Key_Return); // the round
    TruckBench::key(Qt::Key_Return); // at the valve
    TruckBench::key(Qt::Key_Return); // the work zone is asked about later
    TruckBench::key(Qt::Key_1);      // found open
    TruckBench::key(Qt::Key_Return);
}

/// From the counting to the last question.
void goToFinish(Qt::Key left)
{
    TruckBench::key(Qt::Key_Return); // judge
    TruckBench::key(Qt::Key_Return); // problems
    TruckBench::key(Qt::Key_Return); // leave
    TruckBench::key(left);
    TruckBench::key(Qt::Key_Return);
}

void countByKey(int turns)
{
    for (int turn = 0; turn < turns; ++turn) {
        TruckBench::key(Qt::Key_Space);
    }
}

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

    void correctsARecordedVisit()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001"), QStringLiteral("V-002")});
        bench.show();
        goToCounting();
        TruckBench::key(Qt::Key_NumberSign);
        TruckBench::type("72");
        TruckBench::key(Qt::Key_Return);
        goToFinish(Qt::Key_1);
        TruckBench::key(Qt::Key_Return);
        const Visit first = bench.history("V-001").visits.back().visit;
        const auto before = bench.history("V-001").visits.size();

        TruckBench::key(Qt::Key_L);
        bench.click("stop-V-001");
        QVERIFY(bench.text("stop-title").startsWith(QStringLiteral("Correction")));
        QVERIFY(bench.find<QAbstractButton>("found-open")->isChecked());
        QVERIFY(bench.session.drafts().empty()); // looking is no change
        bench.click("next");
        TruckBench::key(Qt::Key_NumberSign);
        TruckBench::type("27");
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return); // judge
        QVERIFY(bench.text("basis").contains(QStringLiteral("27 turns, counted on")));
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return); // finish: the reason is asked for
        QCOMPARE(TruckBench::focus(), QStringLiteral("correction-why"));
        TruckBench::key(Qt::Key_Return);
        QVERIFY(bench.text("missing").contains(QStringLiteral("why")));
        TruckBench::type("digits swapped");
        TruckBench::key(Qt::Key_Return);

        const std::vector<ReadVisit> &visits = bench.history("V-001").visits;
        QCOMPARE(visits.size(), before); // it stands in the other's place
        const Visit &corrected = visits.back().visit;
        QVERIFY(corrected.supersedes == first.id);
        QCOMPARE(corrected.reason, QStringLiteral("digits swapped"));
        QVERIFY(corrected.arrived == first.arrived);
        QCOMPARE(corrected.passes.front().turns.value, 108);
        const auto all = bench.session.project().visits().ofValve(first.valve);
        QCOMPARE(all->size(), before + 1); // and the other is kept
        QVERIFY(bench.session.drafts().empty());
    }

    void correctsAnOlderVisitFromTheRecord()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        const std::size_t before = bench.history("V-001").visits.size();
        QVERIFY(before >= 2);
        const Visit old = bench.history("V-001").visits[before - 2].visit;
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_V); // what is on record of it
        QVERIFY(bench.text("visits-title").contains(QStringLiteral("V-001")));
        QCOMPARE(TruckBench::focus(), QStringLiteral("visit-1"));
        bench.click("visit-2");
        QVERIFY(bench.text("stop-title").startsWith(QStringLiteral("Correction")));
        for (int i = 0; i < 5; ++i) {
            bench.click("next");
        }
        QVERIFY(bench.find("skip")->isEnabled() == false);
        TruckBench::key(Qt::Key_Return); // without a reason nothing is recorded
        QCOMPARE(bench.history("V-001").visits.size(), before);
        QVERIFY(bench.text("missing").contains(QStringLiteral("why")));
        TruckBench::type("read the wrong line");
        TruckBench::key(Qt::Key_Return);
        const auto &visits = bench.history("V-001").visits;
        QCOMPARE(visits.size(), before);
        QVERIFY(visits[before - 2].visit.supersedes == old.id);
        QCOMPARE(visits[before - 2].visit.reason, QStringLiteral("read the wrong line"));
        QVERIFY(visits[before - 2].visit.passes == old.passes);
    }

    void takesPhotosFromTheCamerasFolder()
    {
        const QTemporaryDir camera;
        for (int i = 1; i <= 3; ++i) {
            QImage image(640, 480, QImage::Format_RGB32);
            image.fill(QColor(40 * i, 90, 120));
            QVERIFY(image.save(camera.filePath(QStringLiteral("IMG_%1.jpg").arg(i))));
        }
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        goToCounting();
        countByKey(3);
        goToFinish(Qt::Key_1);
        TruckBench::key(Qt::Key_P);
        auto *folder = bench.find<QLineEdit>("camera-folder");
        folder->setFocus();
        folder->selectAll();
        TruckBench::type("/no/such/camera");
        TruckBench::key(Qt::Key_Return);
        QVERIFY(folder->property("refused").toBool());
        folder->setText(camera.path());
        TruckBench::key(Qt::Key_Return);
        QVERIFY(!folder->property("refused").toBool());
        QTRY_VERIFY(bench.shows("offered-photo-3"));
        bench.click("offered-photo-1");
        bench.click("offered-photo-3");
        QVERIFY2(bench.text("photo-note").contains(QStringLiteral("is in the project")),
                 qPrintable(bench.text("photo-note")));
        QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
        QTRY_VERIFY(bench.shows("taken-photo-1"));
        bench.click("taken-photo-1"); // and one out again
        bench.click("photos-done");
        QVERIFY(
            bench.find<QAbstractButton>("open-photos")->text().contains(QStringLiteral("1 photo")));
        bench.click("next");
        const Visit &visit = bench.history("V-001").visits.back().visit;
        const auto photos = photosOf(bench.session, {visit.valve, visit.round, visit.id});
        QCOMPARE(photos.size(), std::size_t(1));
        QVERIFY(!photos.front().thumbnail.isEmpty());
        QCOMPARE(photos.front().sha256.size(), qsizetype(64));
    }

    void theNightLookIsKept()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        QVERIFY(!bench.place->isNight());
        bench.click("choose-look");
        QVERIFY(bench.place->isNight());
        const QImage dark = bench.place->grab().toImage();
        QVERIFY(dark.pixelColor(dark.width() / 2, dark.height() / 2).lightness() < 40);
        const TruckPlace later(bench.session);
        QVERIFY(later.isNight());
        bench.click("choose-look");
        const QImage light = bench.place->grab().toImage();
        QVERIFY(light.pixelColor(light.width() / 2, light.height() / 2).lightness() > 220);
    }

    void recordsAValveThatIsNotOnTheRound()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        TruckBench::key(Qt::Key_Return);
        bench.click("stops");
        QLineEdit *line = nullptr;
        for (auto *each : bench.place->findChildren<QLineEdit *>(QStringLiteral("valve-number"))) {
            line = each->isVisible() ? each : line;
        }
        QVERIFY(line != nullptr);
        line->setFocus();
        TruckBench::type("999");
        TruckBench::key(Qt::Key_Return);
        QVERIFY(line->property("refused").toBool());
        line->clear();
        TruckBench::type("V-009");
        TruckBench::key(Qt::Key_Return);
        QVERIFY(bench.text("stop-title").contains(QStringLiteral("V-009")));
        QVERIFY(!bench.find("skip")->isEnabled());
    }

    void dropsWhatWasTypedOnlyWhenAskedTwice()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        TruckBench::key(Qt::Key_Return);
        QVERIFY(!bench.find("drop")->isEnabled());
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return); // the work zone is asked about later
        TruckBench::key(Qt::Key_1);
        bench.click("drop");
        QCOMPARE(bench.session.drafts().size(), std::size_t(1));
        TruckBench::key(Qt::Key_2); // a change takes the question back
        TruckBench::key(Qt::Key_Delete);
        QCOMPARE(bench.session.drafts().size(), std::size_t(1));
        TruckBench::key(Qt::Key_Delete);
        QVERIFY(bench.session.drafts().empty());
        QVERIFY(bench.shows("list-title"));
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
