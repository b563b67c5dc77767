// SPDX-License-Identifier: GPL-3.0-or-later
// The Yard's page of the coming days by clicks, drags and keys: two crews over a week drawn up,
// told days that stay, a valve moved from day to day in every way there is, undo, cancel, the day
// laid on the desk, and pictures.
#include "app/yard/coming_days_page.h"

#include "app/dialogs/checked_line.h"
#include "app/shell/style.h"
#include "app/yard/coming_days_grid.h"
#include "core/storage/round_store.h"
#include "tests/support/yard_bench.h"

#include <QMenu>
#include <QTimer>

#include <algorithm>

using namespace keyround;

namespace {

/// The small town with its page of the coming days open.
struct DaysYard : Yard
{
    explicit DaysYard(bool filled = true, const QSize &size = {1366, 768}) : Yard(filled, size)
    {
        if (filled) {
            shortenShift();
            click("comingDays");
        }
    }

    /// Two hours a day, so that a week is needed.
    void shortenShift()
    {
        ProjectSettings settings = session.settings();
        settings.shift = {QTime(8, 0), QTime(9, 30)};
        settings.breaks.clear();
        if (const Status saved = session.project().settings().save(settings); !saved) {
            qFatal("%s", qPrintable(saved.error().message));
        }
        Q_EMIT session.notifier().settingsChanged();
    }
    [[nodiscard]] ComingDaysPage *page() const { return place->findChild<ComingDaysPage *>(); }
    [[nodiscard]] ComingDaysGrid *grid() const { return page()->grid(); }
    [[nodiscard]] ComingDaysDesk *days() const { return page()->days(); }
    [[nodiscard]] const DayCell &cell(int crew, int day) const { return days()->cell({crew, day}); }
    [[nodiscard]] std::vector<ValveId> stopsOf(int crew, int day) const
    {
        const DayCell &there = cell(crew, day);
        return there.round ? there.round->stops : std::vector<ValveId>{};
    }
    void clickCell(int crew, int day) const
    {
        // Below the ribbon, where no stop is.
        const QRectF box = grid()->cellBox({crew, day});
        QTest::mouseClick(grid(), Qt::LeftButton, {},
                          QPoint(int(box.center().x()), int(box.bottom()) - 8));
    }
    [[nodiscard]] QString text(const char *name) const { return find<QLabel>(name)->text(); }
    /// Every valve stands on one day only.
    [[nodiscard]] bool noValveTwice() const
    {
        QSet<ValveId> seen;
        for (int crew = 0; crew < days()->crews().size(); ++crew) {
            for (int day = 0; day < days()->dates().size(); ++day) {
                for (const ValveId &id : stopsOf(crew, day)) {
                    if (seen.contains(id)) {
                        return false;
                    }
                    seen.insert(id);
                }
            }
        }
        return true;
    }
    /// On the day's own page: chooses the first stop and drops it.
    void clickBlockAndDrop() const
    {
        QTest::mouseClick(ribbon(), Qt::LeftButton, {}, ribbon()->blockOf(0).center().toPoint());
        click("stopDrop");
    }
    void typeDays(const char *count) const
    {
        typeInto(find<CheckedLine>("dayCount")->line(), QLatin1String(count));
    }
};

} // namespace

