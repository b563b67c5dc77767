// SPDX-License-Identifier: GPL-3.0-or-later
// One whole day in the window, by clicks and keys, on the sample town's own files: a new project,
// six files in, the yard, what is due, a round, three stops in the truck, the end of the round,
// the chart. The pictures in the README are made here.
#include "app/dialogs/choose_file.h"
#include "app/dialogs/import_dialog.h"
#include "app/models/data_table.h"
#include "app/office/office_place.h"
#include "app/shell/main_window.h"
#include "app/shell/message_line.h"
#include "app/shell/style.h"
#include "app/truck/truck_place.h"
#include "app/yard/side_column.h"
#include "app/yard/yard_place.h"
#include "tests/support/by_name.h"
#include "tests/support/on_screen.h"
#include "tests/support/test_town.h"

#include <QAction>
#include <QApplication>
#include <QComboBox>
#include <QDir>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTableView>
#include <QTest>

#include <algorithm>

using namespace keyround;

namespace {

QString text(QWidget *parent, const char *name)
{
    return named<QLabel>(parent, name)->text();
}

} // namespace

class TestWholeDay : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase();
    void makesAProject();
    void bringsTheFilesIn_data();
    void bringsTheFilesIn();
    void asksForTheYard();
    void saysWhatIsDue();
    void drawsTheRoundUp();
    void recordsThreeStops();
    void finishesTheRound();
    void showsTheChange();
    void opensAgain();

private:
    void picture(const char *name, const QSize &size);
    void recordStop(int turns, const char *problem);

    QTemporaryDir m_folder;
    Session m_session{
        std::make_unique<FixedClock>(Moment::fromIso(QStringLiteral("2026-03-16T06:45:00-07:00")))};
    std::unique_ptr<MainWindow> m_window;
    QStringList m_failures;
    int m_outBefore = 0;
};

void TestWholeDay::initTestCase()
{
    keepSettingsApart();
    applyLook(*qApp);
    m_session.setPerson(QStringLiteral("T. Invented"));
    connect(&m_session.notifier(), &Notifier::failed, this,
            [this](const QString &words) { m_failures << words; });
    m_window = std::make_unique<MainWindow>(m_session);
    m_window->resize(1366, 768);
    m_window->show();
    m_window->activateWindow();
    QVERIFY(QTest::qWaitForWindowActive(m_window.get()));
}

void TestWholeDay::picture(const char *name, const QSize &size)
{
    // What the message line says names this run's temporary folder; the pictures go without it.
    m_window->findChild<MessageLine *>()->hide();
    m_window->resize(size);
    QTest::qWait(60);
    const QDir folder(QStringLiteral(KEYROUND_BUILD_DIR "/screens"));
    QVERIFY(folder.mkpath(QStringLiteral(".")));
    QVERIFY(m_window->grab().save(folder.filePath(
        QStringLiteral("day-%1-%2.png").arg(QLatin1String(name)).arg(size.width()))));
}

void TestWholeDay::makesAProject()
{
    picture("start", {1366, 768});
    setNextFileForTest(m_folder.filePath(QStringLiteral("town.keyround")));
    click(m_window.get(), "newProject");
    QVERIFY(m_session.isOpen());
    picture("empty", {1366, 768});
}

void TestWholeDay::bringsTheFilesIn_data()
{
    QTest::addColumn<QString>("file");
    QTest::addColumn<bool>("asksForSystem");
    QTest::addColumn<QString>("summary");
    // Counts as sample-project/README.md has them; one valve stands in its file twice.
    QTest::newRow("streets") << "streets.gpkg" << false << "777 new";
    QTest::newRow("mains") << "mains.gpkg" << false << "1083 new";
    QTest::newRow("hydrants") << "hydrants.geojson" << false << "297 new";
    QTest::newRow("services") << "services.csv" << true << "3991 new";
    QTest::newRow("valves") << "valves.csv" << true << "1222 new";
    QTest::newRow("visits") << "visits.csv" << false << "5746 new";
}

