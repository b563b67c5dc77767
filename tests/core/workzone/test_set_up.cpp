// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/workzone/set_up.h"
#include "core/workzone/sketch.h"

#include <QTest>

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>

using namespace keyround;

namespace {

/// A two-way street of two 12-ft lanes in a town, 35 mph.
Site twoLaneStreet(LidPlace lid)
{
    Site site;
    site.street = {35, 2, Feet{12}, Feet{8}, false, false, RoadSetting::UrbanLowSpeed, false};
    site.lid = lid;
    site.minutes = 25;
    return site;
}

const ZonePart *partOf(const SetUp &setUp, ZonePart::Kind kind, TaperKind taper)
{
    const auto found = std::ranges::find_if(setUp.parts, [&](const ZonePart &part) {
        return part.kind == kind && (kind != ZonePart::Kind::Taper || part.taper == taper);
    });
    return found == setUp.parts.end() ? nullptr : &*found;
}

} // namespace

class SetUpTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void chosenApplications_data();
    void chosenApplications();
    void applicationsByName();
    void askedFirst();
    void refused_data();
    void refused();
    void durations();
    void conesByHand();
    void flaggerClosureByHand();
    void mergingClosureByHand();
    void shoulderByHand();
    void overrides();
    void overridesRefused();
    void neverShorterWithSpeed();
    void sketchHoldsWhatWasCounted();
    void frameFollowsTheStreet();
};

void SetUpTest::chosenApplications_data()
{
    QTest::addColumn<int>("lid");
    QTest::addColumn<int>("lanes");
    QTest::addColumn<bool>("divided");
    QTest::addColumn<bool>("low");
    QTest::addColumn<bool>("sight");
    QTest::addColumn<int>("setting");
    QTest::addColumn<double>("minutes");
    QTest::addColumn<int>("application");
    // Numbers: MUTCD table 6P-1. Which suits which stop: common practice, no source.
    const auto row = [](const char *name, LidPlace lid, int lanes, bool divided, bool low,
                        bool sight, RoadSetting setting, double minutes, int application) {
        QTest::newRow(name) << static_cast<int>(lid) << lanes << divided << low << sight
                            << static_cast<int>(setting) << minutes << application;
    };
    using enum LidPlace;
    const RoadSetting urban = RoadSetting::UrbanLowSpeed;
    const RoadSetting rural = RoadSetting::Rural;
    row("verge", OutsideRoad, 2, false, false, false, urban, 20, 1);
    row("shoulder, quick", Shoulder, 2, false, false, false, rural, 60, 4);
    row("shoulder, long", Shoulder, 2, false, false, false, rural, 61, 3);
    row("lane edge", LaneEdge, 2, false, false, false, rural, 20, 6);
    row("one of two lanes", Lane, 2, false, false, true, urban, 20, 10);
    row("low traffic, no sight", Lane, 2, false, true, false, rural, 20, 10);
    row("low traffic, good sight", Lane, 2, false, true, true, rural, 20, 11);
    row("minor street", Lane, 2, false, true, false, urban, 20, 18);
    row("outer lane of four", Lane, 4, false, false, true, urban, 20, 30);
    row("inner lane of four", InnerLane, 4, false, false, true, urban, 20, 30);
    row("divided", Lane, 4, true, false, true, rural, 20, 33);
    row("centre, low", Centre, 2, false, true, true, urban, 20, 15);
    row("centre, not low", Centre, 2, false, false, true, urban, 20, 10);
    row("before a junction", IntersectionNear, 4, false, false, true, urban, 20, 21);
    row("past a junction", IntersectionFar, 4, false, false, true, urban, 20, 22);
    row("middle of a junction", IntersectionMiddle, 2, false, false, true, urban, 20, 26);
    row("side of a junction", IntersectionSide, 2, false, false, true, urban, 20, 27);
}

void SetUpTest::chosenApplications()
{
    QFETCH(int, lid);
    QFETCH(int, lanes);
    QFETCH(bool, divided);
    QFETCH(bool, low);
    QFETCH(bool, sight);
    QFETCH(int, setting);
    QFETCH(double, minutes);
    Site site = twoLaneStreet(static_cast<LidPlace>(lid));
    site.street.lanes = lanes;
    site.street.isDivided = divided;
    site.street.isLowVolume = low;
    site.street.setting = static_cast<RoadSetting>(setting);
    site.sightIsGood = sight;
    site.minutes = minutes;
    const auto setUp = workOutSetUp(site);
    QVERIFY2(setUp, qPrintable(setUp ? QString() : setUp.error().message));
    QTEST(setUp->application.number, "application");
    QVERIFY(!setUp->why.isEmpty());
    QVERIFY(!setUp->cautions.isEmpty());
    QCOMPARE(setUp->people, 2 + setUp->flaggers);
}

