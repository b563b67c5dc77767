// SPDX-License-Identifier: GPL-3.0-or-later
// The whole life of a repair request by clicks and keys in the window, on the small invented town:
// proposed, opened, sent, answered by the department (the valve is replaced), proved by a visit;
// and what is refused, undone and shown elsewhere.
#include "app/commands/photo_commands.h"
#include "app/commands/repair_commands.h"
#include "app/commands/visit_commands.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/list_editor.h"
#include "app/dialogs/repair_habits_editor.h"
#include "app/dialogs/valve_card.h"
#include "app/models/data_table.h"
#include "app/print/repair_files.h"
#include "app/repairs/repairs_place.h"
#include "app/repairs/request_card.h"
#include "app/shell/main_window.h"
#include "app/shell/style.h"
#include "core/exchange/tables.h"
#include "core/reports/repair_sheet.h"
#include "core/storage/shut_store.h"
#include "core/storage/valve_store.h"
#include "tests/support/by_name.h"
#include "tests/support/on_screen.h"
#include "tests/support/pdf_text.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QCheckBox>
#include <QImage>
#include <QLabel>
#include <QPushButton>
#include <QTabWidget>
#include <QTableView>
#include <QTest>

#include <algorithm>

using namespace keyround;
using keyround::tests::pdfPages;
using keyround::tests::pdfText;
using keyround::tests::pdfWordsOutside;
using keyround::tests::withoutSpaces;

