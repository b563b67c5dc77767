// SPDX-License-Identifier: GPL-3.0-or-later
// The night a main breaks, by hand: click the main, tick the steps off by touch-size clicks and by
// keys alone, close the program in between, say that a valve does not hold, open all again, end it.
// The network is the small town's with a valve 10 m from each end of every main
// (tests/support/test_town.h), so a break on M-N21 takes the two valves on it; what a stuck one
// costs can be read off the grid.
#include "app/dialogs/big_button.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/notice_panel.h"
#include "app/dialogs/truck_look.h"
#include "app/map/map_widget.h"
#include "app/models/data_table.h"
#include "app/shell/main_window.h"
#include "app/shell/message_line.h"
#include "app/shell/style.h"
#include "core/storage/layer_store.h"
#include "core/storage/valve_store.h"
#include "tests/support/on_screen.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QClipboard>
#include <QFile>
#include <QLabel>
#include <QTableView>

using namespace keyround;

class TestBreak : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase();
    void init();
    void cleanup();
    void aClickShowsTheShut();
    void aPlaceOffTheMainsIsRefused();
    void numbersAndPlacesAreTyped();
    void tickedThroughByClicks();
    void tickedThroughByKeysAlone();
    void doesNotHoldGrowsTheShut();
    void aWrongTickIsCorrectedByTheOpposite();
    void theEndSaysWhatIsStillClosed();
    void theCrewDecidesTheOrder();
    void deadSideAndDryBeyond();
    void paperAndTable();
    void fromTheTruckAtTouchSize();
    void emptyProjectsSayWhatToDo();
    void theReportIsFixedAndUndone();
    void branchesAndEndsAreDecided();
    void aSourceIsPlacedAndUndone();
    void whatMattersMost();
    void screens_data();
    void screens();

private:
    void open(bool withNetwork = true);
    void restart();
    template <typename T = QWidget> T *find(const char *name) const
    {
        return m_window->findChild<T *>(QLatin1String(name));
    }
    QString text(const char *name) const { return find<QLabel>(name)->text(); }
    QString buttonText(const char *name) const { return find<QAbstractButton>(name)->text(); }
    void click(const char *name) const;
    static void key(Qt::Key key);
    void clickMap(const GeoPoint &place) const;
    void breakOnN21() const;
    [[nodiscard]] QString said() const { return m_window->findChild<MessageLine *>()->text(); }
    [[nodiscard]] const ShutLog &log() const { return m_session->shuts().front(); }
    [[nodiscard]] QStringList stillClosed() const;

    std::unique_ptr<Session> m_session;
    std::unique_ptr<SmallTown> m_town;
    std::unique_ptr<MainWindow> m_window;
};

void TestBreak::initTestCase()
{
    keepSettingsApart();
    applyLook(*qApp);
}

void TestBreak::init()
{
    m_session = std::make_unique<Session>(smallTownClock());
    m_session->setPerson(QStringLiteral("R. Invented"));
    m_town = makeSmallTown(*m_session);
}

void TestBreak::cleanup()
{
    m_window.reset();
    m_session.reset();
    m_town.reset();
}

void TestBreak::open(bool withNetwork)
{
    if (withNetwork) {
        addSmallTownNetwork(*m_session);
    }
    m_window = std::make_unique<MainWindow>(*m_session);
    m_window->resize(1366, 768);
    m_window->show();
    m_window->activateWindow();
    QVERIFY(QTest::qWaitForWindowActive(m_window.get()));
    m_window->showPlace(MainWindow::Place::Break);
}

void TestBreak::restart()
{
    m_window.reset();
    m_session = std::make_unique<Session>(smallTownClock());
    m_session->setPerson(QStringLiteral("R. Invented"));
    QVERIFY(m_session->openProject(m_town->path));
    open(false);
}

void TestBreak::click(const char *name) const
{
    auto *target = find(name);
    QVERIFY2(target != nullptr && target->isVisible(), name);
    QTest::mouseClick(target, Qt::LeftButton);
}

void TestBreak::key(Qt::Key key)
{
    QVERIFY(QApplication::focusWidget() != nullptr);
    QTest::keyClick(QApplication::focusWidget(), key);
}

void TestBreak::clickMap(const GeoPoint &place) const
{
    auto *map = find<MapWidget>("break-map");
    QTest::mouseClick(map, Qt::LeftButton, Qt::NoModifier, map->screenPoint(place).toPoint());
}

