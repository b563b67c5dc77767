// SPDX-License-Identifier: GPL-3.0-or-later
// The truck with a receiver: how far and which way, the stop that offers itself, the lid's place, a
// valve that is on no list. And without one, or with an old fix: nothing false.
#include "app/position/position_feed.h"
#include "app/truck/stop_list_page.h"
#include "core/fieldlog/field_reports.h"
#include "core/storage/visit_store.h"
#include "tests/support/truck_bench.h"

using namespace keyround;

namespace {

/// North of a place by so many metres (a degree of latitude is about 111,200 m).
GeoPoint northOf(const GeoPoint &place, double metres)
{
    return {place.latitude + metres / 111200.0, place.longitude};
}

/// A receiver whose clock only goes on when it is told to.
struct Receiver
{
    explicit Receiver(Session &session) : feed(session.positions())
    {
        feed.setSteadyClock([this] { return now; });
    }
    void stand(const GeoPoint &place, FixQuality quality = FixQuality::Satellite)
    {
        now += 60000; // long enough to have driven there
        PositionFix fix;
        fix.place = place;
        fix.quality = quality;
        fix.accuracy = Metres{2};
        for (int i = 0; i < 4; ++i) { // a new place must hold for some seconds to be believed
            now += 1000;
            feed.give(fix);
        }
    }
    PositionFeed &feed;
    std::int64_t now = 1000;
};

} // namespace