void SetUpTest::applicationsByName()
{
    // MUTCD table 6P-1
    QCOMPARE(applicationOf(18)->name, QStringLiteral("Lane Closure on a Minor Street"));
    QCOMPARE(applicationOf(10)->name,
             QStringLiteral("Lane Closure on a Two-Lane Road Using Flaggers"));
    QCOMPARE(applicationOf(17), nullptr); // mobile work only: no stop at a valve is that
}

void SetUpTest::askedFirst()
{
    Site site;
    site.lid = LidPlace::Lane;
    QCOMPARE(questionsOf(site).size(), 6);
    QCOMPARE(workOutSetUp(site).error().code, ErrorCode::BadInput);
    site.lid = LidPlace::OutsideRoad;
    QCOMPARE(questionsOf(site).size(), 2);
    QVERIFY(questionsOf(twoLaneStreet(LidPlace::Lane)).isEmpty());
    const StreetFacts typed{30, {}, {}, {}, {}, {}, {}, {}};
    const StreetFacts filled = filledFrom(typed, twoLaneStreet(LidPlace::Lane).street);
    QCOMPARE(*filled.mph, 30.0);
    QCOMPARE(*filled.lanes, 2);
}

void SetUpTest::refused_data()
{
    QTest::addColumn<int>("change");
    QTest::addColumn<QString>("reason");
    QTest::newRow("freeway") << 0 << QStringLiteral("freeways");
    QTest::newRow("dark") << 1 << QStringLiteral("dark");
    QTest::newRow("too fast") << 2 << QStringLiteral("75 mph");
    QTest::newRow("only lane") << 3 << QStringLiteral("only lane");
}

void SetUpTest::refused()
{
    QFETCH(int, change);
    QFETCH(QString, reason);
    Site site = twoLaneStreet(LidPlace::Lane);
    switch (change) {
    case 0:
        site.street.setting = RoadSetting::Freeway;
        break;
    case 1:
        site.isDark = true;
        break;
    case 2:
        site.street.mph = 80;
        break;
    default:
        site.street.isOneWay = true;
        site.street.lanes = 1;
    }
    const auto setUp = workOutSetUp(site);
    QVERIFY(!setUp);
    QCOMPARE(setUp.error().code, ErrorCode::Refused);
    QVERIFY2(setUp.error().message.contains(reason), qPrintable(setUp.error().message));
    QVERIFY(setUp.error().message.contains(QStringLiteral("road authority")));
}

void SetUpTest::durations()
{
    // MUTCD 6N.01
    QCOMPARE(durationOf(60, false), DurationClass::ShortDuration);
    QCOMPARE(durationOf(61, false), DurationClass::ShortTerm);
    QCOMPARE(durationOf(61, true), DurationClass::IntermediateTerm);
    QCOMPARE(durationOf(13 * 60, false), DurationClass::IntermediateTerm);
    QCOMPARE(durationOf(3 * 24 * 60, false), DurationClass::IntermediateTerm);
    QCOMPARE(durationOf(3 * 24 * 60 + 1, false), DurationClass::LongTerm);
}

void SetUpTest::conesByHand()
{
    QCOMPARE(conesAlong({320}, {40}), 9); // 0, 40, ... 320
    QCOMPARE(conesAlong({245}, {35}), 8); // 0, 35, ... 245
    QCOMPARE(conesAlong({250}, {35}), 9); // 250 / 35 = 7.14: eight gaps
    QCOMPARE(conesAlong({0}, {35}), 1);
}