/// The middle of the main along the third avenue, between the second and the third street.
void TestBreak::breakOnN21() const
{
    const GeoPoint from = smallTownCorner(2, 1);
    const GeoPoint to = smallTownCorner(2, 2);
    clickMap({(from.latitude + to.latitude) / 2, (from.longitude + to.longitude) / 2});
}

QStringList TestBreak::stillClosed() const
{
    QStringList numbers;
    for (const ValveId &id : standingOf(log()).closed) {
        numbers << m_session->valve(id)->number;
    }
    return numbers;
}

void TestBreak::aClickShowsTheShut()
{
    open();
    QVERIFY(text("break-caution").contains(QStringLiteral("pressure")));
    breakOnN21();
    QVERIFY2(text("break-title").contains(QStringLiteral("M-N21")),
             qPrintable(text("break-title")));
    // G-N21-N does not turn: the shut grows over the corner to the two other mains that meet there.
    for (const char *row : {"step-G-N21-S", "step-G-N22-S", "step-G-E12-E", "step-G-N21-N"}) {
        QVERIFY2(find(row) != nullptr, row);
    }
    QVERIFY(find("step-G-N20-N") == nullptr);
    QVERIFY2(text("break-who").contains(QStringLiteral("2 services")),
             qPrintable(text("break-who")));
    // Nothing is recorded by looking.
    QVERIFY(m_session->shuts().empty());
    QCOMPARE(buttonText("shut-first"), QStringLiteral("Begin the shut"));
    // Nobody has tried the others: the sentence of what then stands under them.
    bool saysIfItFails = false;
    for (const QLabel *label : find("break")->findChildren<QLabel *>()) {
        saysIfItFails =
            saysIfItFails || label->text().startsWith(QStringLiteral("If G-N22-S does not hold:"));
    }
    QVERIFY(saysIfItFails);
}

void TestBreak::aPlaceOffTheMainsIsRefused()
{
    open();
    const GeoPoint a = smallTownCorner(0, 0);
    const GeoPoint b = smallTownCorner(1, 1);
    clickMap({(a.latitude + b.latitude) / 2, (a.longitude + b.longitude) / 2});
    QVERIFY2(text("break-refusal").contains(QStringLiteral("nearest main")),
             qPrintable(text("break-refusal")));
    QVERIFY(find("break-empty")->isVisible());
}

void TestBreak::numbersAndPlacesAreTyped()
{
    open();
    auto *line = find<QLineEdit>("break-find");
    typeInto(line, QStringLiteral("M-XX"));
    QVERIFY(text("break-refusal").contains(QStringLiteral("M-XX")));
    typeInto(line, QStringLiteral("M-N21"));
    QVERIFY(!find("break-refusal")->isVisible());
    QVERIFY(text("break-title").contains(QStringLiteral("M-N21")));
    click("break-all");
    const GeoPoint corner = smallTownCorner(4, 2);
    typeInto(line, QStringLiteral("%1, %2")
                       .arg(corner.latitude + 0.0005, 0, 'f', 7)
                       .arg(corner.longitude, 0, 'f', 7));
    QVERIFY2(text("break-title").contains(QStringLiteral("M-N42")),
             qPrintable(text("break-title")));
}

void TestBreak::tickedThroughByClicks()
{
    open();
    breakOnN21();
    click("shut-first");
    QCOMPARE(m_session->shuts().size(), 1U);
    QVERIFY(find("openShuts")->isVisible());
    QCOMPARE(find("openShuts")->property("role").toString(), QStringLiteral("caution"));
    for (int i = 0; i < 3; ++i) {
        QVERIFY(buttonText("shut-first").endsWith(QStringLiteral("is closed")));
        click("shut-first");
    }
    QCOMPARE(text("shut-next"), QStringLiteral("Every valve of the plan is closed"));
    QCOMPARE(stillClosed().size(), 3);
    QCOMPARE(find("openShuts")->property("role").toString(), QStringLiteral("danger"));
    QVERIFY(text("openShuts").contains(QStringLiteral("3 valves closed")));

    // The line stands on every place.
    m_window->showPlace(MainWindow::Place::Office);
    QVERIFY(find("openShuts")->isVisible());

    // After a restart the page lists it, and the work goes on where it broke off.
    restart();
    QVERIFY(text("openShuts").contains(QStringLiteral("3 valves closed")));
    click("shut-1");
    QCOMPARE(text("shut-next"), QStringLiteral("Every valve of the plan is closed"));
    QVERIFY(buttonText("step-G-N21-S").contains(QStringLiteral("closed at 06:45, R. Invented")));

    const QStringList closed = stillClosed();
    click("shut-phase");
    for (int i = 2; i >= 0; --i) { // the last one closed is opened first
        QVERIFY2(buttonText("shut-first").startsWith(closed.at(i)),
                 qPrintable(buttonText("shut-first")));
        click("shut-first");
    }
    QVERIFY(stillClosed().isEmpty());
    click("shut-end");
    QVERIFY(text("shut-statement").contains(QStringLiteral("Nothing is closed")));
    click("shut-end");
    QVERIFY(standingOf(log()).isEnded);
    QVERIFY(!find("openShuts")->isVisible());
}

