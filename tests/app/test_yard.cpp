// SPDX-License-Identifier: GPL-3.0-or-later
// The Yard by clicks and keys, on the small invented town: what is due, drawing up a round, moving
// and dropping stops, undo, the valve card, the yard's place, and pictures of it all.
#include "app/yard/yard_place.h"

#include "app/dialogs/checked_line.h"
#include "app/dialogs/valve_card.h"
#include "app/dialogs/valve_fields_form.h"
#include "app/map/map_widget.h"
#include "app/models/data_table.h"
#include "app/models/due_model.h"
#include "app/shell/style.h"
#include "app/yard/day_ribbon.h"
#include "app/yard/side_column.h"
#include "core/storage/round_store.h"
#include "core/storage/valve_store.h"
#include "tests/support/yard_bench.h"

#include <QAction>
#include <QApplication>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSettings>
#include <QSignalSpy>
#include <QTableView>
#include <QTest>

#include <algorithm>

using namespace keyround;

class TestYard : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
    }

    void theDueListSaysWhatIsDueAndWhy()
    {
        Yard yard;
        const auto wanted = std::ranges::count_if(
            yard.session.dueList(), [](const DueEntry &each) { return wantsVisit(each.state); });
        QVERIFY(wanted > 5);
        QCOMPARE(yard.column()->dueTable()->view()->model()->rowCount(), int(wanted));
        QVERIFY(yard.clickRow(yard.column()->dueTable(), yard.town->neverVisited));
        const Valve *valve = yard.session.valveByNumber(yard.town->neverVisited);
        QCOMPARE(yard.find<QLabel>("reason")->text(), yard.session.dueEntry(valve->id)->reason);
        QVERIFY(!yard.find<QLabel>("reason")->text().isEmpty());
        QVERIFY(yard.card()->isVisible());
        QCOMPARE(yard.card()->valve(), valve->id);
    }

    void theDueListStandsInTheOrderOfPriority()
    {
        Yard yard;
        const QAbstractItemModel *shown = yard.column()->dueTable()->view()->model();
        const ValveId first = yard.session.dueList().front().valve;
        QVERIFY(wantsVisit(yard.session.dueList().front().state));
        QCOMPARE(shown->index(0, 0).data().toString(), yard.session.valve(first)->number);
    }

    void sizesSortAsNumbers()
    {
        Yard yard;
        yard.click("view1");
        QTableView *view = yard.column()->valveTable()->view();
        int column = 0;
        while (view->model()->headerData(column, Qt::Horizontal).toString() !=
               QLatin1String("Size")) {
            ++column;
        }
        view->sortByColumn(column, Qt::DescendingOrder);
        // As text, "8 in" would come before "16 in".
        QCOMPARE(view->model()->index(0, column).data().toString(), QStringLiteral("16 in"));
        const int last = view->model()->rowCount() - 1;
        QCOMPARE(view->model()->index(last, column).data().toString(), QStringLiteral("6 in"));
    }

    void aRoundIsDrawnUpChangedAndUndone()
    {
        Yard yard;
        QVERIFY(yard.session.rounds().empty());
        yard.click("drawUp");
        QCOMPARE(yard.failures, QStringList());
        QCOMPARE(yard.session.rounds().size(), size_t(1));
        const std::vector<ValveId> drawn = yard.stops();
        QVERIFY(drawn.size() > 4);
        QVERIFY2(yard.sentence().contains(QLatin1String("by streets")),
                 qPrintable(yard.sentence()));
        QCOMPARE(yard.place->chosenRound(), yard.session.rounds().front().id);

        // Drag the first block to the right of the third.
        DayRibbon *ribbon = yard.ribbon();
        const QString before = yard.sentence();
        const QPoint from = ribbon->blockOf(0).center().toPoint();
        const QPoint to(int(ribbon->blockOf(2).right()) + 2, from.y());
        QTest::mousePress(ribbon, Qt::LeftButton, {}, from);
        QTest::mouseMove(ribbon, from + QPoint(15, 0));
        QMouseEvent move(QEvent::MouseMove, to, ribbon->mapToGlobal(to), Qt::LeftButton,
                         Qt::LeftButton, {});
        QApplication::sendEvent(ribbon, &move);
        yard.picture(QStringLiteral("yard-drag-1366x768.png"));
        QTest::mouseRelease(ribbon, Qt::LeftButton, {}, to);
        QCOMPARE(yard.stops()[2], drawn[0]);
        QCOMPARE(yard.stops()[0], drawn[1]);
        QVERIFY(yard.sentence() != before); // the times followed

        // The keyboard moves it back, one place at a time.
        ribbon->setFocus();
        QTest::keyClick(ribbon, Qt::Key_Left, Qt::AltModifier);
        QCOMPARE(yard.stops()[1], drawn[0]);
        QTest::keyClick(ribbon, Qt::Key_Left, Qt::AltModifier);
        QCOMPARE(yard.stops(), drawn);
        QCOMPARE(yard.sentence(), before);

        // Delete drops the chosen stop; undo brings it back to its place.
        QTest::keyClick(ribbon, Qt::Key_Delete);
        QCOMPARE(yard.stops().size(), drawn.size() - 1);
        QCOMPARE(std::ranges::count(yard.stops(), drawn[0]), 0);
        yard.session.undoStack().undo();
        QCOMPARE(yard.stops(), drawn);
        for (int i = 0; i < 3; ++i) {
            yard.session.undoStack().undo();
        }
        QCOMPARE(yard.stops(), drawn);
        yard.session.undoStack().undo(); // of drawing up
        QVERIFY(yard.session.rounds().empty());
        QVERIFY(yard.place->chosenRound().isNull());
        yard.session.undoStack().redo();
        QCOMPARE(yard.stops(), drawn);
        QCOMPARE(yard.failures, QStringList());
    }

    void stopsAreAddedByHandAndPutIntoTheBestOrder()
    {
        Yard yard;
        for (const char *number : {"V-028", "V-001", "V-026", "V-002"}) {
            yard.click("view1");
            QVERIFY(yard.clickRow(yard.column()->valveTable(), QLatin1String(number)));
            yard.click("cardAdd");
        }
        QCOMPARE(yard.stops().size(), size_t(4));
        const QString scattered = yard.sentence();
        const auto driving = [&] {
            const auto plan = yard.ribbon()->stretches();
            double seconds = 0;
            for (const RibbonStretch &each : plan) {
                seconds += each.kind == RibbonStretch::Kind::Drive ? each.to - each.from : 0.0;
            }
            return seconds;
        };
        const double before = driving();
        yard.click("bestOrder");
        QVERIFY2(driving() < before, qPrintable(scattered + yard.sentence()));
        // A valve without a position is refused with its number; nothing changes.
        QVERIFY(yard.clickRow(yard.column()->valveTable(), yard.town->withoutPlace));
        yard.click("cardAdd");
        QCOMPARE(yard.failures.size(), 1);
        QVERIFY(yard.failures.first().contains(yard.town->withoutPlace));
        QCOMPARE(yard.stops().size(), size_t(4));
    }

    void whatIsLeftOutIsOneClickAway()
    {
        Yard yard;
        typeInto(yard.find<CheckedLine>("shiftTo")->line(), QStringLiteral("09:00"));
        yard.click("drawUp");
        QVERIFY(yard.find<QPushButton>("leftOut")->isVisible());
        yard.click("leftOut");
        auto *page = yard.find<QPushButton>("view3");
        QVERIFY(page->isChecked());
        yard.picture(QStringLiteral("yard-left-out-1366x768.png"));
    }

    void theCardRefusesNonsenseAndKeepsWhoChangedWhatWhen()
    {
        Yard yard;
        const ValveId id = yard.session.valveByNumber(QStringLiteral("V-001"))->id;
        yard.click("view1");
        QVERIFY(yard.clickRow(yard.column()->valveTable(), QStringLiteral("V-001")));
        CheckedLine *turns = yard.card()->fields()->line(ValveField::ListedTurns);
        const std::optional<QuarterTurns> before = yard.session.valve(id)->listedTurns;
        typeInto(turns->line(), QStringLiteral("27 1/3 or so"));
        QVERIFY(turns->isRefused());
        QCOMPARE(turns->line()->text(), QStringLiteral("27 1/3 or so"));
        QCOMPARE(yard.session.valve(id)->listedTurns, before);
        QCOMPARE(yard.session.undoStack().count(), 0);
        yard.picture(QStringLiteral("yard-refusal-1366x768.png"));

        typeInto(turns->line(), QStringLiteral("31 1/2"));
        QVERIFY(!turns->isRefused());
        QCOMPARE(yard.session.valve(id)->listedTurns, std::optional(QuarterTurns{126}));
        const auto edits = yard.session.project().valves().edits(id);
        QVERIFY(edits.has_value());
        const ValveEdit &edit = edits->front();
        QCOMPARE(edit.field, ValveField::ListedTurns);
        QCOMPARE(edit.after, QStringLiteral("31 1/2"));
        QCOMPARE(edit.author.person, QStringLiteral("T. Invented"));
        QCOMPARE(edit.when.utcMilliseconds, smallTownMoment().utcMilliseconds);

        yard.click("cardUndo");
        QCOMPARE(yard.session.valve(id)->listedTurns, before);
        QCOMPARE(yard.session.project().valves().edits(id)->size(), edits->size() + 1);
    }

    void whatWasTypedForOneValveIsNotWrittenToAnother()
    {
        Yard yard;
        yard.click("view1");
        QVERIFY(yard.clickRow(yard.column()->valveTable(), QStringLiteral("V-001")));
        QLineEdit *remarks = yard.card()->fields()->line(ValveField::Remarks)->line();
        remarks->setFocus();
        QTest::keyClicks(remarks, QStringLiteral("for the first"));
        QVERIFY(yard.clickRow(yard.column()->valveTable(), QStringLiteral("V-002")));
        QCOMPARE(yard.session.valveByNumber(QStringLiteral("V-001"))->remarks,
                 QStringLiteral("for the first"));
        QCOMPARE(yard.session.valveByNumber(QStringLiteral("V-002"))->remarks, QString());
        QCOMPARE(remarks->text(), QString());
    }

    void whatIsChosenIsSharedByListMapAndRibbon()
    {
        Yard yard;
        yard.click("drawUp");
        const ValveId second = yard.stops()[1];
        auto *map = yard.place->findChild<MapWidget *>();
        const QPoint at = map->screenPoint(yard.session.valve(second)->place).toPoint();
        QTest::mouseClick(map, Qt::LeftButton, {}, at);
        QCOMPARE(yard.card()->valve(), second);
        QCOMPARE(yard.ribbon()->chosenStop(), 1);
        yard.ribbon()->setFocus();
        QTest::keyClick(yard.ribbon(), Qt::Key_Right);
        QCOMPARE(yard.card()->valve(), yard.stops()[2]);
        const QString number = yard.session.valve(yard.stops()[2])->number;
        const DataTable *due = yard.column()->dueTable();
        QCOMPARE(due->selectedRows().size(), 1);
        const auto *model = due->view()->model();
        const QModelIndex current = due->view()->selectionModel()->selectedRows().first();
        QCOMPARE(model->index(current.row(), 0).data().toString(), number);
    }

    void aProjectWithoutYardAsksForIt()
    {
        Yard yard;
        ProjectSettings settings = yard.session.settings();
        settings.yard.reset();
        QVERIFY(yard.session.project().settings().save(settings).has_value());
        Q_EMIT yard.session.notifier().settingsChanged();
        auto *question = yard.find<QFrame>("yardQuestion");
        QVERIFY(question->isVisible());
        yard.click("drawUp");
        QCOMPARE(yard.failures.size(), 1);
        QVERIFY(yard.session.rounds().empty());
        yard.picture(QStringLiteral("yard-asks-for-yard-1366x768.png"));
        auto *line = yard.find<CheckedLine>("yardLine");
        typeInto(line->line(), QStringLiteral("-150.0, 40.0"));
        QVERIFY(line->isRefused());
        typeInto(line->line(), QStringLiteral("39.9995, -150.001"));
        QVERIFY(!question->isVisible());
        QVERIFY(yard.session.settings().yard.has_value());
        yard.session.undoStack().undo();
        QVERIFY(question->isVisible());
    }

    void badDaysAreRefusedBesideTheField()
    {
        Yard yard;
        yard.click("drawUp");
        const Round before = yard.session.rounds().front();
        auto *date = yard.find<CheckedLine>("date");
        typeInto(date->line(), QStringLiteral("31 February"));
        QVERIFY(date->isRefused());
        auto *to = yard.find<CheckedLine>("shiftTo");
        typeInto(to->line(), QStringLiteral("06:00")); // before the shift begins
        QVERIFY(to->isRefused());
        auto *refusal = yard.find<QLabel>("dayRefusal");
        QVERIFY(refusal->isVisible() && refusal->text().contains(QLatin1String("shift")));
        QVERIFY(yard.session.rounds().front() == before);
        yard.picture(QStringLiteral("yard-bad-day-1366x768.png"));
        typeInto(date->line(), QStringLiteral("2026-03-17"));
        QCOMPARE(yard.session.rounds().front().date, QDate(2026, 3, 17));
        QVERIFY(refusal->isVisible()); // the shift's end is still refused
        to->line()->setFocus();
        QTest::keyClick(to->line(), Qt::Key_Escape);
        QVERIFY(!refusal->isVisible());
        yard.session.undoStack().undo();
        QVERIFY(yard.session.rounds().front() == before);
    }

    void aFinishedRoundIsOnlyLookedAt()
    {
        Yard yard;
        yard.click("drawUp");
        const Round before = yard.session.rounds().front();
        QVERIFY(yard.session.project().rounds().setState(before.id, RoundState::Finished));
        Q_EMIT yard.session.notifier().roundsChanged();
        QVERIFY(!yard.find<QPushButton>("drawUp")->isEnabled());
        QVERIFY(!yard.find<QPushButton>("bestOrder")->isEnabled());
        QVERIFY(!yard.find<CheckedLine>("date")->isEnabled());
        QVERIFY(yard.find<QPushButton>("onPaper")->isEnabled());
        DayRibbon *ribbon = yard.ribbon();
        ribbon->setFocus();
        QTest::keyClick(ribbon, Qt::Key_Right);
        QTest::keyClick(ribbon, Qt::Key_Left, Qt::AltModifier);
        QTest::keyClick(ribbon, Qt::Key_Delete);
        QCOMPARE(yard.stops(), before.stops);
        QVERIFY(yard.sentence().contains(QLatin1String("cannot be changed")));
        yard.click("newRound");
        QVERIFY(yard.find<QPushButton>("drawUp")->isEnabled());
        QVERIFY(yard.place->chosenRound().isNull());
    }

    void paperAndGpxAreAskedForTheRoundShown()
    {
        Yard yard;
        QSignalSpy sheets(yard.place.get(), &YardPlace::sheetWanted);
        QSignalSpy routes(yard.place.get(), &YardPlace::gpxWanted);
        QVERIFY(!yard.find<QPushButton>("onPaper")->isEnabled());
        yard.click("drawUp");
        yard.find<QAction>("routeSheet")->trigger();
        yard.click("gpx");
        QCOMPARE(sheets.size(), 1);
        QCOMPARE(routes.size(), 1);
        QCOMPARE(sheets.first().first().value<RoundId>(), yard.session.rounds().front().id);
    }

    void anEmptyProjectSaysWhatToDo()
    {
        Yard yard(false);
        const QTemporaryDir folder;
        QVERIFY(
            yard.session
                .createProject(folder.filePath(QStringLiteral("empty.keyround")), UnitSystem::Us)
                .has_value());
        auto *bring = yard.find<QPushButton>("bringIn");
        QVERIFY(bring->isVisible());
        QSignalSpy wanted(yard.place.get(), &YardPlace::importWanted);
        yard.click("bringIn");
        QCOMPARE(wanted.size(), 1);
        yard.picture(QStringLiteral("yard-empty-1366x768.png"));
    }

    void picturesOfTheYard()
    {
        for (const QSize &size : {QSize(1366, 768), QSize(1920, 1080)}) {
            Yard yard(true, size);
            const QString suffix =
                QStringLiteral("-%1x%2.png").arg(size.width()).arg(size.height());
            yard.picture(QStringLiteral("yard-due") + suffix);
            yard.click("drawUp");
            yard.picture(QStringLiteral("yard-round") + suffix);
            yard.click("view1");
            QVERIFY(yard.clickRow(yard.column()->valveTable(), yard.town->longWords));
            yard.picture(QStringLiteral("yard-long-words") + suffix);
            yard.click("view2");
            yard.picture(QStringLiteral("yard-stops") + suffix);
        }
    }
};

QTEST_MAIN(TestYard)
#include "test_yard.moc"