void SetUpTest::flaggerClosureByHand()
{
    // 35 mph, 12 ft, work space of 40 ft:
    //   one-lane, two-way taper  50 ft at 20 ft: 3 gaps, cones at 0, 16.7, 33.3, 50    -> 4
    //   buffer (table 6B-2)     250 ft at 70 ft: 4 gaps                                -> 4
    //   work space               40 ft at 70 ft: 1 gap                                 -> 1
    //   downstream taper         50 ft at 35 ft: 2 gaps                                -> 2
    //   together 11 cones; 3 signs on each of two approaches, 2 flaggers, 4 people
    const SetUp setUp = *workOutSetUp(twoLaneStreet(LidPlace::Lane));
    QCOMPARE(setUp.application.number, 10);
    QCOMPARE(setUp.cones, 11);
    QCOMPARE(static_cast<int>(setUp.signs.size()), 6);
    QCOMPARE(setUp.flaggers, 2);
    QCOMPARE(setUp.people, 4);
    QCOMPARE(partOf(setUp, ZonePart::Kind::Buffer, TaperKind::Merging)->length.value, 250.0);
    QCOMPARE(setUp.signs.at(2).before.value, 300.0); // A + B + C of urban low speed
    QCOMPARE(setUp.setUpMinutes, 6 * 1.0 + 11 * 0.15);
}

void SetUpTest::mergingClosureByHand()
{
    // 45 mph, 12 ft, four lanes, urban high speed:
    //   merging taper 540 ft at 45 ft: 12 gaps -> 13; buffer 360 at 90: 4; work 40 at 90: 1;
    //   downstream 50 at 45: 2. Together 20 cones; 3 signs of one approach at 350, 700, 1050 ft.
    Site site = twoLaneStreet(LidPlace::Lane);
    site.street.lanes = 4;
    site.street.mph = 45;
    site.street.setting = RoadSetting::UrbanHighSpeed;
    const SetUp setUp = *workOutSetUp(site);
    QCOMPARE(partOf(setUp, ZonePart::Kind::Taper, TaperKind::Merging)->length.value, 540.0);
    QCOMPARE(setUp.cones, 20);
    QCOMPARE(static_cast<int>(setUp.signs.size()), 3);
    QCOMPARE(setUp.signs.back().before.value, 1050.0);
    QCOMPARE(setUp.flaggers, 0);
}

void SetUpTest::shoulderByHand()
{
    // 40 mph, shoulder of 8 ft, more than an hour: L = 8 x 1600 / 60 = 213.3; a third is 71.1,
    // so 72 ft at 40 ft: 2 gaps -> 3 cones; work space 40 ft at 80 ft: 1. Together 4.
    Site site = twoLaneStreet(LidPlace::Shoulder);
    site.street.mph = 40;
    site.minutes = 90;
    const SetUp setUp = *workOutSetUp(site);
    QCOMPARE(setUp.application.number, 3);
    QCOMPARE(partOf(setUp, ZonePart::Kind::Taper, TaperKind::Shoulder)->length.value, 72.0);
    QCOMPARE(setUp.cones, 4);
    QCOMPARE(setUp.duration, DurationClass::ShortTerm);
}

void SetUpTest::overrides()
{
    const SetUp before = *workOutSetUp(twoLaneStreet(LidPlace::Lane));
    SetUpOverride change;
    change.by = QStringLiteral("A. Foreman");
    change.why = QStringLiteral("school beside the lid");
    change.cones = 16;
    change.buffer = Feet{100};
    const auto after = applyOverride(before, change);
    QVERIFY(after);
    QCOMPARE(after->cones, 16);
    QCOMPARE(after->changed->by, change.by);
    QCOMPARE(after->changed->what.size(), 2);
    QVERIFY(after->changed->what.first().contains(QStringLiteral("worked out 11")));
    QCOMPARE(after->doubts.size(), before.doubts.size() + 1); // the buffer is below the table's
    // What changes nothing is no change.
    SetUpOverride same;
    same.by = change.by;
    same.cones = before.cones;
    QVERIFY(!applyOverride(before, same)->changed);
}

void SetUpTest::overridesRefused()
{
    const SetUp before = *workOutSetUp(twoLaneStreet(LidPlace::Lane));
    SetUpOverride change;
    change.cones = 12;
    QVERIFY(!applyOverride(before, change)); // nobody is named
    change.by = QStringLiteral("A. Foreman");
    change.cones = -1;
    QVERIFY(!applyOverride(before, change));
    change.cones = 12;
    change.application = 99;
    QVERIFY(!applyOverride(before, change));
}