void TestBreak::tickedThroughByKeysAlone()
{
    open();
    find("break-find")->setFocus();
    QTest::keyClicks(QApplication::focusWidget(), QStringLiteral("M-N21"));
    key(Qt::Key_Return); // the plan; the keyboard goes to the next thing to do
    key(Qt::Key_Return); // begin
    QCOMPARE(m_session->shuts().size(), 1U);
    for (int i = 0; i < 3; ++i) {
        key(Qt::Key_Return);
    }
    QCOMPARE(stillClosed().size(), 3);
    QCOMPARE(QApplication::focusWidget()->objectName(), QStringLiteral("shut-phase"));
    key(Qt::Key_Return);
    for (int i = 0; i < 3; ++i) {
        key(Qt::Key_Return);
    }
    QVERIFY(stillClosed().isEmpty());
    QCOMPARE(QApplication::focusWidget()->objectName(), QStringLiteral("shut-end"));
    key(Qt::Key_Return);
    key(Qt::Key_Return);
    QVERIFY(standingOf(log()).isEnded);
}

void TestBreak::doesNotHoldGrowsTheShut()
{
    open();
    breakOnN21();
    click("shut-first");
    click("step-G-N22-S");
    QTest::keyClicks(find("shut-remark"), QStringLiteral("spins free"));
    click("shut-second");
    // Over G-N22-S lies M-N22 with its two services, to G-N22-N.
    QVERIFY2(text("break-change").contains(QStringLiteral("G-N22-S does not hold")) &&
                 text("break-change").contains(QStringLiteral("close G-N22-N as well")) &&
                 text("break-change").contains(QStringLiteral("2 more services")),
             qPrintable(text("break-change")));
    QVERIFY(find("step-G-N22-N") != nullptr);
    QVERIFY(buttonText("step-G-N22-S").contains(QStringLiteral("does not hold")));
    QVERIFY(text("break-who").contains(QStringLiteral("4 services")));
    QCOMPARE(standingOf(log()).didNotHold.size(), 1);
    QCOMPARE(log().ticks.back().words, QStringLiteral("spins free"));
}

void TestBreak::aWrongTickIsCorrectedByTheOpposite()
{
    open();
    breakOnN21();
    click("shut-first");
    click("step-G-N22-S");
    click("shut-second"); // does not hold
    click("step-G-N22-S");
    QVERIFY(buttonText("shut-first").contains(QStringLiteral("holds after all")));
    click("shut-first");
    QVERIFY2(text("break-change").contains(QStringLiteral("smaller")),
             qPrintable(text("break-change")));
    QVERIFY(find("step-G-N22-N") == nullptr);
    QCOMPARE(stillClosed(), QStringList{QStringLiteral("G-N22-S")});
    // Nothing was taken away: both ticks stand in the log.
    QCOMPARE(log().ticks.size(), 2U);
    QVERIFY(!m_session->undoStack().canUndo());
}

void TestBreak::theEndSaysWhatIsStillClosed()
{
    open();
    breakOnN21();
    click("shut-first");
    click("shut-first");
    const QString closed = stillClosed().front();
    click("shut-end");
    QVERIFY(!standingOf(log()).isEnded); // a clear word first
    QVERIFY(text("shut-statement").contains(QStringLiteral("Still closed: %1").arg(closed)));
    click("shut-phase"); // not yet
    QVERIFY(!find("shut-statement")->isVisible());
    click("shut-end");
    click("shut-end");
    QVERIFY(standingOf(log()).isEnded);
    QVERIFY(log().ticks.back().words.contains(closed));
    // Ended, and still said in red, until it is open again.
    QCOMPARE(find("openShuts")->property("role").toString(), QStringLiteral("danger"));
    QVERIFY(buttonText("shut-first").startsWith(closed));
    click("shut-first");
    QVERIFY(stillClosed().isEmpty());
    QVERIFY(!find("openShuts")->isVisible());
}

