// SPDX-License-Identifier: GPL-3.0-or-later
// Changing the day by hand in the Yard, by clicks, drags and keys: keeping stops first and last,
// holding them together, what must go, dragging in the list and on the ribbon, the lasso, the
// offer of a better order, two plans side by side, stopping long work; and the undoing of each.
#include "app/yard/order_offer.h"

#include "app/dialogs/checked_line.h"
#include "app/map/map_widget.h"
#include "app/shell/style.h"
#include "app/yard/plan_comparison.h"
#include "app/yard/round_edit.h"
#include "core/storage/layer_store.h"
#include "core/storage/round_store.h"
#include "core/storage/valve_store.h"
#include "tests/support/grid_town.h"
#include "tests/support/yard_bench.h"

#include <QComboBox>
#include <QElapsedTimer>
#include <QSignalSpy>
#include <QTimer>

#include <algorithm>
#include <random>

using namespace keyround;

namespace {

ValveId idOf(int number)
{
    return ValveId{uuidFromContent(QByteArray::number(number))};
}

/// A round of these valves, in this order, put there by hand.
struct PlanYard : Yard
{
    using Yard::Yard;

    void plan(std::initializer_list<const char *> numbers)
    {
        Round round = emptyRound(session.settings(), QStringLiteral("Crew 1"), session.today());
        round.id = RoundId{newUuid7(session.now().utcMilliseconds)};
        round.breaks.clear();
        for (const char *number : numbers) {
            round.stops.push_back(session.valveByNumber(QLatin1String(number))->id);
        }
        if (const Status put = session.project().rounds().put(round); !put) {
            qFatal("%s", qPrintable(put.error().message));
        }
        Q_EMIT session.notifier().roundsChanged();
        Q_EMIT session.notifier().projectChanged(); // the desk takes up the open round
        QTest::qWait(1);
    }
    [[nodiscard]] Round round() { return session.rounds().front(); }
    [[nodiscard]] QStringList numbers()
    {
        QStringList list;
        for (const ValveId &id : stops()) {
            list << session.valve(id)->number;
        }
        return list;
    }
    void undo() { session.undoStack().undo(); }
    void redo() { session.undoStack().redo(); }
    void clickBlock(int stop) const
    {
        QTest::mouseClick(ribbon(), Qt::LeftButton, {}, ribbon()->blockOf(stop).center().toPoint());
    }
    [[nodiscard]] QPoint rowPoint(int row, double part = 0.5) const
    {
        QTableView *view = column()->stopTable()->view();
        const QRect cell = view->visualRect(view->model()->index(row, 1));
        return {cell.center().x(), cell.top() + int(part * cell.height())};
    }
    void clickStopRow(int row, Qt::KeyboardModifiers keys = {}) const
    {
        QTest::mouseClick(column()->stopTable()->view()->viewport(), Qt::LeftButton, keys,
                          rowPoint(row));
    }
    /// Draws a lasso round these valves.
    void lasso(std::initializer_list<const char *> numbers)
    {
        auto *map = place->findChild<MapWidget *>();
        QRectF box;
        for (const char *number : numbers) {
            const QPointF at =
                map->screenPoint(session.valveByNumber(QLatin1String(number))->place);
            box = box.united(QRectF(at.x() - 10, at.y() - 10, 20, 20));
        }
        click("lasso");
        QTest::mousePress(map, Qt::LeftButton, {}, box.topLeft().toPoint());
        for (const QPointF &corner :
             {box.topRight(), box.bottomRight(), box.bottomLeft(), box.topLeft()}) {
            QMouseEvent move(QEvent::MouseMove, corner, map->mapToGlobal(corner), Qt::NoButton,
                             Qt::LeftButton, {});
            QApplication::sendEvent(map, &move);
        }
        QTest::mouseRelease(map, Qt::LeftButton, {}, box.topLeft().toPoint());
    }
    bool waitForSearch() const
    {
        auto *offer = place->findChild<OrderOffer *>();
        return QTest::qWaitFor([&] { return !offer->isSearching(); }, 10000);
    }
};

} // namespace

