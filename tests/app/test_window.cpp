// SPDX-License-Identifier: GPL-3.0-or-later
// The window when things go wrong or are odd: files that are no project, a name that is taken, many
// valves out of their normal position, long numbers, a project with nothing in it, places without
// a project.
#include "app/commands/visit_commands.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/import_dialog.h"
#include "app/shell/main_window.h"
#include "app/shell/message_line.h"
#include "app/shell/style.h"
#include "core/storage/valve_store.h"
#include "tests/support/on_screen.h"
#include "tests/support/test_town.h"

#include <QAction>
#include <QApplication>
#include <QLabel>
#include <QPushButton>
#include <QStackedWidget>

using namespace keyround;

class TestWindow : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase();
    void init();
    void cleanup();
    void aFileThatIsNoProjectStaysSaid();
    void aBadFileLeavesTheOpenProjectOpen();
    void theOpenProjectCanBeChosenAgain();
    void newNeverOverwrites();
    void emptyPlacesSayWhatToDo();
    void theWarningStaysReadable();
    void aMadeUpImportRefusesPolitely();

private:
    [[nodiscard]] QString said() const { return m_window->findChild<MessageLine *>()->text(); }
    void picture(const char *name);

    QTemporaryDir m_folder;
    std::unique_ptr<Session> m_session;
    std::unique_ptr<SmallTown> m_town;
    std::unique_ptr<MainWindow> m_window;
};

void TestWindow::initTestCase()
{
    keepSettingsApart();
    applyLook(*qApp);
}

void TestWindow::init()
{
    m_session = std::make_unique<Session>(smallTownClock());
    m_town = makeSmallTown(*m_session);
    m_session->closeProject();
    m_window = std::make_unique<MainWindow>(*m_session);
    m_window->resize(1366, 768);
    m_window->show();
    m_window->activateWindow();
    QVERIFY(QTest::qWaitForWindowActive(m_window.get()));
}

void TestWindow::cleanup()
{
    m_window.reset();
    m_session.reset();
    m_town.reset();
}

void TestWindow::picture(const char *name)
{
    QTest::qWait(60);
    QVERIFY(m_window->grab().save(screenFile(QLatin1String(name))));
}

void TestWindow::aFileThatIsNoProjectStaysSaid()
{
    const QString path = m_folder.filePath(QStringLiteral("list.keyround"));
    QFile file(path);
    QVERIFY(file.open(QIODevice::WriteOnly));
    file.write("VALVE_NO,SIZE\n1,6\n");
    file.close();
    m_window->openProject(path);
    QVERIFY(!m_session->isOpen());
    QVERIFY2(said().contains(QStringLiteral("not a Keyround project")), qPrintable(said()));
    picture("window-no-project-1366.png");
    m_window->openProject(m_folder.filePath(QStringLiteral("absent.keyround")));
    QVERIFY2(said().contains(QStringLiteral("absent.keyround")), qPrintable(said()));
    // Something that went well later does not cover what nobody has read.
    m_window->openProject(m_town->path);
    QVERIFY(m_session->isOpen());
    QVERIFY2(said().contains(QStringLiteral("absent.keyround")), qPrintable(said()));
}

void TestWindow::aBadFileLeavesTheOpenProjectOpen()
{
    m_window->openProject(m_town->path);
    const size_t valves = m_session->valves().size();
    m_window->openProject(m_folder.filePath(QStringLiteral("absent.keyround")));
    QVERIFY(m_session->isOpen());
    QCOMPARE(m_session->project().path(), m_town->path);
    QCOMPARE(m_session->valves().size(), valves);
}

void TestWindow::theOpenProjectCanBeChosenAgain()
{
    m_window->openProject(m_town->path);
    m_window->openProject(m_town->path);
    QVERIFY(m_session->isOpen());
    QVERIFY2(!said().contains(QStringLiteral("another")), qPrintable(said()));
}

