// SPDX-License-Identifier: GPL-3.0-or-later
// The map under a hand: clicks, drags, lasso, wheel, touch and keys, on the small invented town;
// what it paints is looked at in the pictures that it leaves in screens/.
#include "app/map/map_painter.h"
#include "app/map/map_widget.h"
#include "app/map/name_lines.h"
#include "app/shell/style.h"
#include "core/storage/round_store.h"
#include "core/storage/valve_store.h"
#include "tests/support/on_screen.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QElapsedTimer>
#include <QImage>
#include <QPainter>
#include <QSignalSpy>
#include <QTest>
#include <QToolButton>
#include <QToolTip>
#include <QWheelEvent>

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>

using namespace keyround;

namespace {

Round roundOf(Session &session, int stops)
{
    Round round;
    round.id = RoundId{newUuid7(session.now().utcMilliseconds)};
    round.date = session.today();
    round.crew = QStringLiteral("Crew 1");
    round.start = round.finish = session.settings().yard.value_or(smallTownCorner(0, 0));
    for (const Valve &valve : session.valves()) {
        if (valve.place.isValid() && int(round.stops.size()) < stops) {
            round.stops.push_back(valve.id);
        }
    }
    return round;
}

const Valve &firstPlaced(Session &session)
{
    const auto &valves = session.valves();
    return *std::ranges::find_if(valves, [](const Valve &v) { return v.place.isValid(); });
}

} // namespace

class TestMap : public QObject
{
    Q_OBJECT

    std::unique_ptr<Session> m_session;
    std::unique_ptr<SmallTown> m_town;