void SetUpTest::neverShorterWithSpeed()
{
    QVERIFY(rc::check("more speed never means shorter lengths or fewer people", [] {
        Site site = twoLaneStreet(static_cast<LidPlace>(*rc::gen::inRange(0, 10)));
        site.street.lanes = *rc::gen::element(2, 4, 6);
        site.street.isLowVolume = *rc::gen::arbitrary<bool>();
        site.sightIsGood = *rc::gen::arbitrary<bool>();
        site.street.mph = *rc::gen::inRange(10, 76);
        Site faster = site;
        faster.street.mph = *rc::gen::inRange(static_cast<int>(*site.street.mph), 76);
        const SetUp a = *workOutSetUp(site);
        const SetUp b = *workOutSetUp(faster);
        RC_ASSERT(a.parts.size() == b.parts.size());
        for (std::size_t i = 0; i < a.parts.size(); ++i) {
            RC_ASSERT(b.parts[i].length >= a.parts[i].length);
        }
        RC_ASSERT(b.people >= a.people);
    }));
}

void SetUpTest::sketchHoldsWhatWasCounted()
{
    QVERIFY(rc::check("the sketch stands within its ends and holds the counted cones", [] {
        Site site = twoLaneStreet(static_cast<LidPlace>(*rc::gen::inRange(0, 10)));
        site.street.lanes = *rc::gen::element(2, 4);
        site.street.mph = *rc::gen::inRange(15, 76);
        const SetUp setUp = *workOutSetUp(site);
        const Sketch sketch = sketchOf(site, setUp);
        int cones = 0;
        int flaggers = 0;
        std::size_t drawnSigns = 0;
        for (const SketchItem &item : sketch.items) {
            drawnSigns += item.kind == SketchItem::Kind::Sign ? 1 : 0;
            if (item.sideStreet != 0) {
                RC_ASSERT(sketch.crossAt.has_value() && item.kind == SketchItem::Kind::Sign);
                RC_ASSERT((item.across.value > 0) == (item.sideStreet == 1));
                continue;
            }
            cones += item.kind == SketchItem::Kind::Cone ? 1 : 0;
            flaggers += item.kind == SketchItem::Kind::Flagger ? 1 : 0;
            RC_ASSERT(item.along >= sketch.first && item.along <= sketch.last);
            const double limit = sketch.roadWidth.value / 2 + sketch.shoulder.value + 6.001;
            RC_ASSERT(std::abs(item.across.value) <= limit);
        }
        RC_ASSERT(drawnSigns == setUp.signs.size());
        // Four cones at least are loaded, though fewer may be drawn.
        RC_ASSERT(cones == setUp.cones || (setUp.cones == 4 && cones < 4));
        RC_ASSERT(flaggers == setUp.flaggers);
        const double drawn = sketch.workTo.value - sketch.workFrom.value;
        RC_ASSERT(std::abs(drawn - SetUpHabits{}.workSpace.value) < 1e-9);
    }));
}

void SetUpTest::frameFollowsTheStreet()
{
    // A street that runs 100 m east and then 100 m north; the lid 5 m beside it at 90 m.
    const PlaneLine street{{0, 0}, {100, 0}, {100, 100}};
    const StreetFrame frame(street, {90, 5}, true);
    const Feet tenMetres = Feet::of({10});
    QVERIFY(distance(frame.at({0}, {0}), {90, 0}) < 1e-9);
    QVERIFY(distance(frame.at({-tenMetres.value}, tenMetres), {80, -10}) < 1e-9); // right: south
    QVERIFY(distance(frame.at(Feet::of({30}), {0}), {100, 20}) < 1e-9);           // round the bend
    QVERIFY(distance(frame.at(Feet::of({130}), {0}), {100, 120}) < 1e-9); // straight past the end
    const StreetFrame back(street, {90, 5}, false);
    QVERIFY(distance(back.at(tenMetres, tenMetres), {80, 10}) < 1e-9); // driving west: north
    // Where traffic drives on the left its own side is the left: north of a street that runs east.
    const StreetFrame left(street, {90, 5}, true, true);
    QVERIFY(distance(left.at({-tenMetres.value}, tenMetres), {80, 10}) < 1e-9);
    const StreetFrame none({}, {7, 8}, true);
    QVERIFY(distance(none.at(tenMetres, {0}), {17, 8}) < 1e-9);
}

QTEST_GUILESS_MAIN(SetUpTest)
#include "test_set_up.moc"