class TestTruckPosition : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        keepProjectsInMemory();
        applyLook(*qApp);
    }

    void saysHowFarAndWhichWayOnlyWhileItIsTrue()
    {
        TruckBench bench;
        const Valve valve = *bench.session.valveByNumber(QStringLiteral("V-002"));
        bench.addRound({valve.number});
        bench.show();
        TruckBench::key(Qt::Key_Return);
        QVERIFY(!bench.shows("here")); // no receiver: no word of it
        Receiver receiver(bench.session);
        receiver.stand(northOf(valve.place, 200));
        QVERIFY2(bench.text("here").contains(QStringLiteral("to the south")),
                 qPrintable(bench.text("here")));
        QVERIFY(!bench.text("here").contains(QStringLiteral("You are there")));
        receiver.stand(northOf(valve.place, 10));
        QVERIFY2(bench.text("here").startsWith(QStringLiteral("You are there: ")),
                 qPrintable(bench.text("here")));
        receiver.now += 20000; // nothing comes any more
        Q_EMIT receiver.feed.changed();
        QVERIFY2(bench.text("here").contains(QStringLiteral("cannot be said")),
                 qPrintable(bench.text("here")));
        QVERIFY(!bench.text("here").contains(QStringLiteral("to the south")));
    }

    void theStopOffersItself()
    {
        TruckBench bench;
        const Valve far = *bench.session.valveByNumber(QStringLiteral("V-001"));
        const Valve near = *bench.session.valveByNumber(QStringLiteral("V-009"));
        bench.addRound({far.number, near.number});
        bench.show();
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_L);
        QVERIFY(!bench.shows("arrival-offer"));
        Receiver receiver(bench.session);
        receiver.stand(northOf(near.place, 12));
        QVERIFY(bench.shows("arrival-offer"));
        QVERIFY2(bench.find<QAbstractButton>("arrival-offer")->text().contains(near.number),
                 qPrintable(bench.find<QAbstractButton>("arrival-offer")->text()));
        receiver.stand(northOf(near.place, 45)); // farther than the 30 m of the settings
        QVERIFY(!bench.shows("arrival-offer"));
        receiver.stand(northOf(near.place, 12));
        bench.click("arrival-offer");
        QVERIFY(bench.text("stop-title").contains(near.number));
    }

    void theLidsPlaceIsKeptAndProposed()
    {
        TruckBench bench;
        const Valve valve = *bench.session.valveByNumber(QStringLiteral("V-002"));
        bench.addRound({valve.number});
        bench.show();
        Receiver receiver(bench.session);
        for (int i = 0; i < 3; ++i) {
            TruckBench::key(Qt::Key_Return);
        }
        TruckBench::key(Qt::Key_1);
        for (int i = 0; i < 4; ++i) {
            TruckBench::key(Qt::Key_Return);
        }
        QVERIFY(!bench.find("lid-fix")->isEnabled());
        receiver.stand(northOf(valve.place, 25), FixQuality::DeadReckoned);
        QVERIFY(!bench.find("lid-fix")->isEnabled()); // carried on, not measured
        receiver.stand(northOf(valve.place, 25), FixQuality::RtkFixed);
        TruckBench::key(Qt::Key_5);
        QVERIFY(bench.find<QAbstractButton>("lid-fix")->isChecked());
        TruckBench::key(Qt::Key_1);
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return);
        const Visit &visit = bench.history("V-002").visits.back().visit;
        QVERIFY(visit.lidFix.has_value());
        QCOMPARE(visit.lidFix->quality, keyFor(FixQuality::RtkFixed));
        QCOMPARE(visit.lidFix->place.latitude, northOf(valve.place, 25).latitude);
        const auto &places = bench.session.fieldReports().places;
        QCOMPARE(places.size(), std::size_t(1));
        QVERIFY(places.front().proposal.valve == valve.id);
        QVERIFY(places.front().proposal.listed == valve.place);
        QVERIFY(bench.session.valve(valve.id)->place == valve.place); // the office decides
    }

    void aPointIsDroppedForAValveOnNoList()
    {
        TruckBench bench;
        const RoundId round = bench.addRound({QStringLiteral("V-001")});
        bench.show();
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_L);
        auto *list = bench.place->findChild<StopListPage *>();
        QTest::mouseClick(list->findChild<QWidget *>(QStringLiteral("find-a-valve")),
                          Qt::LeftButton);
        QVERIFY(bench.text("find-note").contains(QStringLiteral("the next stop")));
        bench.click("drop-point");
        QVERIFY(!bench.find("drop-report")->isEnabled()); // no place, no point
        Receiver receiver(bench.session);
        const GeoPoint here = northOf(smallTownCorner(2, 2), 33);
        receiver.stand(here);
        QVERIFY(bench.find("drop-report")->isEnabled());
        bench.find("drop-number")->setFocus();
        TruckBench::type("X-77");
        bench.find("drop-size")->setFocus();
        TruckBench::type("six-ish");
        bench.click("drop-report");
        QVERIFY(bench.find<QLineEdit>("drop-size")->property("refused").toBool());
        bench.find<QLineEdit>("drop-size")->setText(QStringLiteral("6"));
        bench.find("drop-words")->setFocus();
        TruckBench::type("round lid <by> the hedge");
        bench.click("drop-report");
        const auto &valves = bench.session.fieldReports().valves;
        QCOMPARE(valves.size(), std::size_t(1));
        const ValveCandidate &candidate = valves.front().candidate;
        QCOMPARE(candidate.number, QStringLiteral("X-77"));
        QCOMPARE(candidate.place.latitude, here.latitude);
        QVERIFY(candidate.size == NominalSize::ofInches(6));
        QVERIFY(candidate.round == round);
        QVERIFY(candidate.evidence.isFix);
        QVERIFY(bench.session.valveByNumber(QStringLiteral("X-77")) == nullptr);
        QVERIFY(bench.shows("list-title"));
    }

    void findsAValveByAPartOfItsNumberOrNearby()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_L);
        Receiver receiver(bench.session);
        const Valve near = *bench.session.valveByNumber(QStringLiteral("V-009"));
        receiver.stand(northOf(near.place, 8));
        auto *list = bench.place->findChild<StopListPage *>();
        QTest::mouseClick(list->findChild<QWidget *>(QStringLiteral("find-a-valve")),
                          Qt::LeftButton);
        QCOMPARE(TruckBench::focus(), QStringLiteral("find-valve"));
        QVERIFY(bench.text("find-note").contains(QStringLiteral("you")));
        TruckBench::key(Qt::Key_Return); // to the first of the list: the nearest
        QCOMPARE(TruckBench::focus(), QStringLiteral("found-valve-V-009"));
        bench.find("find-valve")->setFocus();
        TruckBench::type("-012");
        QVERIFY(bench.find("found-valve-V-012") != nullptr);
        TruckBench::type("xyz");
        QVERIFY(bench.text("find-note").contains(QStringLiteral("drop a point")));
        bench.find<QLineEdit>("find-valve")->selectAll();
        TruckBench::type("V-012");
        bench.click("found-valve-V-012");
        QVERIFY(bench.text("stop-title").contains(QStringLiteral("V-012")));
    }
};

QTEST_MAIN(TestTruckPosition)
#include "test_truck_position.moc"