void TestWholeDay::bringsTheFilesIn()
{
    QFETCH(QString, file);
    QFETCH(bool, asksForSystem);
    QFETCH(QString, summary);
    QTest::keyClick(m_window.get(), Qt::Key_I, Qt::ControlModifier);
    auto *dialog = m_window->findChild<ImportDialog *>();
    QVERIFY(dialog != nullptr);
    setNextFileForTest(QStringLiteral(KEYROUND_SOURCE_DIR "/sample-project/data/") + file);
    click(dialog, "chooseFile");
    auto *epsg = named<QLineEdit>(dialog, "epsg");
    QCOMPARE(epsg->isVisible(), asksForSystem);
    if (asksForSystem) {
        // Without its coordinate system the file is not read: asked for, never guessed.
        click(dialog, "look");
        QVERIFY2(text(dialog, "importMessage").contains(QStringLiteral("EPSG")),
                 qPrintable(text(dialog, "importMessage")));
        QVERIFY(!named<QPushButton>(dialog, "bringIn")->isEnabled());
        QTest::keyClicks(epsg, QStringLiteral("3422"));
    }
    click(dialog, "look");
    QVERIFY2(text(dialog, "importSummary").contains(summary),
             qPrintable(text(dialog, "importSummary") + text(dialog, "importMessage")));
    if (file == QStringLiteral("valves.csv")) {
        QTest::qWait(60);
        QVERIFY(dialog->grab().save(QStringLiteral(KEYROUND_BUILD_DIR "/screens/day-import.png")));
    }
    click(dialog, "bringIn");
    QVERIFY2(text(dialog, "importMessage").contains(QStringLiteral("Brought in")),
             qPrintable(text(dialog, "importMessage")));
    dialog->close();
    QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
    m_window->activateWindow();
    QVERIFY(QTest::qWaitForWindowActive(m_window.get()));
    QVERIFY2(m_failures.isEmpty(), qPrintable(m_failures.join(QLatin1Char('\n'))));
}

void TestWholeDay::asksForTheYard()
{
    auto *yard = m_window->findChild<YardPlace *>();
    typeInto(named<QWidget>(yard, "yardLine")->findChild<QLineEdit *>(),
             QStringLiteral("38.70794, -116.06352"));
    QVERIFY(m_session.settings().yard.has_value());
}

void TestWholeDay::saysWhatIsDue()
{
    auto *yard = m_window->findChild<YardPlace *>();
    const DataTable *table = yard->findChild<SideColumn *>()->dueTable();
    const auto wanted = std::ranges::count_if(
        m_session.dueList(), [](const DueEntry &each) { return wantsVisit(each.state); });
    QVERIFY(wanted > 100);
    QCOMPARE(table->view()->model()->rowCount(), int(wanted));
    picture("due", {1366, 768});
}

void TestWholeDay::drawsTheRoundUp()
{
    auto *yard = m_window->findChild<YardPlace *>();
    click(yard, "newRound");
    click(yard, "drawUp");
    QTRY_VERIFY(!m_session.rounds().empty() && m_session.rounds().front().stops.size() >= 8);
    QVERIFY2(text(yard, "sentence").contains(QStringLiteral("stops")),
             qPrintable(text(yard, "sentence")));
    // Undo takes the round away, redo brings it back.
    const size_t stops = m_session.rounds().front().stops.size();
    QTest::keyClick(m_window.get(), Qt::Key_Z, Qt::ControlModifier);
    QVERIFY(m_session.rounds().empty() || m_session.rounds().front().stops.size() != stops);
    QTest::keyClick(m_window.get(), Qt::Key_Z, Qt::ControlModifier | Qt::ShiftModifier);
    QVERIFY(!m_session.rounds().empty());
    QCOMPARE(m_session.rounds().front().stops.size(), stops);
    picture("yard", {1366, 768});
    picture("yard", {1920, 1080});
    m_window->resize(1366, 768);

    const QString sheet = m_folder.filePath(QStringLiteral("route.pdf"));
    setNextFileForTest(sheet);
    named<QAction>(yard, "routeSheet")->trigger();
    QFile file(sheet);
    QVERIFY(file.open(QIODevice::ReadOnly));
    QVERIFY(file.readAll().startsWith("%PDF"));
}