void TestBreak::theCrewDecidesTheOrder()
{
    open();
    breakOnN21();
    const auto first = [this] {
        const auto labels = m_window->findChildren<BigButton *>();
        for (const BigButton *button : labels) {
            if (button->isVisible() && button->objectName().startsWith(QStringLiteral("step-"))) {
                return button->objectName();
            }
        }
        return QString();
    };
    QCOMPARE(first(), QStringLiteral("step-G-N21-S")); // the yard lies in the south-west
    click("break-crew");
    clickMap(smallTownCorner(2, 4));
    QCOMPARE(buttonText("break-crew"), QStringLiteral("Crew: from the yard again"));
    QCOMPARE(first(), QStringLiteral("step-G-N22-S"));
    click("break-crew");
    QCOMPARE(first(), QStringLiteral("step-G-N21-S"));
}

void TestBreak::deadSideAndDryBeyond()
{
    open();
    // All round the north-west corner: behind G-DEAD nobody is fed then.
    typeInto(find<QLineEdit>("break-find"), QStringLiteral("%1, %2")
                                                .arg(smallTownCorner(0, 4).latitude, 0, 'f', 7)
                                                .arg(smallTownCorner(0, 4).longitude, 0, 'f', 7));
    QVERIFY2(text("break-who").contains(QStringLiteral("Dry beyond it: 3 services")),
             qPrintable(text("break-who")));
    QVERIFY(find("step-G-DEAD") != nullptr);
    bool hasHeading = false;
    for (const QLabel *label : find("break")->findChildren<QLabel *>()) {
        hasHeading = hasHeading || label->text() == QStringLiteral("Close against drain-back");
    }
    QVERIFY(hasHeading);
    // A source inside is said aloud.
    typeInto(find<QLineEdit>("break-find"), QStringLiteral("%1, %2")
                                                .arg(smallTownCorner(0, 0).latitude, 0, 'f', 7)
                                                .arg(smallTownCorner(0, 0).longitude, 0, 'f', 7));
    QVERIFY2(text("break-notes").contains(QStringLiteral("South Tank")),
             qPrintable(text("break-notes")));
}

void TestBreak::paperAndTable()
{
    open();
    breakOnN21();
    const QString pdf = m_town->folder.filePath(QStringLiteral("shut.pdf"));
    setNextFileForTest(pdf);
    click("break-sheet");
    QFile sheet(pdf);
    QVERIFY(sheet.open(QIODevice::ReadOnly));
    QVERIFY(sheet.read(5) == "%PDF-");
    const QString csv = m_town->folder.filePath(QStringLiteral("shut.csv"));
    setNextFileForTest(csv);
    click("break-csv");
    QFile steps(csv);
    QVERIFY(steps.open(QIODevice::ReadOnly));
    QVERIFY(steps.readAll().contains("G-N22-S"));
    click("break-copy");
    QVERIFY(QApplication::clipboard()->text().contains(QStringLiteral("G-N22-S")));
    QVERIFY(QApplication::clipboard()->text().contains(QStringLiteral("pressure")));
    click("break-notices");
    auto *notices = m_window->findChild<NoticePanel *>();
    QVERIFY(notices != nullptr);
    QCOMPARE(notices->jobs()->rowCount(), 1);
    QVERIFY2(notices->jobs()->item(0, 0)->text().contains(QStringLiteral("M-N21")),
             qPrintable(notices->jobs()->item(0, 0)->text()));
    notices->close();
}

void TestBreak::fromTheTruckAtTouchSize()
{
    open();
    m_window->showPlace(MainWindow::Place::Truck);
    click("choose-break");
    QVERIFY(find("break")->isVisible());
    breakOnN21();
    const int target = TruckScale::of(m_window.get()).target;
    const auto tooSmall = [&] {
        QStringList names;
        for (const BigButton *button : find("break")->findChildren<BigButton *>()) {
            if (button->isVisible() && (button->height() < target || button->width() < target)) {
                names << button->objectName();
            }
        }
        return names;
    };
    QTRY_COMPARE(tooSmall(), QStringList()); // once the layout has settled
    QVERIFY(find("break-find")->height() >= target);
}