void TestWindow::newNeverOverwrites()
{
    QFile before(m_town->path);
    QVERIFY(before.open(QIODevice::ReadOnly));
    const QByteArray bytes = before.readAll();
    before.close();
    setNextFileForTest(m_town->path);
    QTest::mouseClick(m_window->findChild<QPushButton *>(QStringLiteral("newProject")),
                      Qt::LeftButton);
    QVERIFY(!m_session->isOpen());
    QVERIFY2(said().contains(QStringLiteral("never overwritten")), qPrintable(said()));
    QVERIFY(before.open(QIODevice::ReadOnly));
    QCOMPARE(before.readAll(), bytes);
}

void TestWindow::emptyPlacesSayWhatToDo()
{
    setNextFileForTest(m_folder.filePath(QStringLiteral("empty.keyround")));
    QTest::mouseClick(m_window->findChild<QPushButton *>(QStringLiteral("newProject")),
                      Qt::LeftButton);
    QVERIFY(m_session->isOpen());
    for (const char *place : {"Yard", "Truck", "Office"}) {
        QTest::mouseClick(
            m_window->findChild<QPushButton *>(QStringLiteral("place") + QLatin1String(place)),
            Qt::LeftButton);
        picture(qPrintable(QStringLiteral("window-empty-%1-1366.png").arg(QLatin1String(place))));
    }
    m_session->closeProject();
    picture("window-closed-1366.png");
}

void TestWindow::theWarningStaysReadable()
{
    m_window->openProject(m_town->path);
    const auto valves = m_session->valves();
    const QString endless = QStringLiteral("VALVE-IN-THE-LONG-NUMBERED-DISTRICT-").repeated(4);
    for (size_t i = 0; i < valves.size(); ++i) {
        Valve longer = valves[i];
        longer.number = endless + longer.number;
        QVERIFY(m_session->project().valves().update(longer, m_session->author(), m_session->now(),
                                                     QStringLiteral("test")));
        Visit visit;
        visit.valve = longer.id;
        visit.arrived = visit.finished = m_session->now();
        visit.passes = {{PassDirection::Closing, QuarterTurns::ofTurns(20)}};
        visit.left.position =
            longer.normally == NormalPosition::Open ? Position::Closed : Position::Open;
        QVERIFY(recordVisit(*m_session, visit));
    }
    Q_EMIT m_session->notifier().valvesChanged();
    const auto *warning = m_window->findChild<QLabel *>(QStringLiteral("leftWarning"));
    QVERIFY(warning->isVisible());
    QVERIFY2(warning->text().contains(QStringLiteral("more")), qPrintable(warning->text()));
    for (const char *place : {"Yard", "Truck", "Office"}) {
        QTest::mouseClick(
            m_window->findChild<QPushButton *>(QStringLiteral("place") + QLatin1String(place)),
            Qt::LeftButton);
        picture(qPrintable(QStringLiteral("window-long-%1-1366.png").arg(QLatin1String(place))));
        QVERIFY(m_window->width() <= 1366);
        QVERIFY2(warning->height() <= 80, qPrintable(QString::number(warning->height())));
    }
}

void TestWindow::aMadeUpImportRefusesPolitely()
{
    m_window->openProject(m_town->path);
    QTest::keyClick(m_window.get(), Qt::Key_I, Qt::ControlModifier);
    auto *dialog = m_window->findChild<ImportDialog *>();
    QVERIFY(dialog != nullptr);
    const QString path = m_folder.filePath(QStringLiteral("not-a-table.xlsx"));
    QFile file(path);
    QVERIFY(file.open(QIODevice::WriteOnly));
    file.write("this is no workbook");
    file.close();
    setNextFileForTest(path);
    QTest::mouseClick(dialog->findChild<QPushButton *>(QStringLiteral("chooseFile")),
                      Qt::LeftButton);
    const QString message = dialog->findChild<QLabel *>(QStringLiteral("importMessage"))->text();
    QVERIFY2(message.contains(QStringLiteral("not-a-table.xlsx")), qPrintable(message));
    QVERIFY(!dialog->findChild<QPushButton *>(QStringLiteral("look"))->isEnabled());
    QVERIFY(!dialog->findChild<QPushButton *>(QStringLiteral("bringIn"))->isEnabled());
    QVERIFY(dialog->grab().save(screenFile(QStringLiteral("window-import-refused.png"))));
    dialog->close();
}

QTEST_MAIN(TestWindow)
#include "test_window.moc"