class TestRepairs : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
    }
    void init()
    {
        m_session = std::make_unique<Session>(smallTownClock());
        m_town = makeSmallTown(*m_session);
        m_window = std::make_unique<MainWindow>(*m_session);
        m_window->resize(1366, 768);
        m_window->show();
        QVERIFY(QTest::qWaitForWindowExposed(m_window.get()));
        m_place = m_window->findChild<RepairsPlace *>();
        QVERIFY(m_place != nullptr);
    }
    void cleanup() { m_window.reset(); }

    void theWholeLife()
    {
        m_window->activateWindow();
        QVERIFY(QTest::qWaitForWindowActive(m_window.get()));
        QTest::keyClick(m_window.get(), Qt::Key_R, Qt::ControlModifier);
        QTRY_VERIFY(m_place->isVisible()); // a button's key presses it for a moment
        // Nothing is open yet: the page begins with what is to be decided.
        auto *tabs = m_place->findChild<QTabWidget *>();
        QCOMPARE(tabs->currentIndex(), 1);
        QVERIFY(!proposalsOf(*m_session).empty());
        QVERIFY(m_session->repairs().requests.empty());
        picture("repairs_to_decide");
        press("repairsTake");
        QVERIFY(proposalsOf(*m_session).empty());
        tabs->setCurrentIndex(0);
        const RequestId request = chooseRequestOf(m_town->doesNotTurn);
        QCOMPARE(stateOf(request), RepairState::Open);
        QCOMPARE(dueOf(m_town->doesNotTurn).state, DueState::WaitingForRepair);
        picture("repairs_backlog");

        // Sent as a table; not without a name to send it to.
        press("sendCsv");
        QVERIFY(named<QLineEdit>(*m_place, "sendTo")->property("refused").toBool());
        type("sendTo", "Repair desk (invented)");
        const QString file = m_town->folder.filePath(QStringLiteral("sent.csv"));
        setNextFileForTest(file);
        press("sendCsv");
        QCOMPARE(stateOf(request), RepairState::Sent);
        QCOMPARE(m_session->repairs().request(request)->lastOf(RepairStep::Sent)->party,
                 QStringLiteral("Repair desk (invented)"));

        // Answered: looked at first, then taken.
        answer(file, {{"answer", "replaced"},
                      {"answer_date", "2026-03-14"},
                      {"answer_by", "Crew R"},
                      {"answer_work", "=new valve, same box"},
                      {"new_turns", "18"}});
        tabs->setCurrentIndex(3);
        setNextFileForTest(file);
        press("answersRead");
        QCOMPARE(stateOf(request), RepairState::Sent);
        QVERIFY(
            named<QLabel>(*m_place, "answersWords")->text().contains(QStringLiteral("1 taken")));
        picture("repairs_answers");
        press("answersTake");
        QCOMPARE(stateOf(request), RepairState::Done);
        const Valve *valve = m_session->valveByNumber(m_town->doesNotTurn);
        QCOMPARE(valve->installYear, std::optional(2026));
        QCOMPARE(valve->listedTurns, std::optional(QuarterTurns::ofTurns(18)));
        const ValveHistory &history = m_session->history(valve->id);
        QCOMPARE(history.lives.size(), std::size_t{2});
        QCOMPARE(history.condition, Condition::NeverVisited);
        QVERIFY(!history.visits.empty()); // the number keeps its history
        QCOMPARE(dueOf(m_town->doesNotTurn).state, DueState::NeverVisited);
        QVERIFY(
            dueOf(m_town->doesNotTurn).reason.contains(QStringLiteral("a visit must prove it")));
        // Read once more, the file adds nothing.
        QVERIFY(named<QLabel>(*m_place, "answersWords")
                    ->text()
                    .contains(QStringLiteral("0 taken, 1 known already")));
        QVERIFY(!named<QPushButton>(*m_place, "answersTake")->isEnabled());

        // A visit shows that it turns; that closes nothing before somebody says yes.
        visit(valve->id, 18);
        QCOMPARE(stateOf(request), RepairState::Done);
        tabs->setCurrentIndex(0);
        chooseRequestOf(m_town->doesNotTurn);
        QVERIFY(named<QPushButton>(*m_place, "requestYes")->isVisible());
        picture("repairs_to_prove");
        press("requestYes");
        QCOMPARE(stateOf(request), RepairState::Proved);
        QVERIFY(dueOf(m_town->doesNotTurn).state == DueState::NotDue ||
                dueOf(m_town->doesNotTurn).state == DueState::Due);
        // Undone and done again.
        press("repairsUndo");
        QCOMPARE(stateOf(request), RepairState::Done);
        m_session->undoStack().redo();
        QCOMPARE(stateOf(request), RepairState::Proved);
        QVERIFY(m_session->project().verify()->isEmpty());
    }

    void undoingAReplacementBringsTheOldValveBack()
    {
        openAll();
        const RequestId request = chooseRequestOf(m_town->doesNotTurn);
        const Valve before = *m_session->valveByNumber(m_town->doesNotTurn);
        type("stepDay", "2026-03-10");
        type("stepWords", "dug out, new valve");
        named<QCheckBox>(*m_place, "stepReplaced")->setChecked(true);
        type("stepTurns", "18 1/2");
        press("stepDone");
        QCOMPARE(stateOf(request), RepairState::Done);
        QCOMPARE(m_session->valveByNumber(before.number)->listedTurns,
                 std::optional(QuarterTurns{74}));
        QCOMPARE(m_session->history(before.id).condition, Condition::NeverVisited);
        for (int i = 0; i < 2; ++i) {
            m_session->undoStack().undo();
            QCOMPARE(stateOf(request), RepairState::Open);
            QVERIFY(*m_session->valveByNumber(before.number) == before);
            QCOMPARE(m_session->history(before.id).condition, Condition::DoesNotTurn);
            QCOMPARE(m_session->history(before.id).lives.size(), std::size_t{1});
            m_session->undoStack().redo();
            QCOMPARE(stateOf(request), RepairState::Done);
            QCOMPARE(m_session->history(before.id).lives.size(), std::size_t{2});
        }
    }

    void stepsThatAreRefused()
    {
        openAll();
        const RequestId request = chooseRequestOf(m_town->doesNotTurn);
        const auto refused = [&](const char *button) {
            press(button);
            const QString why = named<QLabel>(*m_place, "stepRefusal")->text();
            return stateOf(request) == RepairState::Open ? why : QStringLiteral("was written");
        };
        type("stepDay", "");
        QVERIFY(refused("stepDone").contains(QStringLiteral("missing")));
        type("stepDay", "tomorrow");
        QVERIFY(!refused("stepDone").isEmpty());
        QVERIFY(named<QLineEdit>(*m_place, "stepDay")->property("refused").toBool());
        type("stepDay", "2026-12-24");
        QVERIFY(refused("stepDone").contains(QStringLiteral("still to come")));
        type("stepDay", "2026-03-16");
        QVERIFY(refused("stepWithdraw").contains(QStringLiteral("missing")));
        type("stepWords", "the main is given up");
        press("stepWithdraw");
        QCOMPARE(stateOf(request), RepairState::Withdrawn);
    }

    void shownAgainItIsReopened()
    {
        openAll();
        const RequestId request = chooseRequestOf(m_town->doesNotTurn);
        type("stepDay", "2026-03-15");
        type("stepWords", "stem freed");
        press("stepDone");
        QCOMPARE(stateOf(request), RepairState::Done);
        visit(m_session->valveByNumber(m_town->doesNotTurn)->id, 0, {Problem::CouldNotOperate});
        chooseRequestOf(m_town->doesNotTurn);
        QVERIFY(named<QPushButton>(*m_place, "requestYes")
                    ->text()
                    .contains(QStringLiteral("Not mended")));
        press("requestYes");
        QCOMPARE(stateOf(request), RepairState::Open);
        QCOMPARE(m_session->repairs().request(request)->timesReopened, 1);
    }

    void whatAShutFoundBecomesARequest()
    {
        const Valve *sound = nullptr;
        for (const Valve &each : m_session->valves()) {
            if (m_session->history(each.id).condition == Condition::Serviceable) {
                sound = &each;
            }
        }
        QVERIFY(sound != nullptr);
        const ValveId id = sound->id;
        ShutBegun begun;
        begun.id = {newUuid7(m_session->now().utcMilliseconds)};
        begun.words = QStringLiteral("break on main M-1");
        begun.at = m_session->now();
        begun.stamp = *m_session->project().nextStamp(begun.at);
        QVERIFY(m_session->project().shuts().begin(begun));
        ShutTick tick;
        tick.id = {newUuid7(m_session->now().utcMilliseconds)};
        tick.shut = begun.id;
        tick.action = ShutAction::DidNotHold;
        tick.valve = id;
        tick.at = m_session->now();
        tick.stamp = *m_session->project().nextStamp(tick.at);
        QVERIFY(m_session->project().shuts().tick(tick));
        Q_EMIT m_session->notifier().shutsChanged();
        openAll();
        const auto open = m_session->repairs().openOf(id);
        QCOMPARE(open.size(), std::size_t{1});
        QCOMPARE(open.front()->findings, QStringList{QLatin1String(didNotHoldKey)});
    }

    void theValvesCardTellsOfIt()
    {
        openAll();
        m_window->showPlace(MainWindow::Place::Repairs);
        chooseRequestOf(m_town->doesNotTurn);
        auto *card = m_place->findChild<RequestCard *>();
        Q_EMIT card->valveAsked(m_session->valveByNumber(m_town->doesNotTurn)->id);
        auto *valveCard = m_window->findChild<ValveCard *>();
        QVERIFY(valveCard->isVisible());
        QTest::qWait(50);
        QVERIFY(
            named<QLabel>(*valveCard, "cardRepair")->text().contains(QStringLiteral("is open")));
        m_window->grab().save(screenFile(QStringLiteral("repairs_valve_card.png")));
        QTest::mouseClick(named<QPushButton>(*valveCard, "cardRepairs"), Qt::LeftButton);
        QVERIFY(m_place->isVisible());
        QCOMPARE(m_session->repairs().request(card->request())->valve,
                 m_session->valveByNumber(m_town->doesNotTurn)->id);
    }

    void anEmptyProjectSaysWhatToDo()
    {
        m_session->closeProject();
        QVERIFY(m_session->createProject(m_town->folder.filePath(QStringLiteral("new.keyround")),
                                         UnitSystem::Metric));
        m_window->showPlace(MainWindow::Place::Repairs);
        picture("repairs_empty");
        QVERIFY(!named<QPushButton>(*m_place, "repairsTake")->isEnabled());
        setNextFileForTest(m_town->folder.filePath(QStringLiteral("nowhere.csv")));
        m_place->findChild<QTabWidget *>()->setCurrentIndex(3);
        press("answersRead");
        QVERIFY(named<QLabel>(*m_place, "answersWords")->text().size() > 10);
    }

    void sheetsSayWhatTheDataSay()
    {
        makeLongWords();
        openAll();
        addPhotoTo(m_town->doesNotTurn);
        const QString path = screenFile(QStringLiteral("repair_sheets.pdf"));
        const std::vector<BacklogRow> rows = backlogOf(*m_session);
        QVERIFY(writeRepairs(*m_session, rows, path));
        const QString text = pdfText(path);
        for (const BacklogRow &row : rows) {
            const RepairSheet sheet =
                repairSheet(row, m_session->history(row.request->valve), m_session->shuts(),
                            m_session->settings().utility, m_session->units());
            QVERIFY(text.contains(withoutSpaces(sheet.title)));
            QVERIFY(text.contains(withoutSpaces(sheet.urgent)));
            for (const auto &[label, words] : sheet.facts) {
                // Poppler gives letters from right to left one by one, with marks between them.
                const bool isThere =
                    words.isRightToLeft()
                        ? std::ranges::all_of(words,
                                              [&](QChar each) { return text.contains(each); })
                        : text.contains(withoutSpaces(words));
                QVERIFY2(isThere, qPrintable(label + words));
            }
            for (const QString &line : sheet.life) {
                QVERIFY2(text.contains(withoutSpaces(line)), qPrintable(line));
            }
            for (const QStringList &seen : sheet.evidence.rows) {
                for (const QString &cell : seen) {
                    QVERIFY2(text.contains(withoutSpaces(cell)), qPrintable(cell));
                }
            }
        }
        QCOMPARE(pdfPages(path), static_cast<int>(rows.size())); // one sheet a request
        QCOMPARE(pdfWordsOutside(path), QStringList());
        QCOMPARE(keyround::tests::pdfPageSize(path), QStringLiteral("612 x 792 pts")); // Letter
        // And as pictures, for looking at.
        keyround::tests::popplerOutput(QStringLiteral("pdftoppm"),
                                       {QStringLiteral("-png"), QStringLiteral("-r"),
                                        QStringLiteral("80"), path,
                                        screenFile(QStringLiteral("repair_sheet"))});
        // A remark longer than the page goes on overleaf, and nothing of it is lost.
        Valve valve = *m_session->valveByNumber(m_town->doesNotTurn);
        QStringList words;
        for (int i = 0; i < 1500; ++i) {
            words << QStringLiteral("word%1").arg(i);
        }
        valve.remarks = words.join(QLatin1Char(' '));
        QVERIFY(m_session->project().valves().update(valve, m_session->author(), m_session->now(),
                                                     QStringLiteral("test")));
        Q_EMIT m_session->notifier().valvesChanged();
        const QString longPath = m_town->folder.filePath(QStringLiteral("long.pdf"));
        QVERIFY(writeRepairs(*m_session, backlogOf(*m_session), longPath));
        QVERIFY(pdfText(longPath).contains(withoutSpaces(words.join(QString()))) ||
                (pdfText(longPath).contains(QStringLiteral("word0")) &&
                 pdfText(longPath).contains(QStringLiteral("word1499"))));
        QVERIFY(pdfPages(longPath) > static_cast<int>(rows.size()));
        QCOMPARE(pdfWordsOutside(longPath), QStringList());
    }

    void theDepartmentsAreTheUtilitysOwn()
    {
        RepairHabitsEditor editor(*m_session);
        editor.resize(1100, 620);
        editor.show();
        editor.departments()->choose(1);
        const auto put = [](ListEditor *list, int column, const char *text) {
            CheckedLine *line = list->line(column);
            line->line()->setFocus();
            line->line()->setText(QLatin1String(text));
            return line->commit();
        };
        const auto department = [this]() -> const RepairDepartment & {
            return m_session->settings().repairs.departments[1];
        };
        QVERIFY(put(editor.departments(), 1, "Paving desk (invented)"));
        QCOMPARE(department().sendTo, QStringLiteral("Paving desk (invented)"));
        QVERIFY(put(editor.departments(), 2, "lid missing, Paved over"));
        QCOMPARE(department().findings.size(), 2);
        QVERIFY(!put(editor.departments(), 2, "Lid missing, goblins"));
        QVERIFY(!put(editor.departments(), 2, "Packing leak")); // the leaks' own
        QCOMPARE(department().findings.size(), 2);
        QVERIFY(put(editor.departments(), 3, "3"));
        QCOMPARE(department().days[static_cast<std::size_t>(Urgency::Urgent)], 3);
        QVERIFY(!put(editor.departments(), 4, "-1"));
        QVERIFY(put(editor.departments(), 6, "no"));
        QVERIFY(!department().holdsRounds);
        editor.rules()->choose(2);
        QVERIFY(put(editor.rules(), 3, "7"));
        QVERIFY(!put(editor.rules(), 5, "at once"));
        QVERIFY(put(editor.rules(), 1, "does not shut"));
        const UrgencyRule &rule = m_session->settings().repairs.urgency[2];
        QCOMPARE(rule.servicesFrom, 7);
        QCOMPARE(rule.conditions, QList<Condition>{Condition::DoesNotShut});
        QVERIFY(editor.grab().save(screenFile(QStringLiteral("repairs_departments.png"))));
        m_session->undoStack().undo();
        QCOMPARE(m_session->settings().repairs.urgency[2].conditions.size(), 3);
    }

    void filesThatCannotBeWritten()
    {
        openAll();
        const RequestId request = chooseRequestOf(m_town->doesNotTurn);
        QVERIFY(!sendRepairs(*m_session, {request}, QStringLiteral("desk"),
                             m_town->folder.filePath(QStringLiteral("no/such/folder.csv"))));
        QVERIFY(!sendRepairs(*m_session, {request}, QStringLiteral("desk"),
                             m_town->folder.filePath(QStringLiteral("what.odd"))));
        QCOMPARE(stateOf(request), RepairState::Open); // what was not written was not sent
    }