void TestBreak::emptyProjectsSayWhatToDo()
{
    const QTemporaryDir folder;
    QVERIFY(m_session->createProject(folder.filePath(QStringLiteral("empty.keyround")),
                                     UnitSystem::Us));
    open(false);
    QVERIFY(text("break-empty").contains(QStringLiteral("no mains yet")));
    QTest::qWait(80);
    QVERIFY(m_window->grab().save(screenFile(QStringLiteral("break-empty-1366.png"))));
    click("break-network");
    QVERIFY(text("network-sentence").contains(QStringLiteral("none yet")));
    QVERIFY(m_window->grab().save(screenFile(QStringLiteral("network-empty-1366.png"))));
    click("network-back");
    click("break-matters");
    QTest::qWait(80);
    QVERIFY(m_window->grab().save(screenFile(QStringLiteral("matters-empty-1366.png"))));
    m_session->closeProject();
    // Mains and no source: the page says what cannot be said.
    QVERIFY(m_session->openProject(m_town->path));
    m_window->showPlace(MainWindow::Place::Break);
    QVERIFY2(text("break-empty").contains(QStringLiteral("No source is marked")),
             qPrintable(text("break-empty")));
}

void TestBreak::theReportIsFixedAndUndone()
{
    open();
    click("break-network");
    // The town's own valves stand 5 m from their main, out of reach.
    click("kind-valve_not_placed");
    auto *table = find<DataTable>("network-table");
    const int before = m_session->network().report.count(NetworkNoteKind::ValveNotPlaced);
    QVERIFY(before > 0);
    table->selectRow(0);
    const QString number = table->shownText().at(1).at(0);
    QVERIFY(text("fix-words").contains(number));
    auto *line = find<QLineEdit>("fix-main");
    typeInto(line, QStringLiteral("M-nowhere"));
    QVERIFY(text("fix-refusal").contains(QStringLiteral("M-nowhere")));
    QVERIFY(m_session->networkFixes().isEmpty());
    typeInto(line, QStringLiteral("M-N00"));
    QCOMPARE(m_session->networkFixes().valves.size(), 1U);
    QCOMPARE(m_session->networkFixes().valves.front().valve, number);
    QCOMPARE(m_session->network().report.count(NetworkNoteKind::ValveNotPlaced), before - 1);
    m_session->undoStack().undo();
    QVERIFY(m_session->networkFixes().isEmpty());
    QCOMPARE(m_session->network().report.count(NetworkNoteKind::ValveNotPlaced), before);
    m_session->undoStack().redo();
    click("decisions");
    click("decision-1");
    QVERIFY(m_session->networkFixes().isEmpty());
}

void TestBreak::branchesAndEndsAreDecided()
{
    addSmallTownNetwork(*m_session);
    // A main whose end stops a metre short of M-N51, and a valve right on a corner.
    constexpr double metreEast = 1.0 / 85394.0; // degrees at 40 N
    const GeoPoint corner = smallTownCorner(5, 1);
    Main branch;
    branch.id = FeatureId{newUuid7(m_session->now().utcMilliseconds)};
    branch.number = QStringLiteral("M-BRANCH");
    branch.line = {{corner.latitude + 0.0005, corner.longitude + metreEast},
                   {corner.latitude + 0.0005, corner.longitude + 60 * metreEast}};
    QVERIFY(m_session->project().layers().put(std::vector<Main>{branch}));
    Valve valve;
    valve.id = ValveId{newUuid7(m_session->now().utcMilliseconds)};
    valve.number = QStringLiteral("G-CORNER");
    valve.place = smallTownCorner(3, 3);
    QVERIFY(m_session->project().valves().add(valve, m_session->author(), m_session->now(),
                                              QStringLiteral("test")));
    Q_EMIT m_session->notifier().layersChanged();
    Q_EMIT m_session->notifier().valvesChanged();
    open(false);
    const auto count = [this](NetworkNoteKind kind) {
        return m_session->network().report.count(kind);
    };
    QCOMPARE(count(NetworkNoteKind::EndStopsShort), 1);
    QCOMPARE(count(NetworkNoteKind::PieceWithoutSource), 1);
    click("break-network");
    auto *table = find<DataTable>("network-table");
    click("kind-end_stops_short");
    table->selectRow(0);
    QVERIFY(buttonText("fix-1").startsWith(QStringLiteral("Join it to main M-N51")));
    click("fix-1");
    QCOMPARE(count(NetworkNoteKind::EndStopsShort), 0);
    QCOMPARE(count(NetworkNoteKind::PieceWithoutSource), 0);
    m_session->undoStack().undo();
    QCOMPARE(count(NetworkNoteKind::EndStopsShort), 1);
    click("kind-end_stops_short");
    table->selectRow(0);
    click("fix-2"); // left apart: no longer told of, and still without a source
    QCOMPARE(count(NetworkNoteKind::EndStopsShort), 0);
    QCOMPARE(count(NetworkNoteKind::PieceWithoutSource), 1);

    QCOMPARE(count(NetworkNoteKind::ValveAmbiguous), 1);
    click("kind-valve_ambiguous");
    table->selectRow(0);
    QTest::qWait(60);
    QVERIFY(m_window->grab().save(screenFile(QStringLiteral("network-branches-1366.png"))));
    QVERIFY(find("fix-3") != nullptr); // three mains meet there, beside the river
    click("fix-2");
    QCOMPARE(count(NetworkNoteKind::ValveAmbiguous), 0);
    QCOMPARE(m_session->networkFixes().valves.front().valve, QStringLiteral("G-CORNER"));
    // Kept in the file.
    restart();
    QCOMPARE(count(NetworkNoteKind::ValveAmbiguous), 0);
}