class TestYardPlan : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
    }

    void aStopIsKeptFirstByClickAndByKeys()
    {
        PlanYard yard;
        yard.plan({"V-001", "V-002", "V-003", "V-004"});
        yard.clickBlock(2);
        yard.click("stopKeepFirst");
        QCOMPARE(yard.failures, QStringList());
        QCOMPARE(yard.numbers().first(), QStringLiteral("V-003"));
        QVERIFY(yard.round().firstIsPinned);
        QVERIFY(yard.find<QToolButton>("stopKeepFirst")->isChecked());
        yard.click("view2");
        const auto *model = yard.column()->stopTable()->view()->model();
        QVERIFY(model->index(0, 2).data().toString().contains(QLatin1String("first")));
        yard.undo();
        QCOMPARE(yard.numbers().first(), QStringLiteral("V-001"));
        QVERIFY(!yard.round().firstIsPinned);
        yard.redo();
        QVERIFY(yard.round().firstIsPinned);
        // The keys let go again, from the ribbon.
        yard.ribbon()->setFocus();
        QTest::keyClick(yard.ribbon(), Qt::Key_Home, Qt::AltModifier);
        QVERIFY(!yard.round().firstIsPinned);
        QTest::keyClick(yard.ribbon(), Qt::Key_End, Qt::AltModifier);
        QVERIFY(yard.round().lastIsPinned);
        QCOMPARE(yard.numbers().last(), QStringLiteral("V-003"));
        // What is added afterwards comes before it; the best order leaves it there.
        yard.click("view1");
        QVERIFY(yard.clickRow(yard.column()->valveTable(), QStringLiteral("V-024")));
        yard.click("stopAdd");
        QCOMPARE(yard.numbers().last(), QStringLiteral("V-003"));
        QVERIFY(yard.numbers().contains(QStringLiteral("V-024")));
    }

    void stopsAreHeldTogetherAndDraggedTogether()
    {
        PlanYard yard;
        yard.plan({"V-001", "V-002", "V-003", "V-004", "V-005"});
        yard.click("view2");
        yard.clickStopRow(1);
        yard.clickStopRow(2, Qt::ShiftModifier);
        yard.click("stopHold");
        QVERIFY(yard.round().heldToNext == QSet<ValveId>{yard.stops()[1]});
        yard.picture(QStringLiteral("yard-held-1366x768.png"));

        // The second of the two is taken in the list and let go at the end: both go there.
        QWidget *rows = yard.column()->stopTable()->view()->viewport();
        dragTo(rows, yard.rowPoint(2), yard.rowPoint(4, 0.9));
        QCOMPARE(yard.numbers(), (QStringList{QStringLiteral("V-001"), QStringLiteral("V-004"),
                                              QStringLiteral("V-005"), QStringLiteral("V-002"),
                                              QStringLiteral("V-003")}));
        yard.undo();
        // On the ribbon, a stop let go between the two lands outside.
        DayRibbon *ribbon = yard.ribbon();
        const QPoint between(int(ribbon->blockOf(2).left()) + 1,
                             int(ribbon->blockOf(2).center().y()));
        dragTo(ribbon, ribbon->blockOf(4).center().toPoint(), between);
        QCOMPARE(yard.numbers(), (QStringList{QStringLiteral("V-001"), QStringLiteral("V-005"),
                                              QStringLiteral("V-002"), QStringLiteral("V-003"),
                                              QStringLiteral("V-004")}));
        yard.undo();
        // Letting go by the keys.
        yard.clickBlock(1);
        QTest::keyClick(ribbon, Qt::Key_H, Qt::AltModifier);
        QVERIFY(yard.round().heldToNext.isEmpty());
        yard.undo();
        QCOMPARE(yard.round().heldToNext.size(), 1);
        QCOMPARE(yard.failures, QStringList());
    }

    void aListInAnotherOrderSaysWhyItCannotBeDragged()
    {
        PlanYard yard;
        yard.plan({"V-003", "V-001", "V-002"});
        yard.click("view2");
        QTableView *view = yard.column()->stopTable()->view();
        view->sortByColumn(1, Qt::AscendingOrder);
        dragTo(view->viewport(), yard.rowPoint(0), yard.rowPoint(2, 0.9));
        QCOMPARE(yard.failures.size(), 1);
        QCOMPARE(yard.numbers().first(), QStringLiteral("V-003"));
        view->sortByColumn(-1, Qt::AscendingOrder);
        dragTo(view->viewport(), yard.rowPoint(0), yard.rowPoint(2, 0.9));
        QCOMPARE(yard.numbers().last(), QStringLiteral("V-003"));
        // Alt+Up brings it back one place.
        view->setFocus();
        QTest::keyClick(view, Qt::Key_Up, Qt::AltModifier);
        QCOMPARE(yard.numbers().at(1), QStringLiteral("V-003"));
    }

    void theLassoPicksForAddingMustGoAndDropping()
    {
        PlanYard yard;
        yard.plan({"V-001"});
        yard.place->findChild<MapWidget *>()->showAll();
        yard.lasso({"V-008", "V-009", "V-014", "V-015"});
        QVERIFY(yard.find<QLabel>("mapHint")->text().startsWith(QLatin1String("4 valves")));
        yard.click("stopAdd");
        QCOMPARE(yard.stops().size(), size_t(5));
        yard.click("stopMustGo");
        QCOMPARE(yard.round().mustGo.size(), 4);
        QVERIFY(yard.find<QToolButton>("stopMustGo")->isChecked());
        yard.picture(QStringLiteral("yard-lasso-1366x768.png"));
        yard.click("stopDrop");
        QCOMPARE(yard.stops().size(), size_t(1));
        QVERIFY(yard.round().mustGo.isEmpty());
        yard.undo();
        QCOMPARE(yard.round().mustGo.size(), 4);
        yard.undo();
        QVERIFY(yard.round().mustGo.isEmpty());
        QCOMPARE(yard.stops().size(), size_t(5));
        yard.undo();
        QCOMPARE(yard.stops().size(), size_t(1));
        yard.redo();
        QCOMPARE(yard.stops().size(), size_t(5));
        QCOMPARE(yard.failures, QStringList());
    }

    void aBetterOrderIsOfferedLookedAtAndTaken();
    void nothingIsOfferedForTheBestOrder();
    void twoPlansAreComparedAndSwapped();
    void aLeftOutValveCanBeMadeToGo();
    void longWorkIsStopped();
    void everyChangeAnswersQuickly();
};