private:
    std::unique_ptr<Session> m_session;
    std::unique_ptr<SmallTown> m_town;
    std::unique_ptr<MainWindow> m_window;
    RepairsPlace *m_place = nullptr;

    void press(const char *name)
    {
        auto *button = named<QPushButton>(*m_place, name);
        QVERIFY2(button->isVisible(), name);
        QTest::mouseClick(button, Qt::LeftButton);
    }
    void type(const char *name, const char *text)
    {
        auto *line = named<QLineEdit>(*m_place, name);
        line->setFocus();
        line->selectAll();
        QTest::keyClick(line, Qt::Key_Delete);
        QTest::keyClicks(line, QLatin1String(text));
    }
    void picture(const char *name)
    {
        for (const QSize &size : {QSize(1366, 768), QSize(1920, 1080)}) {
            m_window->resize(size);
            QTest::qWait(20);
            QVERIFY(m_window->grab().save(screenFile(
                QStringLiteral("%1_%2.png").arg(QLatin1String(name)).arg(size.width()))));
        }
        m_window->resize(1366, 768);
    }
    void openAll()
    {
        m_window->showPlace(MainWindow::Place::Repairs);
        QVERIFY(acceptProposals(*m_session, proposalsOf(*m_session)));
        m_place->findChild<QTabWidget *>()->setCurrentIndex(0);
    }
    RequestId chooseRequestOf(const QString &number)
    {
        auto *table = named<DataTable>(*m_place, "repairsBacklog");
        const auto open = m_session->repairs().openOf(m_session->valveByNumber(number)->id);
        if (open.empty()) {
            return {};
        }
        m_place->showValve(open.front()->valve);
        QTest::qWait(1);
        const RequestId chosen = m_place->findChild<RequestCard *>()->request();
        return table->selectedRows().size() == 1 && chosen == open.front()->id ? chosen
                                                                               : RequestId{};
    }
    RepairState stateOf(const RequestId &request)
    {
        const RepairRequest *found = m_session->repairs().request(request);
        return found == nullptr ? RepairState::Withdrawn : found->state;
    }
    DueEntry dueOf(const QString &number)
    {
        return *m_session->dueEntry(m_session->valveByNumber(number)->id);
    }
    static void answer(const QString &file,
                       std::initializer_list<std::pair<const char *, const char *>> cells)
    {
        CsvTable table = *readTable(file);
        for (const auto &[column, text] : cells) {
            table.rows[0][table.header.indexOf(QLatin1String(column))] = QLatin1String(text);
        }
        QVERIFY(writeTable(file, table, QStringLiteral("repairs")));
    }
    void visit(const ValveId &valve, int turns, QList<Problem> problems = {})
    {
        Visit visit;
        visit.valve = valve;
        visit.arrived = visit.finished = m_session->now();
        visit.crew = QStringLiteral("Crew 1");
        if (turns > 0) {
            visit.passes = {{PassDirection::Closing, QuarterTurns::ofTurns(turns)},
                            {PassDirection::Opening, QuarterTurns::ofTurns(turns)}};
        }
        visit.found.position = visit.left.position = Position::Open;
        visit.problems = std::move(problems);
        QVERIFY(recordVisit(*m_session, visit));
    }
    void addPhotoTo(const QString &number)
    {
        const QString path = m_town->folder.filePath(QStringLiteral("photo.jpg"));
        QImage image(640, 480, QImage::Format_RGB32);
        image.fill(QColor(0x88, 0x99, 0x77));
        QVERIFY(image.save(path, "JPEG"));
        const ValveId valve = m_session->valveByNumber(number)->id;
        PhotoOwner owner;
        owner.valve = valve;
        owner.visit = m_session->history(valve).visits.back().visit.id;
        QVERIFY(addPhoto(*m_session, owner, path));
    }
    /// Markup, a very long word, right-to-left text and a remark of 200 characters.
    void makeLongWords()
    {
        Valve valve = *m_session->valveByNumber(m_town->doesNotTurn);
        valve.ties = QStringLiteral("<b>4.2 m</b> from the corner &amp; 3 m from the pole");
        valve.remarks = QStringLiteral("Donaudampfschifffahrtsgesellschaftskapitaenswitwe") +
                        QString(200, QLatin1Char('w'));
        valve.surface = QString::fromUtf8("\xD7\xA9\xD7\xA1\xD7\xAA\xD7\x95\xD7\x9D");
        QVERIFY(m_session->project().valves().update(valve, m_session->author(), m_session->now(),
                                                     QStringLiteral("test")));
        Q_EMIT m_session->notifier().valvesChanged();
    }
};

QTEST_MAIN(TestRepairs)
#include "test_repairs.moc"