void TestBreak::aSourceIsPlacedAndUndone()
{
    open();
    click("break-network");
    click("place-source");
    auto *map = find<MapWidget>("network-map");
    const QPoint place = map->screenPoint(smallTownCorner(5, 0)).toPoint();
    QTest::mouseClick(map, Qt::LeftButton, Qt::NoModifier, place);
    QVERIFY(text("fix-refusal").contains(QStringLiteral("number")));
    QTest::keyClicks(find("source-number"), QStringLiteral("T-1"));
    QTest::mouseClick(map, Qt::LeftButton, Qt::NoModifier, place);
    QVERIFY(text("fix-refusal").contains(QStringLiteral("already")));
    QCOMPARE(m_session->sources().size(), 1U);
    QTest::keyClick(find("source-number"), Qt::Key_Backspace);
    QTest::keyClicks(find("source-number"), QStringLiteral("2"));
    QTest::mouseClick(map, Qt::LeftButton, Qt::NoModifier, place);
    QCOMPARE(m_session->sources().size(), 2U);
    m_session->undoStack().undo();
    QCOMPARE(m_session->sources().size(), 1U);
}

void TestBreak::whatMattersMost()
{
    open();
    click("break-matters");
    auto *table = find<DataTable>("matters-valves");
    const QVector<QStringList> rows = table->shownText();
    QCOMPARE(rows.size() - 1, qsizetype(m_session->network().network.valves.size()));
    // Sorted by what its sticking costs, most first.
    const auto column = rows.front().indexOf(QStringLiteral("More if it sticks"));
    QVERIFY(column >= 0);
    for (qsizetype i = 2; i < rows.size(); ++i) {
        QVERIFY(rows.at(i - 1).at(column).toInt() >= rows.at(i).at(column).toInt());
    }
    table->selectRow(0);
    click("matters-back");
    QVERIFY(find("break")->isVisible());
}

void TestBreak::screens_data()
{
    QTest::addColumn<QSize>("size");
    QTest::newRow("1366") << QSize(1366, 768);
    QTest::newRow("1920") << QSize(1920, 1080);
}

void TestBreak::screens()
{
    QFETCH(QSize, size);
    open();
    m_window->resize(size);
    const auto save = [&](const char *name) {
        QTest::qWait(80);
        QVERIFY(m_window->grab().save(
            screenFile(QStringLiteral("%1-%2.png").arg(QLatin1String(name)).arg(size.width()))));
    };
    save("break-start");
    breakOnN21();
    save("break-town");
    click("shut-first");
    click("shut-first");
    click("step-G-N22-S");
    click("shut-second");
    save("break-grown");
    click("shut-end");
    save("break-ending");
    click("shut-phase");
    click("shut-phase");
    save("break-reopening");
    m_window->showPlace(MainWindow::Place::Truck);
    save("break-truck");
    m_window->showPlace(MainWindow::Place::Break);
    click("break-network");
    click("kind-valve_not_placed");
    find<DataTable>("network-table")->selectRow(2);
    save("network-town");
    click("network-back");
    click("break-matters");
    find<DataTable>("matters-valves")->selectRow(0);
    save("matters-town");
}

QTEST_MAIN(TestBreak)
#include "test_break.moc"