void TestYardPlan::aBetterOrderIsOfferedLookedAtAndTaken()
{
    PlanYard yard;
    // To and fro over the river: no order is much worse.
    yard.plan({"V-001", "V-024", "V-002", "V-023", "V-007", "V-018", "V-003", "V-022"});
    auto *offer = yard.find<QFrame>("offer");
    QVERIFY(yard.waitForSearch());
    QVERIFY(offer->isVisible());
    const QString words = yard.find<QLabel>("offerWords")->text();
    QVERIFY2(words.contains(QLatin1String("saves")), qPrintable(words));
    const QStringList ours = yard.numbers();
    const QString sentence = yard.sentence();
    yard.picture(QStringLiteral("yard-offer-1366x768.png"));
    yard.click("offerLook");
    QCOMPARE(yard.numbers(), ours); // only looked at
    QVERIFY(yard.session.undoStack().count() == 0);
    double looked = 0;
    for (const RibbonStretch &each : yard.ribbon()->stretches()) {
        looked += each.kind == RibbonStretch::Kind::Drive ? each.to - each.from : 0;
    }
    yard.picture(QStringLiteral("yard-offer-look-1366x768.png"));
    yard.click("offerLook");
    yard.click("offerTake");
    QVERIFY(yard.numbers() != ours);
    QVERIFY(std::ranges::is_permutation(yard.numbers(), ours));
    QVERIFY(yard.sentence() != sentence);
    double taken = 0;
    for (const RibbonStretch &each : yard.ribbon()->stretches()) {
        taken += each.kind == RibbonStretch::Kind::Drive ? each.to - each.from : 0;
    }
    QVERIFY(std::abs(taken - looked) < 1.0);
    QCOMPARE(yard.session.undoStack().count(), 1);
    yard.undo();
    QCOMPARE(yard.numbers(), ours);
    QVERIFY(yard.waitForSearch());
    QVERIFY(offer->isVisible());
    yard.click("offerPutAway");
    QVERIFY(!offer->isVisible());
    QCOMPARE(yard.numbers(), ours);
}