class TestYardDays : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
    }

    void anEmptyWeekSaysWhatToDo()
    {
        DaysYard yard;
        QVERIFY(yard.find<QLabel>("daysEmpty")->isVisible());
        QVERIFY(yard.text("daysSentence").startsWith(QLatin1String("Nothing is planned")));
        QCOMPARE(yard.days()->crews().size(), 2);
        QCOMPARE(yard.days()->dates().size(), 5);
        // Monday to Friday: 2026-03-16 is a Monday.
        QCOMPARE(yard.days()->dates().first(), QDate(2026, 3, 16));
        QCOMPARE(yard.days()->dates().last(), QDate(2026, 3, 20));
        yard.picture(QStringLiteral("days-empty-1366x768.png"));
        yard.typeDays("none");
        QVERIFY(yard.find<CheckedLine>("dayCount")->isRefused());
        yard.typeDays("6");
        QCOMPARE(yard.days()->dates().last(), QDate(2026, 3, 23)); // over the week-end
        yard.typeDays("5");
    }

    void twoCrewsAreDrawnUpOverAWeekAndUndoneAtOnce()
    {
        DaysYard yard;
        yard.click("drawUpDays");
        QCOMPARE(yard.failures, QStringList());
        QVERIFY(yard.days()->hasRounds());
        QVERIFY(!yard.find<QLabel>("daysEmpty")->isVisible());
        QVERIFY(yard.noValveTwice());
        QVERIFY(!yard.stopsOf(0, 0).empty() && !yard.stopsOf(1, 0).empty());
        int planned = 0;
        for (int crew = 0; crew < 2; ++crew) {
            for (int day = 0; day < 5; ++day) {
                planned += int(yard.stopsOf(crew, day).size());
                const DayCell &cell = yard.cell(crew, day);
                QVERIFY(!cell.round || !cell.plan.overrunsShift || cell.round->stops.size() == 1);
            }
        }
        QVERIFY2(yard.text("daysSentence").contains(QString::number(planned)),
                 qPrintable(yard.text("daysSentence")));
        const size_t rounds = yard.session.rounds().size();
        QVERIFY(rounds >= 4);
        yard.picture(QStringLiteral("days-week-1366x768.png"));
        QCOMPARE(yard.session.undoStack().count(), 1);
        yard.session.undoStack().undo();
        QVERIFY(yard.session.rounds().empty());
        QVERIFY(!yard.days()->hasRounds());
        yard.session.undoStack().redo();
        QCOMPARE(yard.session.rounds().size(), rounds);
        QVERIFY(yard.days()->hasRounds());
    }

    void aToldDayStaysAndTheRestFollows()
    {
        DaysYard yard;
        yard.click("drawUpDays");
        yard.clickCell(0, 1);
        QCOMPARE(yard.grid()->chosen(), (CellAt{0, 1}));
        const std::vector<ValveId> told = yard.stopsOf(0, 1);
        QVERIFY(!told.empty());
        yard.click("told");
        QVERIFY(yard.cell(0, 1).round->isTold);
        // A valve of the told day's neighbour is taken off by hand; the rest is drawn up again.
        yard.clickCell(0, 0);
        yard.click("openDay");
        QCOMPARE(yard.place->chosenRound(), yard.cell(0, 0).round->id);
        yard.clickBlockAndDrop();
        yard.click("comingDays");
        yard.click("drawUpDays");
        QCOMPARE(yard.failures, QStringList());
        for (const ValveId &id : told) {
            const std::vector<ValveId> now = yard.stopsOf(0, 1);
            QVERIFY(std::ranges::find(now, id) != now.end());
        }
        QVERIFY(yard.cell(0, 1).round->isTold);
        QVERIFY(yard.noValveTwice());
        yard.clickCell(0, 1);
        yard.picture(QStringLiteral("days-told-1366x768.png"));
        yard.click("told");
        QVERIFY(!yard.cell(0, 1).round->isTold);
        yard.session.undoStack().undo();
        QVERIFY(yard.cell(0, 1).round->isTold);
    }

    void aStopIsDraggedFromDayToDayOnTheSheet()
    {
        DaysYard yard;
        yard.click("drawUpDays");
        const ValveId moved = yard.stopsOf(0, 0).front();
        const auto there = yard.stopsOf(1, 1).size();
        const auto here = yard.stopsOf(0, 0).size();
        ComingDaysGrid *grid = yard.grid();
        const QPoint from = grid->blockOf({0, 0}, 0).center().toPoint();
        const QPoint to = grid->cellBox({1, 1}).center().toPoint();
        dragTo(grid, from, to, false);
        yard.picture(QStringLiteral("days-drag-1366x768.png"));
        QTest::mouseRelease(grid, Qt::LeftButton, {}, to);
        QCOMPARE(yard.failures, QStringList());
        QCOMPARE(yard.stopsOf(0, 0).size(), here - 1);
        const std::vector<ValveId> now = yard.stopsOf(1, 1);
        QCOMPARE(now.size(), there + 1);
        QVERIFY(std::ranges::find(now, moved) != now.end());
        QVERIFY(yard.noValveTwice());
        yard.session.undoStack().undo();
        QCOMPARE(yard.stopsOf(0, 0).size(), here);
        QCOMPARE(yard.stopsOf(1, 1).size(), there);
        yard.session.undoStack().redo();
        QCOMPARE(yard.stopsOf(1, 1).size(), there + 1);
    }

    void aStopIsMovedFromTheListByHandMenuAndKeys()
    {
        DaysYard yard;
        yard.click("drawUpDays");
        yard.clickCell(0, 0);
        const std::vector<ValveId> first = yard.stopsOf(0, 0);
        QTableView *rows = yard.page()->stopTable()->view();
        QCOMPARE(rows->model()->rowCount(), int(first.size()));
        const auto rowAt = [&](int row) {
            return rows->visualRect(rows->model()->index(row, 1)).center();
        };
        // Taken in the list, let go over the second crew's day.
        const QPoint over =
            yard.grid()->mapToGlobal(yard.grid()->cellBox({1, 0}).center().toPoint());
        dragTo(rows->viewport(), rowAt(0), rows->viewport()->mapFromGlobal(over));
        const std::vector<ValveId> second = yard.stopsOf(1, 0);
        QVERIFY(std::ranges::find(second, first[0]) != second.end());
        // By the menu, to another day.
        QTest::mouseClick(rows->viewport(), Qt::LeftButton, {}, rowAt(0));
        const ValveId other = yard.stopsOf(0, 0).front();
        QMenu *menu = yard.find<QToolButton>("moveToDay")->menu();
        Q_EMIT menu->aboutToShow();
        QVERIFY(menu->actions().size() >= 8);
        const QList<QAction *> entries = menu->actions();
        const auto wanted = std::ranges::find_if(entries, [](const QAction *each) {
            return each->text() == QLatin1String("Tue 2026-03-17, Crew 1");
        });
        QVERIFY(wanted != entries.end());
        (*wanted)->trigger();
        std::vector<ValveId> tuesday = yard.stopsOf(0, 1);
        QVERIFY(std::ranges::find(tuesday, other) != tuesday.end());
        // By the keys: a day on, from the list.
        yard.clickCell(0, 1);
        QTest::mouseClick(rows->viewport(), Qt::LeftButton, {}, rowAt(0));
        const ValveId third = yard.stopsOf(0, 1).front();
        QTest::keyClick(rows, Qt::Key_Right, Qt::AltModifier);
        const std::vector<ValveId> wednesday = yard.stopsOf(0, 2);
        QVERIFY(std::ranges::find(wednesday, third) != wednesday.end());
        QVERIFY(yard.noValveTwice());
        QCOMPARE(yard.failures, QStringList());
        for (int step = 0; step < 3; ++step) {
            yard.session.undoStack().undo();
        }
        QCOMPARE(yard.stopsOf(0, 0), first);
    }

    void aDayOffIsRefusedWithWords()
    {
        DaysYard yard;
        ProjectSettings settings = yard.session.settings();
        settings.crews[1].daysOff = {QDate(2026, 3, 17)};
        QVERIFY(yard.session.project().settings().save(settings).has_value());
        Q_EMIT yard.session.notifier().settingsChanged();
        yard.click("drawUpDays");
        QVERIFY(yard.stopsOf(1, 1).empty());
        const std::vector<ValveId> before = yard.stopsOf(0, 0);
        dragTo(yard.grid(), yard.grid()->blockOf({0, 0}, 0).center().toPoint(),
               yard.grid()->cellBox({1, 1}).center().toPoint());
        QCOMPARE(yard.failures.size(), 1);
        QVERIFY(yard.failures.first().contains(QLatin1String("does not work")));
        QCOMPARE(yard.stopsOf(0, 0), before);
    }

    void theKeysChooseAndOpenADay()
    {
        DaysYard yard;
        yard.click("drawUpDays");
        yard.grid()->setFocus(Qt::TabFocusReason);
        QVERIFY(yard.grid()->chosen().isValid());
        yard.clickCell(0, 0);
        QTest::keyClick(yard.grid(), Qt::Key_Down);
        QTest::keyClick(yard.grid(), Qt::Key_Right);
        QCOMPARE(yard.grid()->chosen(), (CellAt{1, 1}));
        QCOMPARE(yard.text("chosenDay"), QStringLiteral("Tue 2026-03-17, Crew 2"));
        QTest::keyClick(yard.grid(), Qt::Key_Return);
        QVERIFY(yard.ribbon()->isVisible());
        QCOMPARE(yard.place->chosenRound(), yard.cell(1, 1).round->id);
        // A change there shows on the sheet.
        const auto count = yard.stopsOf(1, 1).size();
        yard.clickBlockAndDrop();
        yard.click("comingDays");
        QCOMPARE(yard.stopsOf(1, 1).size(), count - 1);
    }

    void drawingUpIsStopped()
    {
        DaysYard yard;
        QTimer::singleShot(0, yard.place.get(),
                           [&] { QTest::keyClick(yard.page(), Qt::Key_Escape); });
        yard.click("drawUpDays");
        QCOMPARE(yard.failures, QStringList());
        // Stopped before there was a whole plan, or with the best so far: never half of one.
        QVERIFY(yard.noValveTwice());
        QVERIFY(yard.find<QPushButton>("drawUpDays")->isEnabled());
    }

    void picturesOfAWeek()
    {
        for (const QSize &size : {QSize(1366, 768), QSize(1920, 1080)}) {
            DaysYard yard(true, size);
            const QString suffix =
                QStringLiteral("-%1x%2.png").arg(size.width()).arg(size.height());
            ProjectSettings settings = yard.session.settings();
            settings.crews[0].name = QStringLiteral("Night crew of the northern district (large)");
            QVERIFY(yard.session.project().settings().save(settings).has_value());
            Q_EMIT yard.session.notifier().settingsChanged();
            yard.click("drawUpDays");
            yard.clickCell(0, 1);
            yard.click("told");
            yard.picture(QStringLiteral("days-long-names") + suffix);
            yard.click("daysView1");
            yard.picture(QStringLiteral("days-left-out") + suffix);
        }
    }
};

QTEST_MAIN(TestYardDays)
#include "test_yard_days.moc"