void TestWholeDay::recordStop(int turns, const char *problem)
{
    auto *truck = m_window->findChild<TruckPlace *>();
    click(truck, "next"); // at the valve
    click(truck, "next"); // the work zone is asked about later
    click(truck, "found-open");
    click(truck, "next");
    for (int turn = 0; turn < turns; ++turn) {
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_Space);
    }
    if (turns > 9) {
        picture("truck", {1366, 768});
        picture("truck", {1920, 1080});
        m_window->resize(1366, 768);
    }
    click(truck, "pass-opening");
    for (int turn = 0; turn < turns; ++turn) {
        click(truck, "count-turn");
    }
    click(truck, "next"); // to the judgement
    QVERIFY(!text(truck, "verdict").isEmpty());
    click(truck, "next"); // to the problems
    if (problem != nullptr) {
        click(truck, problem);
    }
    click(truck, "next");
    click(truck, "left-open");
    click(truck, "next"); // to the sentence that says what is recorded
    QVERIFY(!text(truck, "sentence").isEmpty());
    click(truck, "next");
}

void TestWholeDay::recordsThreeStops()
{
    const auto bad = [this] {
        return int(std::ranges::count_if(m_session.histories(), [](const ValveHistory &each) {
            return isOutOfCondition(each.condition);
        }));
    };
    m_outBefore = bad();
    click(m_window.get(), "placeTruck");
    auto *truck = m_window->findChild<TruckPlace *>();
    click(truck, "round-1");
    const size_t before = m_session.visits().size();
    recordStop(38, nullptr);
    recordStop(4, "problem-did_not_close");
    recordStop(8, "problem-packing_leak");
    QCOMPARE(m_session.visits().size(), before + 3);
    QVERIFY(m_session.rounds().front().state == RoundState::UnderWay);
    QVERIFY2(m_failures.isEmpty(), qPrintable(m_failures.join(QLatin1Char('\n'))));
    QVERIFY(bad() > m_outBefore);
}

void TestWholeDay::finishesTheRound()
{
    auto *truck = m_window->findChild<TruckPlace *>();
    click(truck, "stops");
    click(truck, "to-finish-round");
    QVERIFY(text(truck, "outcome-done").contains(QLatin1Char('3')));
    picture("finish", {1366, 768});
    click(truck, "finish-round");
    QVERIFY(m_session.rounds().front().state == RoundState::Finished);
    const QDir backups(m_folder.filePath(QStringLiteral("town.backups")));
    QVERIFY(!backups.entryList({QStringLiteral("*.keyround")}).isEmpty());
}

void TestWholeDay::showsTheChange()
{
    click(m_window.get(), "placeOffice");
    auto *office = m_window->findChild<OfficePlace *>();
    QVERIFY(!text(office, "answer").isEmpty());
    picture("office", {1366, 768});
    picture("office", {1920, 1080});
    m_window->resize(1366, 768);
    const QString png = m_folder.filePath(QStringLiteral("chart.png"));
    setNextFileForTest(png);
    click(office, "savePng");
    QVERIFY(!QImage(png).isNull());
}

void TestWholeDay::opensAgain()
{
    const QString path = m_session.project().path();
    const size_t visits = m_session.visits().size();
    m_session.closeProject();
    m_window->openProject(path);
    QVERIFY(m_session.isOpen());
    QCOMPARE(m_session.visits().size(), visits);
    QVERIFY2(m_failures.isEmpty(), qPrintable(m_failures.join(QLatin1Char('\n'))));
}

QTEST_MAIN(TestWholeDay)
#include "test_whole_day.moc"