void TestYardPlan::nothingIsOfferedForTheBestOrder()
{
    PlanYard yard;
    yard.plan({"V-001", "V-024", "V-002", "V-023", "V-007"});
    yard.click("bestOrder");
    QVERIFY(yard.waitForSearch());
    QVERIFY(!yard.find<QFrame>("offer")->isVisible());
    // What is held stays held, and nothing is offered that would break it.
    OrderGain gain{600, 600, 0};
    QVERIFY(isWorthOffering(gain));
    gain.misses = -1;
    QVERIFY(!isWorthOffering(gain));
}

void TestYardPlan::twoPlansAreComparedAndSwapped()
{
    PlanYard yard;
    yard.plan({"V-001", "V-024", "V-002"});
    auto *comparison = yard.place->findChild<PlanComparison *>();
    QVERIFY(!comparison->isVisible());
    const QStringList first = yard.numbers();
    yard.click("setPlanAside");
    QVERIFY(comparison->isVisible());
    yard.click("view1");
    QVERIFY(yard.clickRow(yard.column()->valveTable(), QStringLiteral("V-013")));
    yard.click("stopAdd");
    const QStringList second = yard.numbers();
    QCOMPARE(second.size(), 4);
    bool saysOnlyHere = false;
    for (const QLabel *label : comparison->findChildren<QLabel *>()) {
        saysOnlyHere = saysOnlyHere || label->text() == QLatin1String("only here: V-013");
    }
    QVERIFY(saysOnlyHere);
    yard.picture(QStringLiteral("yard-compare-1366x768.png"));
    yard.click("swapPlans");
    QCOMPARE(yard.numbers(), first);
    yard.click("swapPlans");
    QCOMPARE(yard.numbers(), second);
    yard.undo();
    QCOMPARE(yard.numbers(), first);
    yard.click("swapPlans"); // the one that undo took away is the one set aside
    QCOMPARE(yard.numbers(), second);
    yard.click("putAwayPlan");
    QVERIFY(!comparison->isVisible());
    QCOMPARE(yard.failures, QStringList());
}

void TestYardPlan::aLeftOutValveCanBeMadeToGo()
{
    PlanYard yard;
    typeInto(yard.find<CheckedLine>("shiftTo")->line(), QStringLiteral("09:00"));
    yard.click("drawUp");
    const size_t drawn = yard.stops().size();
    yard.click("leftOut");
    QTableView *view = yard.find<DataTable>("leftOutTable")->view();
    QVERIFY(view->model()->rowCount() > 0);
    const QString number = view->model()->index(0, 0).data().toString();
    QVERIFY(!view->model()->index(0, 1).data().toString().isEmpty());
    QTest::mouseClick(view->viewport(), Qt::LeftButton, {},
                      view->visualRect(view->model()->index(0, 0)).center());
    yard.picture(QStringLiteral("yard-left-out-chosen-1366x768.png"));
    yard.click("leftOutMustGo");
    QCOMPARE(yard.stops().size(), drawn + 1);
    const ValveId id = yard.session.valveByNumber(number)->id;
    QVERIFY(yard.round().mustGo.contains(id));
    // Drawn up again, it stays.
    yard.click("drawUp");
    QVERIFY(stopIndex(yard.round(), id) >= 0);
    yard.undo();
    yard.undo();
    QCOMPARE(yard.stops().size(), drawn);
}