    std::unique_ptr<MapWidget> shownMap(const QSize &size = {900, 700})
    {
        auto map = std::make_unique<MapWidget>(*m_session);
        map->resize(size);
        map->show();
        if (!QTest::qWaitForWindowExposed(map.get())) {
            qFatal("the map's window does not show");
        }
        map->grab();
        return map;
    }

private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
        qRegisterMetaType<ValveId>();
    }

    void init()
    {
        m_session = std::make_unique<Session>(smallTownClock());
        m_town = makeSmallTown(*m_session);
    }

    void cleanup()
    {
        m_session.reset();
        m_town.reset();
    }

    void aClickOnAValveNamesIt()
    {
        const auto map = shownMap();
        QSignalSpy clicked(map.get(), &MapWidget::valveClicked);
        const Valve &valve = firstPlaced(*m_session);
        map->showValve(valve.id);
        QTest::mouseClick(map.get(), Qt::LeftButton, {}, map->screenPoint(valve.place).toPoint());
        QCOMPARE(clicked.size(), 1);
        QVERIFY(clicked[0][0].value<ValveId>() == valve.id);
    }

    void aClickBesideAllValvesGivesThePlace()
    {
        const auto map = shownMap();
        QSignalSpy place(map.get(), &MapWidget::placeClicked);
        QSignalSpy valve(map.get(), &MapWidget::valveClicked);
        // The middle of a block: 60 m by 50 m from each corner.
        const GeoPoint a = smallTownCorner(0, 0);
        const GeoPoint b = smallTownCorner(1, 1);
        const GeoPoint middle{(a.latitude + b.latitude) / 2, (a.longitude + b.longitude) / 2};
        QTest::mouseClick(map.get(), Qt::LeftButton, {}, map->screenPoint(middle).toPoint());
        QCOMPARE(valve.size(), 0);
        QCOMPARE(place.size(), 1);
        const auto got = place[0][0].value<GeoPoint>();
        // A pixel is about a metre here.
        QVERIFY(distanceBetween(got, middle).value < 2.0 / map->pixelsPerMetre());
    }

    void aDragMovesTheMapAndIsNoClick()
    {
        const auto map = shownMap();
        QSignalSpy clicks(map.get(), &MapWidget::valveClicked);
        QSignalSpy places(map.get(), &MapWidget::placeClicked);
        const GeoPoint corner = smallTownCorner(2, 2);
        const QPointF before = map->screenPoint(corner);
        QTest::mousePress(map.get(), Qt::LeftButton, {}, {300, 300});
        QTest::mouseMove(map.get(), {330, 310});
        QTest::mouseMove(map.get(), {380, 340});
        QTest::mouseRelease(map.get(), Qt::LeftButton, {}, {380, 340});
        const QPointF moved = map->screenPoint(corner) - before;
        QVERIFY2((moved - QPointF(80, 40)).manhattanLength() < 1.0,
                 qPrintable(QStringLiteral("%1 %2").arg(moved.x()).arg(moved.y())));
        QCOMPARE(clicks.size() + places.size(), 0);
    }

    void theLassoPicksWhatLiesWithin()
    {
        const auto map = shownMap();
        QSignalSpy picked(map.get(), &MapWidget::valvesPicked);
        map->setLasso(true);
        const QPoint low = map->screenPoint(smallTownCorner(0, 0)).toPoint() + QPoint(-25, 25);
        const QPoint high = map->screenPoint(smallTownCorner(1, 1)).toPoint() + QPoint(25, -25);
        QTest::mousePress(map.get(), Qt::LeftButton, {}, low);
        for (const QPoint &at : {QPoint(high.x(), low.y()), high, QPoint(low.x(), high.y())}) {
            QTest::mouseMove(map.get(), at);
        }
        QTest::mouseRelease(map.get(), Qt::LeftButton, {}, QPoint(low.x(), high.y()));
        QCOMPARE(picked.size(), 1);
        const auto got = picked[0][0].value<QList<ValveId>>();
        QSet<ValveId> expected;
        for (const Valve &valve : m_session->valves()) {
            const QPoint at = map->screenPoint(valve.place).toPoint();
            if (valve.place.isValid() && !valve.retired &&
                QRect(QPoint(low.x(), high.y()), QPoint(high.x(), low.y())).contains(at)) {
                expected.insert(valve.id);
            }
        }
        QVERIFY(!expected.isEmpty());
        QCOMPARE(QSet<ValveId>(got.begin(), got.end()), expected);
        QCOMPARE(got.size(), expected.size());
    }

    void escapeDropsALasso()
    {
        const auto map = shownMap();
        QSignalSpy picked(map.get(), &MapWidget::valvesPicked);
        map->setLasso(true);
        QTest::mousePress(map.get(), Qt::LeftButton, {}, {100, 100});
        QTest::mouseMove(map.get(), {500, 100});
        QTest::mouseMove(map.get(), {500, 500});
        QTest::keyClick(map.get(), Qt::Key_Escape);
        QTest::mouseRelease(map.get(), Qt::LeftButton, {}, {100, 500});
        QCOMPARE(picked.size(), 0);
    }

    void theWheelKeepsThePlaceUnderTheCursor()
    {
        const auto map = shownMap();
        const GeoPoint corner = smallTownCorner(4, 3);
        const QPointF before = map->screenPoint(corner);
        const double scale = map->pixelsPerMetre();
        QWheelEvent wheel(before, map->mapToGlobal(before), {}, {0, 240}, Qt::NoButton, {},
                          Qt::NoScrollPhase, false);
        QApplication::sendEvent(map.get(), &wheel);
        QVERIFY(map->pixelsPerMetre() > scale * 1.4);
        QVERIFY((map->screenPoint(corner) - before).manhattanLength() < 0.01);
    }

    void keysMoveScaleAndShowAll()
    {
        const auto map = shownMap();
        const double scale = map->pixelsPerMetre();
        const QPointF before = map->screenPoint(smallTownCorner(2, 2));
        QTest::keyClick(map.get(), Qt::Key_Right);
        QVERIFY(map->screenPoint(smallTownCorner(2, 2)).x() < before.x() - 50);
        QTest::keyClick(map.get(), Qt::Key_Up);
        QVERIFY(map->screenPoint(smallTownCorner(2, 2)).y() > before.y() + 50);
        QTest::keyClick(map.get(), Qt::Key_Plus);
        QVERIFY(map->pixelsPerMetre() > scale);
        QTest::keyClick(map.get(), Qt::Key_Minus);
        QTest::keyClick(map.get(), Qt::Key_Minus);
        QVERIFY(map->pixelsPerMetre() < scale);
        QTest::keyClick(map.get(), Qt::Key_Home);
        QVERIFY(std::abs(map->pixelsPerMetre() - scale) < 1e-9);
        QVERIFY((map->screenPoint(smallTownCorner(2, 2)) - before).manhattanLength() < 0.01);
    }

    void whatIsShownBeforeTheWidgetHasItsSizeIsSeenInIt()
    {
        MapWidget map(*m_session);
        map.resize(20, 10);
        map.showAll();
        const QSize size(900, 700);
        map.resize(size);
        map.show();
        QVERIFY(QTest::qWaitForWindowExposed(&map));
        QRectF seen;
        for (const Valve &valve : m_session->valves()) {
            if (valve.place.isValid()) {
                const QPointF at = map.screenPoint(valve.place);
                QVERIFY(QRectF(QPointF(), size).contains(at));
                seen |= QRectF(at, QSizeF(1, 1));
            }
        }
        QVERIFY(seen.height() > 0.4 * size.height());
    }

    void enterClicksWhatTheMiddlePointsAt()
    {
        const auto map = shownMap();
        QSignalSpy clicked(map.get(), &MapWidget::valveClicked);
        const Valve &valve = firstPlaced(*m_session);
        map->zoom(0.1); // so far that the sign is not seen, and showing it centres it
        map->showValve(valve.id);
        QTest::keyClick(map.get(), Qt::Key_Return);
        QCOMPARE(clicked.size(), 1);
        QVERIFY(clicked[0][0].value<ValveId>() == valve.id);
    }

    void aFingerReachesFartherThanAMouse()
    {
        const auto map = shownMap();
        const Valve &valve = firstPlaced(*m_session);
        map->zoom(0.1);
        map->showValve(valve.id);
        map->zoom(4.0); // no neighbour within a finger's breadth
        QSignalSpy clicked(map.get(), &MapWidget::valveClicked);
        const double away = pixelsFor(7.0, map.get()); // between 4 mm and 10 mm
        const QPoint beside = (map->screenPoint(valve.place) + QPointF(away, 0)).toPoint();
        QTest::mouseClick(map.get(), Qt::LeftButton, {}, beside);
        QCOMPARE(clicked.size(), 0);
        QPointingDevice *finger = QTest::createTouchDevice();
        QTest::touchEvent(map.get(), finger).press(0, beside, map.get());
        QTest::touchEvent(map.get(), finger).release(0, beside, map.get());
        QCOMPARE(clicked.size(), 1);
        QVERIFY(clicked[0][0].value<ValveId>() == valve.id);
    }

    void twoFingersChangeTheScale()
    {
        const auto map = shownMap();
        QSignalSpy clicked(map.get(), &MapWidget::placeClicked);
        const double scale = map->pixelsPerMetre();
        QPointingDevice *fingers = QTest::createTouchDevice();
        const auto touch = [&] { return QTest::touchEvent(map.get(), fingers); };
        touch().press(0, {400, 300}, map.get()).press(1, {500, 300}, map.get());
        touch().move(0, {350, 300}, map.get()).move(1, {550, 300}, map.get());
        touch().release(0, {350, 300}, map.get()).release(1, {550, 300}, map.get());
        QVERIFY(std::abs(map->pixelsPerMetre() / scale - 2.0) < 0.01);
        QCOMPARE(clicked.size(), 0);
    }

    void theTipSaysNumberSizeAndCondition()
    {
        const auto map = shownMap();
        const Valve *valve = m_session->valveByNumber(m_town->doesNotTurn);
        QVERIFY(valve != nullptr);
        map->showValve(valve->id);
        const QPoint at = map->screenPoint(valve->place).toPoint();
        QHelpEvent help(QEvent::ToolTip, at, map->mapToGlobal(at));
        QApplication::sendEvent(map.get(), &help);
        const QString tip = QToolTip::text();
        QVERIFY2(tip.contains(valve->number), qPrintable(tip));
        QVERIFY2(tip.contains(wordFor(Condition::DoesNotTurn)), qPrintable(tip));
    }

    void aRecordedVisitChangesTheMark()
    {
        const auto map = shownMap();
        const Valve *valve = m_session->valveByNumber(m_town->neverVisited);
        QVERIFY(valve != nullptr && valve->place.isValid());
        map->showValve(valve->id);
        const QImage before = map->grab().toImage();
        Visit visit;
        visit.id = VisitId{newUuid7(m_session->now().utcMilliseconds)};
        visit.stamp = *m_session->project().nextStamp(m_session->now());
        visit.valve = valve->id;
        visit.arrived = visit.finished = m_session->now();
        visit.problems = {Problem::CouldNotOperate};
        QVERIFY(m_session->project().visits().add(visit).has_value());
        QVERIFY(map->grab().toImage() == before);
        Q_EMIT m_session->notifier().visitsChanged();
        QVERIFY(map->grab().toImage() != before);
    }

    void picturesOfBothSizes()
    {
        const Round round = roundOf(*m_session, 9);
        for (const QSize &size : {QSize(1366, 768), QSize(1920, 1080)}) {
            const auto map = shownMap(size);
            map->setRoute(mapRouteOf(*m_session, round));
            map->setChosen({round.stops[1]});
            map->setKeyShown(true);
            QVERIFY(map->grab().save(
                screenFile(QStringLiteral("map_%1x%2.png").arg(size.width()).arg(size.height()))));
            map->zoom(3.0);
            map->grab();
            QTest::qWait(200); // a slow picture settles when the hand rests
            QVERIFY(map->grab().save(screenFile(
                QStringLiteral("map_near_%1x%2.png").arg(size.width()).arg(size.height()))));
        }
    }

    void aRouteIsDrawnAndTakenAway()
    {
        const auto map = shownMap();
        const QImage before = map->grab().toImage();
        const MapRoute route = mapRouteOf(*m_session, roundOf(*m_session, 5));
        QCOMPARE(route.stops.size(), size_t(5));
        QCOMPARE(route.stops[4].label, QStringLiteral("5"));
        QVERIFY(lengthOf(route.line).value > 100.0);
        map->setRoute(route);
        QVERIFY(map->grab().toImage() != before);
        map->setRoute({});
        QVERIFY(map->grab().toImage() == before);
    }

    void anEmptyProjectSaysWhatToDo()
    {
        m_session->closeProject();
        const auto map = shownMap({700, 500});
        QVERIFY(map->accessibleDescription().contains(QStringLiteral("No layers")));
        QVERIFY(map->grab().save(screenFile(QStringLiteral("map_empty.png"))));
        map->showAll(); // nothing to show is no harm
        map->setPreview({smallTownCorner(0, 0), smallTownCorner(5, 4)});
        map->showPoints({smallTownCorner(0, 0), smallTownCorner(5, 4)});
        QVERIFY(QRectF(map->rect()).contains(map->screenPoint(smallTownCorner(5, 4))));
        QVERIFY(QRectF(map->rect()).contains(map->screenPoint(smallTownCorner(0, 0))));
        QVERIFY(map->grab().save(screenFile(QStringLiteral("map_preview.png"))));
    }

    void aPictureFileHasItsSizeAndABadPlaceSaysSo()
    {
        QTemporaryDir folder;
        const MapRoute route = mapRouteOf(*m_session, roundOf(*m_session, 6));
        const QString path = folder.filePath(QStringLiteral("map.png"));
        const Status saved = saveMapPng(*m_session, route, path, {1000, 800});
        QVERIFY(saved.has_value());
        QCOMPARE(QImage(path).size(), QSize(1000, 800));
        QFile::remove(screenFile(QStringLiteral("map_file.png")));
        QVERIFY(QFile::copy(path, screenFile(QStringLiteral("map_file.png"))));
        QVERIFY(!saveMapPng(*m_session, route, folder.filePath(QStringLiteral("no/such/map.png")))
                     .has_value());
        QVERIFY(!saveMapPng(*m_session, route, path, {0, 10}).has_value());
    }

    /// Pieces of one street, cut at every crossing and turned at will, join into lines whose
    /// length is that of the pieces.
    void namesJoinWhateverTheOrder()
    {
        QVERIFY(rc::check("joined length", [] {
            const auto count = *rc::gen::inRange(1, 12);
            std::vector<MapContent::NamedLine> pieces;
            for (int i = 0; i < count; ++i) {
                PlaneLine line{{i * 100.0, 0.0}, {i * 100.0 + 50, 10.0}, {i * 100.0 + 100, 0.0}};
                if (*rc::gen::arbitrary<bool>()) {
                    std::ranges::reverse(line);
                }
                pieces.push_back({QStringLiteral("Invented Street"), line});
            }
            const auto order =
                *rc::gen::container<std::vector<int>>(pieces.size(), rc::gen::inRange(0, 1000));
            for (size_t i = 0; i < pieces.size(); ++i) {
                std::swap(pieces[i], pieces[size_t(order[i]) % pieces.size()]);
            }
            const auto joined = joinedNameLines(pieces);
            RC_ASSERT(joined.size() == size_t(1));
            RC_ASSERT(joined[0].line.size() == size_t(2 * count + 1));
        }));
    }
};

QTEST_MAIN(TestMap)
#include "test_map.moc"