void TestYardPlan::longWorkIsStopped()
{
    PlanYard yard;
    yard.plan({"V-001", "V-024"});
    const QStringList before = yard.numbers();
    QTimer::singleShot(0, yard.place.get(), [&] {
        for (auto *stop : yard.place->findChildren<QPushButton *>(QStringLiteral("workStop"))) {
            if (stop->isVisible()) {
                QTest::mouseClick(stop, Qt::LeftButton);
            }
        }
    });
    yard.click("drawUp");
    QCOMPARE(yard.numbers(), before);
    QCOMPARE(yard.failures, QStringList());
    QVERIFY(!yard.find<QPushButton>("workStop")->isVisible());
}

void TestYardPlan::everyChangeAnswersQuickly()
{
    // An invented grid of 1,600 junctions; measured and printed, not judged here.
    PlanYard yard;
    const tests::GridTown town = tests::gridTown(40, 40, 0.15, 0.05, JunctionRule::SharedNodes, 5);
    const Author author{QStringLiteral("Test"), QStringLiteral("test laptop")};
    Round round = emptyRound(yard.session.settings(), QStringLiteral("Crew 1"), QDate(2026, 3, 17));
    round.id = RoundId{newUuid7(yard.session.now().utcMilliseconds)};
    round.start = town.junctions[0];
    round.finish = town.junctions[0];
    std::mt19937 dice(3);
#ifdef NDEBUG
    constexpr int stops = 40;
#else
    constexpr int stops = 12; // the search in the background is slow without optimisation
#endif
    const Status made = yard.session.project().transaction([&]() -> Status {
        for (int i = 0; i < stops; ++i) {
            Valve valve = *yard.session.valveByNumber(QStringLiteral("V-001"));
            valve.number = QStringLiteral("G-%1").arg(i);
            valve.id = idOf(1000 + i);
            valve.place = town.junctions[dice() % town.junctions.size()];
            round.stops.push_back(valve.id);
            if (auto added = yard.session.project().valves().add(valve, author, smallTownMoment(),
                                                                 QStringLiteral("grid"));
                !added) {
                return added;
            }
        }
        std::vector<Street> streets = town.streets;
        for (size_t i = 0; i < streets.size(); ++i) {
            streets[i].key = QStringLiteral("G%1").arg(i);
            streets[i].id = {uuidFromContent(streets[i].key.toUtf8())};
        }
        if (auto put = yard.session.project().layers().put(streets); !put) {
            return put;
        }
        return yard.session.project().rounds().put(round);
    });
    QVERIFY2(made.has_value(), made ? "" : qPrintable(made.error().message));
    Q_EMIT yard.session.notifier().layersChanged();
    Q_EMIT yard.session.notifier().valvesChanged();
    Q_EMIT yard.session.notifier().roundsChanged();
    auto *choice = yard.find<QComboBox>("roundChoice");
    choice->setCurrentIndex(choice->findData(round.id.text()));
    Q_EMIT choice->activated(choice->currentIndex());
    QVERIFY(yard.place->chosenRound() == round.id);
    const auto timed = [&](const char *what, const auto &act) {
        QElapsedTimer clock;
        clock.start();
        act();
        QApplication::processEvents();
        qInfo("%-14s %lld ms", what, clock.elapsed());
    };
    yard.clickBlock(stops / 2);
    timed("move a stop", [&] { QTest::keyClick(yard.ribbon(), Qt::Key_Left, Qt::AltModifier); });
    timed("keep first", [&] { yard.click("stopKeepFirst"); });
    timed("must go", [&] { yard.click("stopMustGo"); });
    timed("hold", [&] { yard.click("stopHold"); });
    timed("undo", [&] { yard.undo(); });
    timed("drop", [&] { yard.click("stopDrop"); });
    QVERIFY(yard.waitForSearch());
    QCOMPARE(yard.failures, QStringList());
}

QTEST_MAIN(TestYardPlan)
#include "test_yard_plan.moc"
